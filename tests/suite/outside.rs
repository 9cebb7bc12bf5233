//! Checks against what this project did not write: formulas of textbooks, published tables, and a second YAML reader (`tests/outside/yaml.test.mjs`).

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::{Value as Json, json};
use stepward::model::catalogue::SignalWord;
use stepward::read::yaml::{self, Node, Value};
use stepward::text::place::FileId;
use stepward::text::signs;

const EQUIPMENT: &str = include_str!("../../content/equipment.yaml");

/// What our reader sees: keys, texts and lists. A mapping is a list of pairs, so that the order of the keys counts.
fn shape(node: &Node) -> Json {
    match &node.value {
        Value::Scalar(scalar) => json!(scalar.text),
        Value::List(items) => json!({ "list": items.iter().map(shape).collect::<Vec<_>>() }),
        Value::Map(map) => json!({ "map": map.entries.iter().map(|(key, value)| json!([key.value, shape(value)])).collect::<Vec<_>>() }),
    }
}

fn dump(text: &str) -> Json {
    let document = yaml::parse(text, 0..text.len(), FileId::default());
    let problems: Vec<&String> = document.problems.iter().map(|problem| &problem.message).collect();
    json!({ "tree": document.root.as_ref().map(shape), "problems": problems, "twice": document.duplicates.len() })
}

/// With `STEPWARD_YAML_CASES` naming a JSON file of texts it writes beside it what our reader sees in each (`NAME.seen`).
#[test]
fn what_the_reader_sees_can_be_compared() {
    let seen = dump("a: yes\nb: [1.10, {c: ~}]\n");
    assert_eq!(seen["tree"], json!({ "map": [["a", "yes"], ["b", { "list": ["1.10", { "map": [["c", "~"]] }] }]] }));
    let Some(file) = std::env::var_os("STEPWARD_YAML_CASES") else { return };
    let texts: Vec<String> = serde_json::from_slice(&std::fs::read(&file).expect("the cases can be read")).expect("a list of texts");
    let all: Vec<Json> = texts.iter().map(|text| dump(text)).collect();
    let beside = Path::new(&file).with_extension("seen");
    std::fs::write(beside, serde_json::to_vec(&all).expect("JSON")).expect("the answer can be written");
}

/// The equipment of the demo, read anew: model, key, figure and the comment behind it.
fn figures() -> Vec<(String, String, f64, String)> {
    let mut model = String::new();
    let mut found = Vec::new();
    for line in EQUIPMENT.lines() {
        let (written, comment) = line.split_once('#').unwrap_or((line, ""));
        let Some((key, value)) = written.trim().split_once(':') else { continue };
        if line.starts_with("  ") && !line.starts_with("   ") {
            key.clone_into(&mut model);
        }
        if let Some(number) = value.split_whitespace().next().and_then(|number| number.parse().ok()) {
            found.push((model.clone(), key.to_owned(), number, comment.trim().to_owned()));
        }
    }
    found
}

fn figure(model: &str, key: &str) -> f64 {
    let all = figures();
    let one = all.iter().find(|(of, name, ..)| of == model && name == key);
    one.unwrap_or_else(|| panic!("no `{key}` of `{model}`")).2
}

/// The number before a word in a comment: `11.5` of `11.5 mm`.
fn before(comment: &str, word: &str) -> Option<f64> {
    comment.split_once(word)?.0.split_whitespace().last()?.parse().ok()
}

/// A roller marks the sheet once a turn: pi times its diameter, over how fast its surface runs against the paper. Geometry, no source needed;
/// that a roller is told by the distance of its marks is common practice, no source.
#[test]
fn distances_of_marks_are_the_circumferences_of_their_rollers() {
    let mut compared = 0;
    for (model, roller, printed, comment) in figures() {
        let Some(diameter) = before(&comment, " mm") else { continue };
        let ratio = before(&comment, " times as fast").unwrap_or(1.0);
        let distance = std::f64::consts::PI * diameter / ratio;
        assert!((distance - printed).abs() <= 0.05 + 1e-9, "{roller} of {model}: {distance:.3} mm, written {printed}");
        compared += 1;
    }
    let written = |rest: &str| rest.lines().skip(1).take_while(|line| line.starts_with("      ")).count();
    let rollers: usize = EQUIPMENT.split("repeats:").skip(1).map(written).sum();
    assert!(rollers >= 28, "{rollers} rollers of four models");
    assert!(compared >= rollers, "{compared} of {rollers} rollers");
}

