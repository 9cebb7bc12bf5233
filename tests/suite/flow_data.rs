//! The data of the follower: complete, the same every time, and safe inside a `script` element.

use serde_json::Value;
use stepward::formula::Formula;
use stepward::model::library::Library;
use stepward::read::read;
use stepward::render::flow_data::{flow_data, flow_data_text};
use stepward::text::folder::Folder;
use stepward::text::id::Id;

const SETTINGS: &str = "title: Larkmere Libraries\n";

const SAFETY: &str = "\
conditions:
  mains-on: { name: Power restored, clears: [isolated] }
  isolated: { name: Plug out and tried, tried-out: true }
  cooled: { name: Fuser below 48 °C, after: isolated, takes: cooling, shown-by: { unit: °C, up-to: 48 } }
hazards:
  toner-dust: { name: Toner dust, signal-word: caution, nature: Fine dust., consequence: Sore eyes., avoid: Do not blow., words: [toner] }
  hot-fuser:
    name: Hot fuser
    signal-word: warning
    sign: W017
    nature: It is hot </script><!-- & stays so.
    consequence: Burns.
    avoid: Let it cool.
    requires: [isolated, cooled]
    returns-with: [mains-on]
    least: skilled
    words: [hot roller]
  mains: { name: Mains inlet, signal-word: danger, nature: Live., consequence: Shock., avoid: Unplug., requires: [isolated], least: instructed, words: [inlet] }
  laser: { name: Laser, signal-word: danger, nature: Beam., consequence: Eyes., avoid: Keep shut., requires: [isolated], least: skilled, words: [laser] }
parts:
  fuser: { name: Fuser, hazards: [hot-fuser], words: [fuser] }
  inlet: { name: Inlet, hazards: [mains], words: [power inlet] }
";

const EQUIPMENT: &str = "\
models:
  mono-desk: { name: Desk model, figures: { memory: 128 MB, resolution: 600 dpi, cooling: 20 min }, repeats: { drum: 75.4 mm } }
  mono-floor: { name: Floor model, figures: { memory: 256 MB, resolution: 600 dpi, cooling: 90 s } }
";

const MAIN: &str = "\
---
title: Marks repeat
equipment: [mono-desk]
steps:
  gap:
    measure: Gap between marks
    unit: mm
    from: 5
    to: 400
    bands:
      - { below: 65.50, then: safe, sets: [isolated] }
      - { then: memory }
    unsure: stop
  memory:
    measure: Memory the page needs
    unit: MB
    readings:
      width: { ask: Width, unit: mm, from: 50, to: 450 }
      bits: { ask: Bits, from: 1, to: 8, whole: true }
    formula: width / 25.4 * resolution * bits / 8
    from: 0
    to: 100000
    bands:
      - { up-to: memory, then: stop }
      - { then: stop }
    unsure: stop
  safe: { carry-out: isolate, outcomes: { done: fuser, not-done: stop } }
  fuser: { do: Replace the fuser, touches: [fuser], exposes: [toner-dust], cautions: [hot-fuser, toner-dust], cures: [], then: stop }
  stop: { do: Book a visit, outcome: handed-over }
---

## Gap {#gap}

Words of the page itself.
";

const ISOLATE: &str = "\
---
title: Make safe
kind: task
steps:
  out: { do: Pull the plug, touches: [inlet], cautions: [mains], then: wait-there }
  wait-there: { carry-out: breathe, outcomes: { done: yes-done } }
  yes-done: { do: Go on, outcome: done }
  not-there: { do: Leave it, outcome: not-done }
---

## Pull it {#out}

Grip the plug, not the lead.

- Show it
";

const BREATHE: &str =
    "---\ntitle: Breathe\nkind: task\noutcomes: [done]\nsteps:\n  in: { do: Breathe in, wait: 90 s, outcome: done }\n---\n";
const STRANGER: &str = "---\ntitle: Stranger\nsteps:\n  end: { do: End of it, outcome: no-fault, exposes: [laser] }\n---\n";

