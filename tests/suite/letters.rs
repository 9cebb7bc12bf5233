//! The handbook of the safety analysis to the letter: whole findings as JSON, each told by hand beforehand.
//!
//! The cases stand in `letters/*.md`. One is a heading of level 3 and fenced blocks: `front [NAME]` is a procedure's front matter after its title,
//! `file PATH` a whole file, `expect` what is found, a line a finding in the order of the output:
//!
//! `SEVERITY RULE PROCEDURE/STEP SUBJECT PLACE [MODELS] WITNESS`
//!
//! with `-` for null, `@` for the step's own key, and a witness as `step>way:answer`, the procedure before a step of another one. A last line
//! `not-analysed N` where that count is not 0. Files that a case does not give are those beside the cases and those of the rules' examples. That a
//! step has no section is not looked at.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

use serde_json::Value;

use crate::support::command::Place;

#[derive(Default)]
struct Case {
    name: String,
    files: BTreeMap<String, String>,
    expected: Vec<String>,
}

fn shared() -> BTreeMap<String, String> {
    let files = [
        ("library.yaml", include_str!("../../src/rules/example/library.yaml")),
        ("stop.md", include_str!("../../src/rules/example/stop.md")),
        ("safety.yaml", include_str!("letters/safety.yaml")),
        ("equipment.yaml", include_str!("letters/equipment.yaml")),
    ];
    files.map(|(path, text)| (path.to_owned(), text.to_owned())).into()
}

fn cases(page: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        if let Some(name) = line.strip_prefix("### ") {
            cases.push(Case { name: name.to_owned(), ..Case::default() });
        } else if let Some(info) = line.strip_prefix("```") {
            let text: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
            let case = cases.last_mut().expect("a block stands under a heading");
            match info.split_whitespace().collect::<Vec<_>>().as_slice() {
                ["front", name @ ..] => {
                    let path = format!("procedures/{}.md", name.first().unwrap_or(&"example"));
                    case.files.insert(path, format!("---\ntitle: A made-up case\n{}\n---\n", text.join("\n")));
                }
                ["file", path] => drop(case.files.insert((*path).to_owned(), text.join("\n") + "\n")),
                ["expect"] => case.expected = text.into_iter().map(str::to_owned).collect(),
                other => panic!("{}: no such block: {other:?}", case.name),
            }
        }
    }
    cases
}

fn found(case: &Case) -> Vec<String> {
    let place = Place::new();
    for (path, text) in shared().iter().chain(&case.files) {
        place.write(path, text);
    }
    let ran = place.run(&["verify", ".", "--format", "json", "--today", "2026-11-02"]);
    let report: Value = serde_json::from_str(&ran.out).unwrap_or_else(|error| panic!("{}: {error}\n{}", case.name, ran.err));
    let findings = report["findings"].as_array().expect("a list of findings");
    let seen = findings.iter().filter(|finding| finding["rule"] != "step-without-words");
    let mut lines: Vec<String> = seen.map(|finding| told(&place, finding)).collect();
    if report["counts"]["not-analysed"] != 0 {
        lines.push(format!("not-analysed {}", report["counts"]["not-analysed"]));
    }
    lines
}

fn told(place: &Place, finding: &Value) -> String {
    let text = |key: &str| finding[key].as_str().unwrap_or("-").to_owned();
    let models: Vec<&str> = finding["models"].as_array().expect("models").iter().filter_map(Value::as_str).collect();
    format!(
        "{} {} {}/{} {} {} [{}] {}",
        text("severity")[..1].to_uppercase(),
        text("rule"),
        text("procedure"),
        text("step"),
        text("subject"),
        place_of(place, finding),
        models.join(" "),
        witness(finding)
    )
}

