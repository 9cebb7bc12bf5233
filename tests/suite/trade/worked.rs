//! Worked numbers, each to its printed digits. They were computed apart from this program, by hand or by a script of another language; where a
//! published table or example stands behind one, it is named at the test. Machine constants are demo values.

use std::collections::BTreeMap;

use super::{shown, the};
use stepward::trade::charge::{self, Broken, DEMO, Dead, Development, Potentials, Sign, Signs, Tone, Unfit};
use stepward::trade::order::{self, Check};
use stepward::trade::roller::{self, Roller};
use stepward::trade::sum::Answer;
use stepward::trade::{colour, count, paper};

/// Sum, result, readings, what is shown.
type Row<'a> = (&'a str, &'a str, &'a [(&'a str, f64)], &'a str);

fn holds(rows: &[Row<'_>]) {
    let wrong: Vec<String> = rows
        .iter()
        .map(|(sum, result, values, expected)| (format!("{sum} {result} {values:?}"), shown(sum, result, values), *expected))
        .filter(|(_, found, expected)| found != expected)
        .map(|(what, found, expected)| format!("{what}: {found}, expected {expected}"))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Pi times the diameter, over the ratio of speeds: geometry.
#[test]
fn rollers_and_their_distances() {
    let distance = |diameter, ratio, expected| {
        assert_eq!(shown("roller-distance", "distance", &[("diameter", diameter), ("ratio", ratio)]), expected);
    };
    for (diameter, expected) in [(12.0, "37.70"), (13.0, "40.84"), (15.0, "47.12"), (18.0, "56.55"), (22.0, "69.12"), (24.0, "75.40")] {
        distance(diameter, 1.0, expected);
    }
    distance(16.0, 1.15, "43.71");
    distance(16.0, 1.0, "50.27");
    // The table of pi times d in the standards paper: 30, 20 and 12 mm.
    for (diameter, expected) in [(30.0, "94.25"), (20.0, "62.83"), (12.0, "37.70")] {
        distance(diameter, 1.0, expected);
    }
    holds(&[
        ("roller-diameter", "step", &[], "75.5"),
        ("roller-diameter", "diameter", &[], "24.03"),
        ("roller-diameter", "doubt", &[("length", 75.5), ("gaps", 1.0)], "0.71"),
        ("roller-diameter", "doubt", &[("length", 151.0), ("gaps", 2.0)], "0.35"),
        ("roller-diameter", "doubt", &[("length", 226.5), ("gaps", 3.0)], "0.24"),
    ]);
}

/// The rollers of a made-up mono machine with the weights of the faults that its procedure declares.
pub fn family() -> Vec<Roller> {
    let pi = std::f64::consts::PI;
    let rows = [
        ("charge roller", pi * 12.0, 0.07),
        ("registration roller", pi * 13.0, 0.05),
        ("developer roller", pi * 16.0 / 1.15, 0.15),
        ("transfer roller", pi * 15.0, 0.15),
        ("fuser sleeve", pi * 18.0, 0.11),
        ("pressure roller", pi * 22.0, 0.05),
        ("drum", pi * 24.0, 0.38),
    ];
    rows.into_iter().map(|(name, distance, weight)| Roller { name: name.to_owned(), distance, weight }).collect()
}

/// Bayes' rule by hand: 42.0 mm over one gap leaves two rollers, over three gaps one.
#[test]
fn more_gaps_tell_two_rollers_apart() {
    let rollers = family();
    let two = |gaps: f64| roller::shares(&rollers, 42.0, gaps).map(|shares| [shares[1], shares[2]].map(|share| format!("{share:.3}")));
    assert_eq!(two(1.0), Some(["0.589".to_owned(), "0.411".to_owned()]));
    assert_eq!(two(3.0), Some(["0.999".to_owned(), "0.001".to_owned()]));
    assert_eq!(roller::gaps_to_measure(&rollers, 42.0, 1.0), Some(2));
    assert_eq!(roller::shares(&rollers, 62.0, 1.0), None);
    // The drum is twice the charge roller: a missing mark turns one into the other.
    assert_eq!(roller::multiples(&rollers, 75.4), vec![(0, 2)]);
    let shares = roller::shares(&rollers, 75.5, 3.0).expect("a roller fits");
    assert_eq!(roller::likeliest(&shares), Some(6));
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
}

#[test]
fn pages_and_speeds() {
    holds(&[
        ("page-memory", "row", &[], "621"),
        ("page-memory", "bytes", &[], "4 356 936"),
        ("page-memory", "megabytes", &[], "4.36"),
        ("page-memory", "mebibytes", &[], "4.16"),
        ("page-memory", "mebibytes", &[("dpi", 1200.0)], "16.61"),
        ("page-memory", "mebibytes", &[("bits", 8.0)], "33.19"),
        ("page-memory", "mebibytes", &[("bits", 8.0), ("planes", 4.0)], "132.78"),
        ("page-memory", "bytes", &[("width", 215.9), ("height", 279.4), ("dpi", 300.0)], "1 052 700"),
        ("page-memory", "mebibytes", &[("width", 215.9), ("height", 279.4), ("dpi", 300.0)], "1.00"),
        ("engine-speed", "speed", &[], "178.5"),
        ("line-rate", "rate", &[], "3898"),
        ("line-rate", "time", &[], "257"),
        ("line-rate", "data", &[], "2.42"),
        ("line-rate", "turns", &[], "38 976"),
        ("line-rate", "repeat", &[], "0.254"),
        ("registration", "late", &[], "15.2"),
        ("registration", "lines", &[], "59"),
        ("skew", "angle", &[], "0.45"),
        ("skew", "along", &[], "2.2"),
        ("magnification", "change", &[], "-0.4"),
        ("dots", "length", &[], "4.233"),
        ("jam-timing", "time", &[], "1.80"),
        ("jam-timing", "time", &[("length", 279.4)], "1.69"),
        ("jam-timing", "time", &[("length", 355.6)], "2.16"),
        ("jam-timing", "time", &[("length", 210.0)], "1.27"),
        ("jam-timing", "over", &[], "17.6"),
        ("jam-timing", "late", &[], "0.107"),
    ]);
}

#[test]
fn toner_load_and_wear() {
    holds(&[
        ("toner-yield", "page", &[("coverage", 5.0)], "17.6"),
        ("toner-yield", "pages", &[("coverage", 5.0)], "7390"),
        ("toner-yield", "page", &[("coverage", 20.0)], "64.4"),
        ("toner-yield", "pages", &[("coverage", 20.0)], "2020"),
        ("toner-yield", "rule", &[("coverage", 20.0)], "1847"),
        ("load", "load", &[], "1.30"),
        ("load", "months", &[], "7.0"),
        ("drum-life", "turns", &[("pages", 1.0)], "9.79"),
        ("drum-life", "last", &[("pages", 1.0)], "6130"),
        ("drum-life", "last", &[("pages", 3.0)], "10 366"),
        ("drum-life", "last", &[("pages", 10.0)], "13 674"),
        ("drum-life", "last", &[("pages", 50.0)], "15 353"),
    ]);
    // To five digits: 15 782 pages at 2 %, where the plain rule says 18 474.
    let of = the("toner-yield");
    let answers = of.answers(&super::changed(of, &[("coverage", 2.0)]));
    let whole: Vec<String> = answers
        .iter()
        .map(|answer| match answer {
            Answer::Number(value) => format!("{value:.0}"),
            other => format!("{other:?}"),
        })
        .collect();
    assert_eq!(whole, ["8", "15782", "18474"]);
}

/// Newton's law of cooling, discharge of a capacitor, Ohm's law, the B-parameter equation: textbook formulas, worked by hand.
#[test]
fn heat_and_electricity() {
    holds(&[
        ("cooling-time", "wait", &[("room", 25.0)], "23.6"),
        ("cooling-time", "wait", &[("room", 35.0)], "29.7"),
        ("cooling-constant", "tau", &[], "11.7"),
        ("stored-charge", "tau", &[], "103"),
        ("stored-charge", "wait", &[], "175"),
        ("stored-charge", "energy", &[], "11.6"),
        ("stored-charge", "minutes", &[("ohms", 10_000.0)], "62"),
        ("stored-charge", "wait", &[("farads", 1.0), ("ohms", 1000.0)], "1.69"),
        ("fuser-heat", "dwell", &[], "36"),
        ("fuser-heat", "dwell", &[("speed", 82.5)], "73"),
        ("fuser-heat", "energy", &[], "1006"),
        ("fuser-heat", "power", &[], "503"),
        ("fuser-heat", "power", &[("weight", 120.0)], "755"),
        ("fuser-heat", "power", &[("weight", 160.0)], "1006"),
        ("fuser-heat", "power", &[("weight", 200.0)], "1258"),
        ("heater", "cold", &[], "58.8"),
        ("heater", "cold", &[("volts", 120.0)], "16.0"),
        ("heater", "cold", &[("kind", 12.0)], "4.90"),
        ("sensor", "ohms", &[("celsius", 15.0)], "159"),
        ("sensor", "ohms", &[("celsius", 20.0)], "126"),
        ("sensor", "ohms", &[("celsius", 25.0)], "100"),
        ("sensor", "ohms", &[("celsius", 30.0)], "80.1"),
        ("sensor", "ohms", &[("celsius", 180.0)], "1.02"),
        ("dew-point", "dew", &[], "13.5"),
        ("dew-point", "wait", &[], "41"),
        ("mains", "current", &[], "5.2"),
        ("mains", "current", &[("volts", 120.0)], "10.0"),
        ("mains", "drop", &[], "3.1"),
    ]);
}

#[test]
fn people_and_planning() {
    holds(&[
        ("lifting", "limit", &[], "13.1"),
        ("lifting", "index", &[], "2.06"),
        ("lifting", "shared", &[], "1.03"),
        ("clean-sheets", "sheets", &[], "149"),
        ("clean-sheets", "sheets", &[("every", 200.0)], "598"),
        ("clean-sheets", "sheets", &[("every", 1000.0)], "2995"),
        ("first-time-fix", "share", &[], "84.0"),
        ("first-time-fix", "low", &[], "71.5"),
        ("first-time-fix", "high", &[], "91.7"),
        ("first-time-fix", "low", &[("good", 4.0), ("visits", 5.0)], "37.6"),
        ("first-time-fix", "high", &[("good", 4.0), ("visits", 5.0)], "96.4"),
        ("learned-share", "after", &[], "0.179"),
        ("in-parallel", "after", &[], "45"),
        ("in-parallel", "together", &[], "27"),
        ("spoken-code", "bits", &[], "78"),
        ("spoken-code", "letters", &[], "16"),
        // Three bits an answer, exactly; and three halvings make 87.5 % sure.
        ("spoken-code", "bits", &[("answers", 8.0)], "102"),
        ("clean-sheets", "sheets", &[("every", 2.0), ("sure", 87.5)], "3"),
        ("words-time", "spoken", &[], "10.4"),
        ("words-time", "silent", &[], "6.6"),
    ]);
    let (low, high) = count::poisson_limits(4);
    assert_eq!((format!("{:.2}", low / 2.5), format!("{:.1}", high / 2.5)), ("0.44".to_owned(), "4.1".to_owned()));
}

/// Recommended weight limits of the NIOSH applications manual (publication 94-110, from memory): the load constant at the ideal place, and each
/// multiplier at the end of its range.
#[test]
fn the_lifting_equation_at_its_edges() {
    let ideal: &[(&str, f64)] = &[("reach", 25.0), ("height", 75.0), ("travel", 25.0)];
    let with = |more: &[(&'static str, f64)]| {
        let mut all: BTreeMap<&str, f64> = ideal.iter().copied().collect();
        all.extend(more.iter().copied());
        let all: Vec<(&str, f64)> = all.into_iter().collect();
        shown("lifting", "limit", &all)
    };
    assert_eq!(with(&[]), "23.0");
    // HM 0.40 at 63 cm (25/63), VM 0.78 at the floor, VM 0.70 at 175 cm, DM 0.85 at 175 cm, AM 0.57 at 135 degrees, CM 0.90 poor.
    for (reading, value, multiplier) in [
        ("reach", 63.0, 25.0 / 63.0),
        ("height", 0.0, 0.775),
        ("height", 175.0, 0.7),
        ("travel", 175.0, 0.8457),
        ("angle", 135.0, 0.568),
        ("grip", 0.9, 0.9),
    ] {
        assert_eq!(with(&[(reading, value)]), format!("{:.1}", 23.0 * multiplier), "{reading}");
    }
}

/// Toner of 8 µm and 1.1 g/cm³ at -20 µC/g in a field of 1 MV/m.
#[test]
fn charge_moves_toner() {
    holds(&[
        ("toner-force", "mass", &[], "0.29"),
        ("toner-force", "fc", &[], "-5.9"),
        ("toner-force", "electrons", &[], "-36 800"),
        ("toner-force", "force", &[], "5.9"),
        ("toner-force", "times", &[], "2000"),
        ("drum-charge", "drum", &[], "640"),
        ("drum-charge", "toner", &[], "120"),
    ]);
}

/// Published factors of pounds to g/m² (tables of paper mills: 3.76, 1.48, 2.70, 1.81, 1.63, 2.19) and weights (28 lb bond 105.3 and so on).
#[test]
fn basis_weights() {
    let grade = |words: &str| {
        let input = the("basis-weight").inputs.iter().find(|input| input.id == "grade").expect("a grade");
        input.choices.iter().find(|(name, _)| name.starts_with(words)).unwrap_or_else(|| panic!("no grade `{words}`")).1
    };
    let weight = |pounds, words| shown("basis-weight", "weight", &[("pounds", pounds), ("grade", grade(words))]);
    for (pounds, words, expected) in [
        (20.0, "Bond", "75.2"),
        (24.0, "Bond", "90.2"),
        (28.0, "Bond", "105.3"),
        (90.0, "Text", "133.2"),
        (100.0, "Cover", "270.4"),
        (50.0, "Cover", "135.2"),
        (50.0, "Text", "74.0"),
    ] {
        assert_eq!(weight(pounds, words), expected, "{pounds} lb {words}");
    }
    for (words, factor) in [("Bond", 3.76), ("Text", 1.48), ("Cover", 2.70), ("Index", 1.81), ("Tag", 1.63), ("Bristol", 2.19)] {
        let found: f64 = weight(100.0, words).parse().expect("a number");
        assert!((found / 100.0 - factor).abs() <= 0.006, "{words}: {found}");
    }
    assert_eq!(shown("paper-weight", "weight", &[]), "80.0");
    // A4 of 80 g/m² weighs 4.99 g, a ream of 500 is 2.49 kg.
    assert_eq!(shown("paper-weight", "weight", &[("grams", 2494.8), ("sheets", 500.0)]), "80.0");
}

/// ISO 216: each size is the one before cut in half, rounded down; the sides are as one to the root of two; A0 is a square metre.
#[test]
fn sheets_are_those_of_the_standards() {
    let of = |name: &str| paper::SIZES.iter().find(|size| size.name == name).map(|size| (size.width, size.length));
    for (whole, half) in [("A3", "A4"), ("A4", "A5"), ("A5", "A6"), ("B4", "B5")] {
        let ((width, length), small) = (of(whole).expect(whole), of(half).expect(half));
        assert_eq!(small, ((length / 2.0).floor(), width), "{half} of {whole}");
    }
    for size in paper::SIZES.iter().filter(|size| size.name.len() == 2) {
        assert!((size.length / size.width - 2f64.sqrt()).abs() < 0.01, "{}", size.name);
        assert!(size.width <= size.length);
    }
    assert_eq!(of("A4"), Some((210.0, 297.0)));
    // 8.5 x 11, 8.5 x 14, 11 x 17, 7.25 x 10.5 inches.
    for (name, width, length) in [
        ("Letter", 8.5, 11.0),
        ("Legal", 8.5, 14.0),
        ("Ledger", 11.0, 17.0),
        ("Executive", 7.25, 10.5),
        ("Half Letter", 5.5, 8.5),
        ("Number 10 envelope", 4.125, 9.5),
    ] {
        let (w, l) = of(name).expect(name);
        assert!((w - width * 25.4).abs() < 1e-9 && (l - length * 25.4).abs() < 1e-9, "{name}: {w} x {l}");
    }
    let names = |sizes: Vec<&paper::Size>| sizes.into_iter().map(|size| size.name).collect::<Vec<_>>().join(", ");
    assert_eq!(names(paper::sizes_of(183.0, 258.0)), "B5 of the Japanese standard");
    assert_eq!(names(paper::sizes_of_width(183.0)), "B5 of the Japanese standard, Executive");
    assert_eq!(names(paper::sizes_of(213.0, 288.0)), "");
    assert_eq!(names(paper::sizes_of(210.0, 297.0)), "A4");
}

/// Ratios that W3C publishes in its techniques (G183, G195, G207, G223), and pairs computed apart.
#[test]
fn contrasts() {
    let pairs = [
        (0x0000_0000, 0x00f9_a900, 10.7, 1),
        (0x00ff_ffff, 0x00f9_a900, 1.96, 2),
        (0x00b0_0020, 0x00ff_ffff, 7.3, 1),
        (0x0076_7676, 0x00ff_ffff, 4.54, 2),
        (0x0077_7777, 0x00ff_ffff, 4.48, 2),
        (0x0000_0000, 0x00ff_ffff, 21.0, 1),
        (0x0033_66cc, 0x0000_0000, 3.9, 1),
        (0x00ca_0000, 0x00ff_ffff, 6.0, 1),
        (0x0094_9494, 0x00ff_ffff, 3.0, 1),
        (0x00e5_e5e5, 0x0062_21ea, 5.6, 1),
    ];
    for (front, ground, ratio, places) in pairs {
        let found = colour::contrast(front, ground);
        let unit = if places == 2 { 0.01 } else { 0.1 };
        assert!((found - ratio).abs() < unit, "{front:06x} on {ground:06x}: {found}");
    }
    assert!(colour::contrast(0x0076_7676, 0x00ff_ffff) >= 4.5 && colour::contrast(0x0077_7777, 0x00ff_ffff) < 4.5);
}

fn check(share: f64, minutes: f64, after_setup: bool) -> Check {
    Check { share, minutes, after_setup }
}

/// The faults of a tray that does not feed: share and minutes, in falling share over minutes. 17.2 min by that order, 17.7 by falling share.
#[test]
fn the_order_of_checks() {
    let feed = [
        check(0.25, 3.0, false),
        check(0.35, 6.0, false),
        check(0.20, 8.0, false),
        check(0.08, 10.0, false),
        check(0.07, 25.0, false),
        check(0.05, 30.0, false),
    ];
    assert_eq!(order::by_ratio(&feed), [0, 1, 2, 3, 4, 5]);
    assert_eq!(format!("{:.1}", order::expected(&feed, &[0, 1, 2, 3, 4, 5], 0.0)), "17.2");
    assert_eq!(format!("{:.1}", order::expected(&feed, &[1, 0, 2, 3, 4, 5], 0.0)), "17.7");
    assert_eq!(order::best(&feed, 0.0), [0, 1, 2, 3, 4, 5]);
    assert!(order::expected(&feed, &[5, 4, 3, 2, 1, 0], 0.0) > 46.0);
    // Print that rubs off: four faults sit behind one cooling of 33 min. 36.9 min where it is paid once, 53.4 where each check pays it.
    let rubs = |setup: f64| {
        let behind = |share| check(share, 50.0 - setup, true);
        [
            check(0.38, 3.0, false),
            check(0.14, 4.0, false),
            check(0.04, 2.0, false),
            check(0.06, 4.0, false),
            behind(0.12),
            behind(0.10),
            behind(0.08),
            behind(0.04),
            check(0.04, 30.0, false),
        ]
    };
    let order: Vec<usize> = (0..9).collect();
    let minutes = [0.0, 33.0].map(|setup| format!("{:.1}", order::expected(&rubs(setup), &order, setup)));
    assert_eq!(minutes, ["53.4", "36.9"]);
    // With a shared set-up falling share over minutes is not the best.
    let shared = [check(0.3, 10.0, true), check(0.4, 12.0, true), check(0.3, 11.0, false)];
    let (best, plain) = (order::best(&shared, 10.0), order::by_ratio(&shared));
    assert!(order::expected(&shared, &best, 10.0) < order::expected(&shared, &plain, 10.0));
}

/// Of 16 combinations 4 can print. (Signs of textbooks on electrophotography; Pai and Springett 1993.)
#[test]
fn four_combinations_of_signs_can_print() {
    let all = Signs::all();
    let can: Vec<String> = all
        .iter()
        .filter(|signs| signs.broken().is_empty())
        .map(|signs| {
            format!("{} {}{}{}", signs.development.as_str(), signs.drum.as_str(), signs.toner.as_str(), signs.transfer.as_str())
                .replace('\u{2212}', "-")
        })
        .collect();
    assert_eq!(all.len(), 16);
    assert_eq!(can, ["discharged --+", "discharged ++-", "charged -+-", "charged +-+"]);
    let toner_wrong = Signs { development: Development::Discharged, drum: Sign::Negative, toner: Sign::Positive, transfer: Sign::Negative };
    assert_eq!(toner_wrong.broken(), [Broken::Toner]);
    assert_eq!(Signs { toner: Sign::Negative, ..toner_wrong }.broken(), [Broken::Transfer]);
}

fn look(potentials: &Potentials, dead: Option<Dead>) -> &'static str {
    charge::sheet(potentials, dead).look()
}

/// Negative drum, -600 V dark, -100 V exposed, bias -350 V: +250 V towards the drum in the image, 250 V back in the background.
#[test]
fn dead_stages_of_a_machine_that_prints_the_exposed_area() {
    let [discharged, charged] = DEMO;
    assert_eq!((discharged.pull(-100.0), discharged.pull(-600.0)), (250.0, -250.0));
    assert_eq!(look(&discharged, None), "good");
    for (dead, expected) in [
        (Dead::Processing, "wrong-content"),
        (Dead::Charging, "black"),
        (Dead::Exposing, "white"),
        (Dead::Developing, "white"),
        (Dead::Transferring, "pale"),
        (Dead::Fusing, "rubs-off"),
        (Dead::Cleaning, "ghost"),
        (Dead::Erasing, "ghost"),
    ] {
        assert_eq!(look(&discharged, Some(dead)), expected, "{dead:?}");
    }
    let pulls = |dead| charge::sheet(&discharged, Some(dead)).pulls;
    assert_eq!(
        (pulls(Dead::Charging), pulls(Dead::Exposing), pulls(Dead::Developing)),
        ((350.0, 350.0), (-250.0, -250.0), (-100.0, -600.0))
    );
    assert!(charge::sheet(&discharged, Some(Dead::Transferring)).left_on_drum);
    assert!(!charge::sheet(&discharged, Some(Dead::Exposing)).left_on_drum);
    // Charging and exposing change places.
    assert_eq!(
        (look(&charged, None), look(&charged, Some(Dead::Charging)), look(&charged, Some(Dead::Exposing))),
        ("good", "white", "black")
    );
    assert_eq!(charge::sheet(&charged, Some(Dead::Developing)).background, Tone::Pale);
}

#[test]
fn potentials_are_checked() {
    let [discharged, charged] = DEMO;
    assert_eq!((discharged.unfit(), charged.unfit()), (vec![], vec![]));
    assert_eq!(Potentials::of(-600.0, -100.0, -350.0, 1000.0), discharged);
    assert_eq!(Potentials::of(800.0, 100.0, 300.0, 1500.0), charged);
    assert_eq!(Potentials { bias: -650.0, ..discharged }.unfit(), [Unfit::Between]);
    assert_eq!(Potentials { bias: 350.0, ..discharged }.unfit(), [Unfit::OneSign]);
    assert_eq!(Potentials { transfer: -1000.0, ..discharged }.unfit(), [Unfit::Signs(Broken::Transfer)]);
    assert_eq!(Potentials { transfer: 700.0, ..charged }.unfit(), [Unfit::TooWeak]);
    // Turned over, every sign works alike.
    let turned = Potentials { toner: Sign::Positive, dark: 600.0, exposed: 100.0, bias: 350.0, transfer: -1000.0, ..discharged };
    assert_eq!(turned.unfit(), []);
    for dead in Dead::ALL {
        assert_eq!(look(&turned, Some(dead)), look(&discharged, Some(dead)), "{dead:?}");
    }
}

/// A4 at 165 mm/s: each stage takes 1.80 s, and cleaning works while the sheet is in the fuser.
#[test]
fn stages_overlap_in_time() {
    let times = charge::times(75.4, 165.0, 297.0);
    let of = |stage: Dead| times.iter().find(|(one, ..)| *one == stage).map(|(_, from, to)| (*from, *to)).expect("every stage");
    assert_eq!(times.len(), 8);
    assert!(times.iter().all(|(_, from, to)| (to - from - 1.8).abs() < 1e-9));
    let (cleaning, fusing) = (of(Dead::Cleaning), of(Dead::Fusing));
    assert!(cleaning.1 > fusing.0 && cleaning.0 < fusing.1);
    let order =
        [Dead::Charging, Dead::Exposing, Dead::Developing, Dead::Transferring, Dead::Cleaning, Dead::Erasing].map(|stage| of(stage).0);
    assert!(order.is_sorted());
}