fn library() -> Library {
    let (library, findings) = read(&Folder::of([
        ("library.yaml", SETTINGS),
        ("safety.yaml", SAFETY),
        ("equipment.yaml", EQUIPMENT),
        ("procedures/marks.md", MAIN),
        ("procedures/isolate.md", ISOLATE),
        ("procedures/breathe.md", BREATHE),
        ("procedures/stranger.md", STRANGER),
        ("stop.md", "# Stop\n\nStop.\n"),
    ]));
    assert!(findings.iter().next().is_none(), "{:?}", findings.iter().map(|finding| &finding.message).collect::<Vec<_>>());
    library
}

fn data_of(library: &Library, id: &str) -> Value {
    flow_data(library, library.procedure(&Id::from(id)).expect("the procedure is there"))
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().expect("a map").keys().map(String::as_str).collect()
}

#[test]
fn everything_that_is_carried_out_is_there_and_nothing_else() {
    let library = library();
    let data = data_of(&library, "marks");
    assert_eq!(keys(&data["procedures"]), ["breathe", "isolate", "marks"]);
    assert_eq!(keys(&data_of(&library, "breathe")["procedures"]), ["breathe"]);
    for procedure in data["procedures"].as_object().expect("a map").values() {
        for step in procedure["steps"].as_object().expect("a map").values() {
            let targets = step["ways"].as_array().expect("a list").iter().map(|way| way["then"].as_str().expect("a target"));
            assert!(targets.into_iter().all(|target| procedure["steps"].get(target).is_some()));
            let named = step["cautions"]
                .as_array()
                .expect("a list")
                .iter()
                .chain(step["exposes"].as_array().expect("a list").iter().map(|one| &one["hazard"]));
            let known: Vec<&Value> = data["hazards"].as_array().expect("a list").iter().map(|hazard| &hazard["id"]).collect();
            assert!(named.into_iter().all(|hazard| known.contains(&hazard)));
        }
    }
}

#[test]
fn hazards_come_by_signal_word_then_in_file_order() {
    let data = data_of(&library(), "marks");
    let hazards: Vec<&str> = data["hazards"].as_array().expect("a list").iter().filter_map(|hazard| hazard["id"].as_str()).collect();
    assert_eq!(hazards, ["mains", "hot-fuser", "toner-dust"]);
    assert_eq!(data["hazards"][1]["spoken"], "It is hot </script><!-- & stays so. Burns. Let it cool.");
}

#[test]
fn exposure_is_what_the_step_and_its_parts_bring() {
    let data = data_of(&library(), "marks");
    let step = &data["procedures"]["marks"]["steps"]["fuser"];
    let exposed: Vec<&Value> = step["exposes"].as_array().expect("a list").iter().map(|one| &one["hazard"]).collect();
    assert_eq!(exposed, ["toner-dust", "hot-fuser"]);
    assert_eq!(step["exposes"][0]["waived"], serde_json::json!({ "requires": null, "least": null }));
}

#[test]
fn limits_stay_decimals_and_figures_stay_names() {
    let data = data_of(&library(), "marks");
    let steps = &data["procedures"]["marks"]["steps"];
    assert_eq!(steps["gap"]["ways"][0]["limit"], serde_json::json!({ "inside": false, "value": "65.5", "figure": null }));
    assert_eq!(steps["gap"]["ways"][1]["limit"], Value::Null);
    assert_eq!(steps["memory"]["ways"][0]["limit"], serde_json::json!({ "inside": true, "value": null, "figure": "memory" }));
    assert_eq!(data["models"][0]["figures"]["memory"], serde_json::json!({ "value": "128", "unit": "MB" }));
    let formula = serde_json::json!(["$width", 25.4, "/", "$resolution", "*", "$bits", "*", 8.0, "/"]);
    assert_eq!(steps["memory"]["measure"]["formula"]["rpn"], formula);
    assert_eq!(data["conditions"][2]["takes"], serde_json::json!({ "seconds": null, "byModel": { "mono-desk": 1200, "mono-floor": 90 } }));
}