fn place_of(place: &Place, finding: &Value) -> String {
    let path = finding["file"].as_str().expect("a file");
    let (line, column) = (finding["line"].as_u64().expect("a line"), finding["column"].as_u64().expect("a column"));
    let file = place.read(path).expect("the file is there");
    let written = file.lines().nth(usize::try_from(line).expect("small") - 1).unwrap_or("");
    let at_step = finding["step"].as_str().is_some_and(|step| written.starts_with(&format!("  {step}:")));
    if at_step && column == 3 {
        return "@".to_owned();
    }
    format!("{}:{line}:{column}", Path::new(path).file_name().expect("a name").to_string_lossy())
}

fn witness(finding: &Value) -> String {
    let Some(entries) = finding["witness"].as_array() else { return "-".to_owned() };
    let entry = |entry: &Value| {
        let mut told = String::new();
        if entry["procedure"] != finding["procedure"] {
            let _ = write!(told, "{}.", entry["procedure"].as_str().expect("a procedure"));
        }
        told.push_str(entry["step"].as_str().expect("a step"));
        if let Some(way) = entry["way"].as_str() {
            let _ = write!(told, ">{way}");
        }
        if let Some(answer) = entry["answer"].as_str() {
            let _ = write!(told, ":{answer}");
        }
        told
    };
    entries.iter().map(entry).collect::<Vec<_>>().join(" ")
}

fn check(page: &str) {
    let cases = cases(page);
    assert!(!cases.is_empty(), "no case was run");
    let differ = cases.iter().filter_map(|case| {
        let found = found(case);
        let told = format!("{}\n  expected:\n    {}\n  found:\n    {}", case.name, case.expected.join("\n    "), found.join("\n    "));
        (found != case.expected).then_some(told)
    });
    let differ: Vec<String> = differ.collect();
    assert!(differ.is_empty(), "{} of {} cases differ\n{}", differ.len(), cases.len(), differ.join("\n"));
}

#[test]
fn one_step_in_this_order() {
    check(include_str!("letters/steps.md"));
}

#[test]
fn loops_limits_models_and_procedures_carried_out() {
    check(include_str!("letters/flows.md"));
}

#[test]
fn words_denials_links_and_the_catalogue() {
    check(include_str!("letters/words.md"));
}

#[test]
fn edges() {
    check(include_str!("letters/edges.md"));
}

/// The messages about one procedure, given by its steps.
fn messages(steps: &str) -> Vec<String> {
    let place = Place::new();
    shared().iter().for_each(|(path, text)| place.write(path, text));
    place.write("procedures/example.md", &format!("---\ntitle: A made-up case\nsteps:\n{steps}---\n"));
    let ran = place.run(&["verify", ".", "--format", "json"]);
    let report: Value = serde_json::from_str(&ran.out).expect("JSON");
    let findings = report["findings"].as_array().expect("findings").iter().filter(|finding| finding["rule"] != "step-without-words");
    findings.map(|finding| finding["message"].as_str().expect("a message").to_owned()).collect()
}

#[test]
fn the_message_says_what_a_witness_does_with_limits() {
    let early = "  try:
    ask: Does it feed?
    at-most: 2
    otherwise: pull
    answers:
      - { answer: \"Yes\", then: end }
      - { answer: \"No\", then: try }
    unsure: end
  pull: { do: Pull the sheet, exposes: [dust], then: end }
  end: { do: Book a visit, outcome: handed-over }
";
    assert_eq!(messages(early), ["`dust` is met here and its caution is not shown on every way (`otherwise` at once)"]);
    let often = "  warn: { do: Read the sign, minutes: 0, cautions: [dust], then: pull }
  pull: { do: Pull the sheet, minutes: 8, exposes: [dust], at-most: 1, otherwise: end, then: again }
  again:
    ask: Does it feed?
    minutes: 0
    answers:
      - { answer: \"Yes\", then: end }
      - { answer: \"No\", then: pull }
    unsure: end
  end: { do: Book a visit, outcome: handed-over }
";
    assert_eq!(messages(often), ["the caution for `dust` was last shown more than 6 steps or 15 min ago (past `at-most`)"]);
}
