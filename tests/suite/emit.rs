//! How findings are printed: the JSON to the letter, one line each, and the text with the source line marked.

use stepward::emit::{Report, json, short, text};
use stepward::finding::{Finding, WayKind, WitnessEntry, rule};
use stepward::model::library::Library;
use stepward::read;
use stepward::text::folder::Folder;
use stepward::text::id::Id;
use stepward::text::place::Place;

const PROCEDURE: &str = "---\ntitle: Marks\nsteps:\n  drum:\n    do: Replace the drum\n---\n";

/// A library of which only the source text matters.
fn library(path: &str, source: &str) -> Library {
    let mut library = Library::default();
    library.sources.add(path, source);
    library
}

fn drum() -> Place {
    let start = PROCEDURE.find("drum").expect("it is there") as u32;
    Place { line: 4, column: 3, start, end: start + 4, ..Place::default() }
}

fn entry(procedure: &str, step: &str, way: Option<WayKind>, answer: Option<&str>) -> WitnessEntry {
    WitnessEntry { procedure: Id::new(procedure), step: Id::new(step), way, answer: answer.map(str::to_owned) }
}

fn missing_caution() -> Finding {
    let mut finding = Finding::new(&rule::CAUTION_MISSING, drum(), "the caution `toner-dust` was not shown on the way here")
        .procedure(&Id::new("marks"))
        .step(&Id::new("drum"))
        .subject("toner-dust")
        .help("show it at this step");
    finding.witness = Some(vec![
        entry("marks", "look", Some(WayKind::Answer), Some("Yes")),
        entry("marks", "wait", Some(WayKind::Next), None),
        entry("marks", "drum", None, None),
    ]);
    finding
}

fn report<'a>(library: &'a Library, findings: &'a [Finding]) -> Report<'a> {
    Report { library, findings: findings.iter().collect(), not_analysed: Vec::new(), procedures: 12 }
}

#[test]
fn json_has_the_promised_keys_in_the_promised_order() {
    let library = library("procedures/marks.md", PROCEDURE);
    let findings = [missing_caution()];
    let wanted = r#"{
  "schema": "stepward/findings/1",
  "findings": [
    {
      "rule": "caution-missing",
      "severity": "error",
      "procedure": "marks",
      "step": "drum",
      "subject": "toner-dust",
      "file": "procedures/marks.md",
      "line": 4,
      "column": 3,
      "message": "the caution `toner-dust` was not shown on the way here",
      "help": "show it at this step",
      "models": [],
      "witness": [
        {
          "procedure": "marks",
          "step": "look",
          "way": "answer",
          "answer": "Yes"
        },
        {
          "procedure": "marks",
          "step": "wait",
          "way": "next",
          "answer": null
        },
        {
          "procedure": "marks",
          "step": "drum",
          "way": null,
          "answer": null
        }
      ]
    }
  ],
  "counts": {
    "error": 1,
    "warning": 0,
    "note": 0,
    "not-analysed": 0
  },
  "procedures": 12
}
"#;
    assert_eq!(json::json(&report(&library, &findings)), wanted);
}

#[test]
fn json_says_null_for_what_a_finding_does_not_have() {
    let library = library("safety.yaml", "hazards:\n");
    let mut finding = Finding::new(&rule::LIMIT_IDLE, Place { line: 1, column: 1, ..Place::default() }, "quotes \" and \u{1b} stay text");
    finding.models = vec![Id::new("mono-desk"), Id::new("wide")];
    let findings = [finding];
    let broken = Id::new("marks");
    let mut report = report(&library, &findings);
    report.not_analysed = vec![&broken];
    let value: serde_json::Value = serde_json::from_str(&json::json(&report)).expect("well-formed JSON");
    let found = &value["findings"][0];
    for key in ["procedure", "step", "subject", "help", "witness"] {
        assert!(found.as_object().expect("an object").contains_key(key), "{key}");
        assert!(found[key].is_null(), "{key}");
    }
    assert_eq!(found["message"], "quotes \" and \u{1b} stay text");
    assert_eq!(found["models"], serde_json::json!(["mono-desk", "wide"]));
    assert_eq!(value["counts"], serde_json::json!({ "error": 0, "warning": 1, "note": 0, "not-analysed": 1 }));
}

#[test]
fn short_is_one_line_a_finding() {
    let library = library("procedures/marks.md", PROCEDURE);
    let mut second = missing_caution();
    second.message = "two\nlines \u{1b}[31m".to_owned();
    let findings = [missing_caution(), second];
    let wanted = "procedures/marks.md:4:3: error[caution-missing] the caution `toner-dust` was not shown on the way here\n\
                  procedures/marks.md:4:3: error[caution-missing] two lines \u{fffd}[31m\n";
    assert_eq!(short::short(&report(&library, &findings)), wanted);
}