#[test]
fn words_come_with_what_is_carried_out_and_not_with_the_page() {
    let data = data_of(&library(), "marks");
    assert_eq!(data["procedures"]["marks"]["steps"]["gap"]["words"], serde_json::json!([]));
    assert_eq!(data["procedures"]["isolate"]["steps"]["out"]["words"], serde_json::json!(["Grip the plug, not the lead.", "Show it"]));
    assert_eq!(data["procedures"]["marks"]["steps"]["safe"]["text"], "Make safe");
}

#[test]
fn the_same_library_gives_the_same_bytes_and_another_edition_another_name() {
    let (one, other) = (library(), library());
    let text = |library: &Library| flow_data_text(library, library.procedure(&Id::from("marks")).expect("the procedure is there"));
    assert_eq!(text(&one), text(&other));
    let mut changed = library();
    changed.catalogue.caution_within.steps = 5;
    assert_ne!(data_of(&one, "marks")["edition"], data_of(&changed, "marks")["edition"]);
}

#[test]
fn nothing_in_the_data_can_leave_its_script_element() {
    let library = library();
    let text = flow_data_text(&library, library.procedure(&Id::from("marks")).expect("the procedure is there"));
    assert!(!text.contains(['<', '>', '&', '\u{2028}', '\u{2029}']));
    let back: Value = serde_json::from_str(&text).expect("it is still JSON");
    assert_eq!(back, data_of(&library, "marks"));
}

/// Compares a fixture of the script tests with what the compiler writes; `UPDATE=1` rewrites it.
fn fixture(name: &str, expected: &Value) {
    fixture_text(name, format!("{}\n", serde_json::to_string_pretty(expected).expect("values can be written")));
}

pub fn fixture_text(name: &str, text: String) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/script/fixtures").join(name);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, &text).expect("the fixture can be written");
    }
    let found = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(found == text, "{name} is not what the compiler writes; UPDATE=1 rewrites it");
}

#[test]
fn the_script_tests_run_on_what_the_compiler_writes() {
    fixture("marks.json", &data_of(&library(), "marks"));
}

/// A small generator with a seed (Knuth's MMIX constants), so that the fixture is the same every time.
struct Random(u64);

impl Random {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn expression(&mut self, depth: u32) -> String {
        if depth == 0 {
            return match self.below(4) {
                0 => "gap".to_owned(),
                1 => "page-count".to_owned(),
                2 => format!("{}", self.below(1000)),
                _ => format!("{}.{}", self.below(50), self.below(99) + 1),
            };
        }
        let left = self.expression(depth - 1);
        match self.below(14) {
            one @ 0..=4 => format!("({left} {} {})", ["+", "-", "*", "/", "^"][one as usize], self.expression(depth - 1)),
            two @ 5..=6 => format!("{}({left}, {})", ["min", "max"][two as usize - 5], self.expression(depth - 1)),
            call => format!("{}({left})", ["abs", "sqrt", "exp", "ln", "floor", "ceil", "round"][call as usize - 7]),
        }
    }
}

/// Random formulas with their inputs, computed on both sides.
const VECTORS: usize = 1200;

#[test]
fn the_browser_computes_what_the_compiler_computes() {
    let mut random = Random(20_260_115);
    let mut vectors = Vec::new();
    while vectors.len() < VECTORS {
        let depth = 1 + u32::try_from(random.below(3)).expect("small");
        let text = random.expression(depth);
        let (gap, pages) = (
            f64::from(u32::try_from(random.below(4000)).expect("small")) / 8.0,
            f64::from(u32::try_from(random.below(50)).expect("small")),
        );
        let formula = Formula::parse(&text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        let value = formula.evaluate(&|name| match name {
            "gap" => Some(gap),
            "page-count" => Some(pages),
            _ => None,
        });
        vectors.push(serde_json::json!([text, formula.rpn(), gap, pages, value.ok()]).to_string());
    }
    fixture_text("formulas.json", format!("[\n{}\n]\n", vectors.join(",\n")));
}