/// Newton's law of cooling (textbook): t = tau ln((T0 - Ta) / (Ts - Ta)).
fn cooling(tau: f64, from: f64, to: f64, room: f64) -> f64 {
    tau * ((from - room) / (to - room)).ln()
}

#[test]
fn a_fuser_is_cool_when_newtons_law_says_so() {
    let tau = 10.0 / ((190.0 - 25.0_f64) / (95.0 - 25.0)).ln();
    assert!((tau - 11.7).abs() < 0.05, "{tau}");
    for (model, tau, minutes) in [("mono-desk", 12.0, 29.7), ("mono-floor", 15.0, 37.2)] {
        let exact = cooling(tau, 190.0, 48.0, 35.0);
        assert!((exact - minutes).abs() <= 0.05, "{model}: {exact}");
        let line = EQUIPMENT.lines().find(|line| line.contains(&format!("{model}:  time constant {tau} min")));
        let line = line.or_else(|| EQUIPMENT.lines().find(|line| line.contains(&format!("{model}: time constant {tau} min"))));
        assert!(line.is_some_and(|line| line.contains(&format!("{minutes} min"))), "the file says how {model} cools");
        // Waiting must not be shorter than cooling, and not so long that nobody keeps to it (ten minutes more: our choice, no source).
        let waited = figure(model, "cooling-time");
        assert!(waited >= exact && waited < exact + 10.0, "{model}: {waited} for {exact}");
    }
}

/// A capacitor through its bleeder (textbook): t = R C ln(V0 / V). 60 V d.c. is the limit of IEC 62368-1 for what may be touched, from memory.
#[test]
fn stored_charge_is_gone_before_the_wait_is_over() {
    let (farads, ohms, volts) = (220e-6, 470e3, 325.0_f64);
    let seconds = ohms * farads * (volts / 60.0).ln();
    assert!((seconds - 175.0).abs() < 1.0, "{seconds}");
    let broken = 10e6 * farads * (volts / 60.0).ln() / 60.0;
    assert!((broken - 62.0).abs() < 0.5, "with its bleeder broken: {broken} min");
    let safety = include_str!("../../content/safety.yaml");
    let (_, discharged) = safety.split_once("\n  discharged:").expect("a condition `discharged`");
    let (_, takes) = discharged.split_once("takes:").expect("it takes time");
    let wait = before(takes, " min").expect("minutes");
    assert!(wait * 60.0 >= seconds && wait < 10.0, "{wait} min");
}

/// Ohm's law: R = V² / P. The B-parameter equation of a thermistor (textbook): R = R25 exp(B (1/T - 1/298.15)).
#[test]
fn resistances_lie_inside_their_limits() {
    for (model, watts, printed) in [("mono-desk", 900.0, 58.8), ("mono-floor", 1200.0, 44.1)] {
        let ohms = 230.0_f64 * 230.0 / watts;
        assert!((ohms - printed).abs() <= 0.05, "{model}: {ohms}");
        assert!(EQUIPMENT.contains(&format!("{printed} ohm")), "the file says {printed} ohm");
        for (key, share) in [("heater-from", 0.75), ("heater-below", 1.25)] {
            let limit = figure(model, key);
            assert!((limit / ohms - share).abs() < 0.05, "{key} of {model}: {limit} is {:.3} of {ohms:.1}", limit / ohms);
        }
    }
    let sensor = |celsius: f64| 100.0 * (4000.0 * (1.0 / (celsius + 273.15) - 1.0 / 298.15)).exp();
    for (celsius, kohms) in [(15.0, 159.0), (20.0, 126.0), (25.0, 100.0), (30.0, 80.0)] {
        assert!((sensor(celsius) - kohms).abs() < 1.0, "{celsius} °C: {}", sensor(celsius));
    }
    assert!((sensor(180.0) - 1.02).abs() < 0.1, "at work: {}", sensor(180.0));
    for model in ["mono-desk", "mono-floor"] {
        assert!((figure(model, "sensor-from") / sensor(30.0) - 0.9).abs() < 0.02);
        assert!((figure(model, "sensor-below") / sensor(15.0) - 1.1).abs() < 0.02);
    }
}

