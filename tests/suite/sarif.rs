//! Findings as SARIF: what the general validator of `tests/outside/sarif.test.mjs` cannot know, and the kinds of result that only the review writes.

use serde_json::{Value, json};
use stepward::emit::Report;
use stepward::emit::sarif::{Proved, cannot_run, sarif};
use stepward::finding::{Finding, WayKind, WitnessEntry, rule};
use stepward::read;
use stepward::text::folder::Folder;
use stepward::text::id::Id;

use crate::support::command::Place;

const MARKS: &str = "---\ntitle: Marks\nsteps:\n  look:\n    ask: Is it {dark}?\n    answers:\n      - { answer: \"Yes\", then: drum }\n      - { answer: \"No\", then: end }\n    unsure: end\n  drum: { do: Replace the drum, then: end }\n  end: { do: Book a visit, outcome: handed-over }\n---\n";

fn entry(step: &str, way: Option<WayKind>, answer: Option<&str>) -> WitnessEntry {
    WitnessEntry { procedure: Id::new("marks"), step: Id::new(step), way, answer: answer.map(str::to_owned) }
}

/// With `STEPWARD_SARIF_TO` naming a file, the log is written there too, for the validator.
#[test]
fn results_are_of_the_three_kinds() {
    let (library, reading) = read::read(&Folder::of([("library.yaml", "title: T\n"), ("procedures/marks.md", MARKS)]));
    assert!(reading.is_empty(), "{reading:?}");
    let marks = Id::new("marks");
    let (drum, end) = (Id::new("drum"), Id::new("end"));
    let at = |step: &Id| library.procedure(&marks).and_then(|it| it.step(step)).expect("the step is there").at;
    let mut finding = Finding::new(&rule::CAUTION_MISSING, at(&drum), "`toner-dust` is met here")
        .procedure(&marks)
        .step(&drum)
        .subject("toner-dust")
        .help("show it (`cautions: [toner-dust]`)")
        .also(at(&end), "not {here} either");
    finding.models = vec![Id::new("desk")];
    finding.witness = Some(vec![entry("look", Some(WayKind::Answer), Some("Yes")), entry("drum", None, None)]);
    let findings = [finding];
    let report = Report { library: &library, findings: findings.iter().collect(), not_analysed: vec![&marks], procedures: 1 };
    let hazard = Id::new("toner-dust");
    let proved = [Proved { procedure: &marks, step: &end, hazard: &hazard, place: at(&end), message: "shown on every way".to_owned() }];
    let text = sarif(&report, &proved);
    assert_eq!(text, sarif(&report, &proved));
    assert!(text.starts_with("{\n  \"version\": \"2.1.0\",\n") && text.ends_with("}\n"));
    if let Some(file) = std::env::var_os("STEPWARD_SARIF_TO") {
        std::fs::write(file, &text).expect("the log can be written");
    }
    let log: Value = serde_json::from_str(&text).expect("well-formed JSON");
    let results = &log["runs"][0]["results"];
    let kinds: Vec<[&Value; 2]> = results.as_array().expect("a list").iter().map(|it| [&it["kind"], &it["level"]]).collect();
    assert_eq!(json!(kinds), json!([["fail", "error"], ["pass", "none"], ["open", "none"]]));
    let failed = &results[0];
    assert_eq!(failed["message"]["text"], "`toner-dust` is met here. Show it (`cautions: [toner-dust]`). It holds for the model `desk`.");
    assert_eq!(failed["relatedLocations"][0]["message"]["text"], "not {{here}} either");
    assert_eq!(failed["properties"], json!({ "subject": "toner-dust", "models": ["desk"] }));
    assert_eq!(failed["suppressions"], json!([]));
    let region = json!({ "startLine": 10, "startColumn": 3, "endLine": 10, "endColumn": 7 });
    assert_eq!(failed["locations"][0]["physicalLocation"]["region"], region);
    let way = &failed["codeFlows"][0]["threadFlows"][0]["locations"];
    assert_eq!(way[0]["location"]["message"]["text"], "\"Is it {{dark}}?\" — Yes");
    assert_eq!(way[0]["location"]["physicalLocation"]["region"]["startLine"], 4);
    assert_eq!(json!([way[0]["importance"], way[1]["importance"]]), json!(["important", "essential"]));
    assert_eq!(results[1]["message"]["text"], "Shown on every way.");
    assert_eq!(results[1]["locations"][0]["logicalLocations"][0]["fullyQualifiedName"], "marks/end");
    assert_eq!(log["runs"][0]["invocations"][0]["exitCode"], 1);
}

#[test]
fn a_run_that_could_not_begin_has_no_results() {
    let log: Value = serde_json::from_str(&cannot_run("there is no `library.yaml`", 2)).expect("well-formed JSON");
    assert!(log["runs"][0].get("results").is_none());
    assert_eq!(log["runs"][0]["invocations"][0]["executionSuccessful"], false);
}

#[test]
fn only_commands_that_print_findings_write_a_log_of_their_failure() {
    let place = Place::new();
    let ran = place.run(&["verify", "gone", "--format", "sarif"]);
    assert_eq!(ran.status, 2);
    assert!(ran.out.starts_with("{\n  \"version\"") && ran.err.contains("no `library.yaml`"), "{} {}", ran.out, ran.err);
    assert_eq!(place.run(&["create", "procedure", "--format", "sarif"]).out, "");
    assert_eq!(place.run(&["verify", "gone", "--format", "json"]).out, "");
    let usage = place.run(&["verify", "--format=sarif", "--odd"]);
    assert!(usage.out.contains("could not be understood"), "{}", usage.out);
}

#[test]
fn a_new_library_points_at_its_schemas_and_keeps_what_is_there() {
    let place = Place::new();
    place.write("lib/.schemas/stages.schema.json", "mine");
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    assert_eq!(place.read("lib/.schemas/stages.schema.json").as_deref(), Some("mine"));
    for (name, text) in place.below("lib") {
        let text = String::from_utf8(text).expect("UTF-8");
        let Some(line) = text.lines().find(|line| line.contains("$schema=")) else {
            assert!(name.starts_with(".schemas/") || name == "stop.md", "{name}");
            continue;
        };
        let (_, target) = line.split_once("$schema=").expect("it was found");
        let depth = name.matches('/').count();
        let target = target.strip_prefix("../".repeat(depth).as_str()).expect("relative to the file's own folder");
        assert!(
            place.read(&format!("lib/{target}")).is_some_and(|text| text.contains("json-schema.org/draft/2020-12")),
            "{name}: {target}"
        );
    }
    std::fs::remove_file(place.path("lib/.schemas/procedure.schema.json")).expect("it was there");
    assert_eq!(place.run(&["create", "procedure", "grey-sheets", "--library", "lib"]).status, 0);
    assert!(place.read("lib/.schemas/procedure.schema.json").is_some());
    let ran = place.run(&["verify", "lib"]);
    assert_eq!((ran.status, ran.out.as_str()), (0, ""), "{}", ran.err);
}

#[cfg(unix)]
#[test]
fn schemas_are_never_written_outside_the_library() {
    let place = Place::new();
    place.write("elsewhere/keep", "mine");
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    std::fs::remove_dir_all(place.path("lib/.schemas")).expect("it was there");
    std::os::unix::fs::symlink("../elsewhere", place.path("lib/.schemas")).expect("a link");
    let before = place.below("");
    let ran = place.run(&["create", "procedure", "grey-sheets", "--library", "lib"]);
    assert!(ran.status == 2 && ran.err.contains("leads outside the library"), "{}", ran.err);
    assert_eq!(place.below(""), before);
}