#[test]
fn text_marks_the_source_line_and_tells_the_way_there() {
    let library = library("procedures/marks.md", PROCEDURE);
    let mut finding = missing_caution().also(Place::top(drum().file), "begins here");
    finding.models = vec![Id::new("mono-desk")];
    let findings = [finding];
    let wanted = r#"error[caution-missing]: the caution `toner-dust` was not shown on the way here
 --> procedures/marks.md:4:3
  |
4 |   drum:
  |   ^^^^
  |
 ::: procedures/marks.md:1:1
  |
1 | ---
  | - begins here
  |
  = note: one way that leads there:
            "look" — Yes
            "wait"
            "drum"
  = note: holds for the model `mono-desk`
  = help: show it at this step

"#;
    assert_eq!(text::text(&report(&library, &findings), false), wanted);
}

#[test]
fn text_lets_no_control_character_of_a_source_through() {
    let source = "a\u{1b}]0;title\u{7} \u{202e}b\n";
    let library = library("procedures/a\u{1b}b.md", source);
    let mut finding =
        Finding::new(&rule::NOT_UTF8, Place { line: 1, column: 2, start: 1, end: 2, ..Place::default() }, "it holds \u{1b}[2J");
    finding.help = Some("take \u{9b} out".to_owned());
    finding.witness = Some(vec![entry("x\u{1b}", "y\u{7}", Some(WayKind::Answer), Some("\u{1b}[1m"))]);
    finding.models = vec![Id::new("m\u{1b}")];
    let findings = [finding.also(Place { line: 1, column: 1, end: 1, ..Place::default() }, "\u{1b}also")];
    let report = report(&library, &findings);
    for printed in [text::text(&report, false), short::short(&report)] {
        let odd: Vec<char> = printed.chars().filter(|c| (c.is_control() && *c != '\n') || *c == '\u{202e}').collect();
        assert_eq!(odd, [], "{printed}");
        assert!(printed.contains(":1:2"), "{printed}");
    }
}

#[test]
fn text_has_colours_only_if_asked() {
    let library = library("procedures/marks.md", PROCEDURE);
    let findings = [missing_caution()];
    assert!(text::text(&report(&library, &findings), true).contains("\u{1b}["));
    assert!(!text::text(&report(&library, &findings), false).contains('\u{1b}'));
}

#[test]
fn a_finding_about_a_file_that_was_not_read_still_names_its_place() {
    let library = library("pictures/large.png", "");
    let findings = [Finding::new(&rule::TOO_DEEP, Place { line: 1, column: 1, ..Place::default() }, "the file is over 8 MiB")];
    let printed = text::text(&report(&library, &findings), false);
    assert_eq!(printed, "error[too-deep]: the file is over 8 MiB\n--> pictures/large.png:1:1\n\n");
}

#[test]
fn a_way_through_another_procedure_is_indented_and_in_the_authors_words() {
    let folder = Folder::of([
        ("library.yaml", "title: T\n"),
        (
            "procedures/isolate.md",
            "---\ntitle: Isolate the printer\nkind: task\nsteps:\n  try:\n    ask: Does it stay dead?\n    answers:\n      - { answer: \"Yes\", then: ready }\n      - { answer: \"No\", then: leave }\n    unsure: leave\n  ready: { do: Go on, outcome: done }\n  leave: { do: Leave it, outcome: not-done }\n---\n",
        ),
        (
            "procedures/marks.md",
            "---\ntitle: Marks\nsteps:\n  shut:\n    ask: Is the cover shut?\n    answers:\n      - { answer: \"Yes\", then: off }\n      - { answer: \"No\", then: end }\n    unsure: end\n  off: { carry-out: isolate, outcomes: { done: drum, not-done: end } }\n  drum: { do: Replace the drum, then: end }\n  end: { do: Book a visit, outcome: handed-over }\n---\n",
        ),
    ]);
    let (library, reading) = read::read(&folder);
    assert!(reading.is_empty(), "{reading:?}");
    let mut finding = missing_caution();
    finding.witness = Some(vec![
        entry("marks", "shut", Some(WayKind::Answer), Some("Yes")),
        entry("marks", "off", Some(WayKind::Outcome), Some("done")),
        entry("isolate", "try", Some(WayKind::Unsure), None),
        entry("isolate", "ready", None, None),
        entry("marks", "drum", None, None),
    ]);
    let findings = [finding];
    let printed = text::text(&report(&library, &findings), false);
    let way: Vec<&str> = printed.lines().skip_while(|line| !line.contains("note:")).skip(1).take(5).map(str::trim_end).collect();
    let wanted = [
        "\"Is the cover shut?\" — Yes",
        "\"Isolate the printer\" — done",
        "  \"Does it stay dead?\" — cannot tell",
        "  \"Go on\"",
        "\"Replace the drum\"",
    ];
    let indent = way[0].len() - way[0].trim_start().len();
    assert_eq!(way.iter().map(|line| line[indent..].to_owned()).collect::<Vec<_>>(), wanted, "{printed}");
}