/// ANSI Z535.6: DANGER above WARNING above CAUTION above NOTICE, and no fifth word (trade articles; the DITA 2.0 draft names it as origin).
#[test]
fn signal_words_are_the_four_of_the_standard_in_its_order() {
    let words: Vec<&str> = SignalWord::ALL.iter().map(|word| word.as_str()).collect();
    assert_eq!(words, ["danger", "warning", "caution", "notice"]);
    assert!(SignalWord::ALL.is_sorted() && SignalWord::Danger < SignalWord::Notice);
    for other in ["attention", "important", "note", "tip", "Danger", "DANGER", "cautions", ""] {
        assert_eq!(SignalWord::parse(other), None, "{other}");
    }
}

/// Codes of ISO 7010 with a word of each referent: ASR A1.3 annex 1 (P signs, W001 to W017), public code lists for M001 to M032 and W018 to W029;
/// English words in part from memory.
#[test]
fn signs_are_called_what_the_register_calls_them() {
    let register = [
        ("M001", "mandatory"),
        ("M002", "manual"),
        ("M004", "eye"),
        ("M005", "earth"),
        ("M006", "mains plug"),
        ("M009", "gloves"),
        ("M011", "hands"),
        ("M016", "mask"),
        ("M017", "respiratory"),
        ("M021", "before maintenance"),
        ("M027", "guard"),
        ("M028", "locked"),
        ("M032", "footwear"),
        ("P003", "flame"),
        ("P007", "cardiac"),
        ("P010", "not touch"),
        ("P011", "water"),
        ("P012", "heavy"),
        ("P015", "reaching in"),
        ("P022", "drinking"),
        ("P031", "switch"),
        ("W001", "general"),
        ("W004", "laser"),
        ("W005", "radiation"),
        ("W006", "magnetic"),
        ("W011", "slippery"),
        ("W012", "electricity"),
        ("W017", "hot"),
        ("W018", "start-up"),
        ("W019", "crushing"),
        ("W022", "sharp"),
        ("W024", "hands"),
        ("W025", "rollers"),
        ("W026", "battery"),
        ("W027", "optical"),
    ];
    let known: BTreeMap<&str, &str> = signs::SIGNS.iter().copied().collect();
    assert_eq!(known.keys().copied().collect::<Vec<_>>(), register.map(|(code, _)| code));
    for (code, word) in register {
        assert!(known[code].to_lowercase().contains(word), "{code}: {}", known[code]);
    }
}

/// sRGB of the Munsell centres of ANSI Z535.1: red from 49 CFR 172 appendix A, the others from memory; computed from Y, x, y (source C to D65, clipped).
#[test]
fn signal_colours_are_the_computed_ones_to_the_digit() {
    let css = stepward::theme::style();
    let rows = [
        ("danger", "#bc2221", "7.5R 4/14"),
        ("warning", "#e57800", "5YR 6/15"),
        ("caution", "#ecc800", "5Y 8/12"),
        ("notice", "#005a98", "2.5PB 3.5/10"),
    ];
    for (word, hex, munsell) in rows {
        let token = format!("--signal-{word}:");
        let lines: Vec<&str> = css.lines().filter(|line| line.trim().starts_with(&token)).collect();
        assert!(!lines.is_empty(), "no token for {word}");
        assert!(lines.iter().all(|line| line.contains(hex)), "{lines:?}");
        assert!(lines[0].contains(munsell), "{word} does not name its row: {lines:?}");
    }
}
