//! Findings as other programs read them: place, subject, step, models and witness of each, in files of every kind, and how the commands end.
//!
//! What each case expects was worked out by hand from the handbook of the format and of the command line, and is judged on a fixed day.

use std::fs;

use serde_json::Value;

use crate::support::command::{Place, Ran};

const DAY: &str = "2026-11-02";
const END: &str = "  end: { do: Book a visit, outcome: handed-over }\n";
const RELEASED: &str = "status: released\nrevision: 1\nowner: field service\nreview-by: 2030-06-30\n";

fn page(top: &str, steps: &str, body: &str) -> String {
    format!("---\ntitle: A\n{top}steps:\n{steps}{END}---\n{body}")
}

fn library(files: &[(&str, &str)]) -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [field service, safety]\n");
    place.write(
        "lib/equipment.yaml",
        "models:\n  desk: { name: Desk, figures: { wide: 216 mm } }\n  floor: { name: Floor, figures: { wide: 297 mm } }\n",
    );
    for (path, text) in files {
        place.write(&format!("lib/{path}"), text);
    }
    place
}

fn verify(place: &Place) -> Ran {
    place.run(&["verify", "lib", "--format", "json", "--today", DAY])
}

fn document(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).unwrap_or_else(|error| panic!("{error} in: {}\n{}", ran.out, ran.err))
}

/// `file:line:column rule step subject`, with `-` for `null`.
fn lines(place: &Place) -> Vec<String> {
    let word = |finding: &Value, key: &str| finding[key].as_str().unwrap_or("-").to_owned();
    let document = document(&verify(place));
    let findings = document["findings"].as_array().expect("a list").iter();
    let line = |finding: &Value| {
        let file = word(finding, "file").replace("procedures/", "");
        let place = format!("{file}:{}:{}", finding["line"], finding["column"]);
        format!("{place} {} {} {}", word(finding, "rule"), word(finding, "step"), word(finding, "subject"))
    };
    findings.map(line).collect()
}

#[track_caller]
fn expect(files: &[(&str, &str)], wanted: &[&str]) {
    assert_eq!(lines(&library(files)), wanted);
}

#[track_caller]
fn expect_steps(steps: &str, wanted: &[&str]) {
    expect(&[("procedures/a.md", &page("", steps, ""))], wanted);
}

#[test]
fn a_finding_has_every_key_and_the_documented_types() {
    let place = library(&[("procedures/a.md", &page("", "  s: { do: Wipe, then: ned }\n", ""))]);
    let ran = verify(&place);
    assert_eq!(ran.status, 1);
    let document = document(&ran);
    assert_eq!(document["schema"], "stepward/findings/1");
    assert_eq!(document["procedures"], 1);
    assert_eq!(document["counts"], serde_json::json!({ "error": 1, "warning": 0, "note": 0, "not-analysed": 1 }));
    let finding = document["findings"][0].as_object().expect("an object");
    let keys: Vec<&str> = finding.keys().map(String::as_str).collect();
    for key in ["rule", "severity", "procedure", "step", "subject", "file", "line", "column", "message", "help", "models", "witness"] {
        assert!(keys.contains(&key), "{key} in {keys:?}");
    }
    assert_eq!(finding["procedure"], "a");
    assert_eq!(finding["severity"], "error");
    assert_eq!(finding["models"], serde_json::json!([]));
    assert!(finding["witness"].is_null());
}

#[test]
fn line_and_column_hold_in_files_of_every_kind() {
    let text = page("", "  s: { do: Wipe, then: ned }\n", "");
    let wanted = ["a.md:4:24 unknown-step s ned"];
    for odd in [
        text.clone(),
        text.replace('\n', "\r\n"),
        text.replace('\n', "\r"),
        format!("\u{feff}{text}"),
        format!("\u{feff}{}", text.replace('\n', "\r\n")),
        text.trim_end().to_owned(),
        text.replace("---\n", "--- \t\n"),
    ] {
        expect(&[("procedures/a.md", &odd)], &wanted);
    }
    // Columns are characters, whatever their bytes.
    expect_steps("  s: { do: \"Wärme 😀 é\", then: ned }\n", &["a.md:4:31 unknown-step s ned"]);
}

#[test]
fn a_broken_file_is_one_finding_at_its_place() {
    for (text, wanted) in [
        ("", "a.md:1:1 front-matter-missing - -"),
        ("\u{feff}", "a.md:1:1 front-matter-missing - -"),
        ("---\ntitle: A\n", "a.md:1:1 front-matter-invalid - -"),
        ("---\ntitle: a\0b\nsteps:\n  end: { do: Go, outcome: handed-over }\n---\n", "a.md:2:9 not-utf8 - -"),
        ("---\ntitle: a\u{202e}b\nsteps:\n  end: { do: Go, outcome: handed-over }\n---\n", "a.md:2:9 not-utf8 - -"),
        ("---\ntitle: A: b\nsteps:\n  end: { do: Go, outcome: handed-over }\n---\n", "a.md:2:9 front-matter-invalid - -"),
    ] {
        expect(&[("procedures/a.md", text)], &[wanted]);
    }
    let deep = |levels: usize| format!("---\ntitle: A\nsummary: {}{}\nsteps:\n{END}---\n", "[".repeat(levels), "]".repeat(levels));
    expect(&[("procedures/a.md", &deep(63))], &["a.md:3:10 value-invalid - -"]);
    expect(&[("procedures/a.md", &deep(64))], &["a.md:3:73 too-deep - -"]);
    let size = |bytes: usize| {
        let head = page("", "", "\n");
        format!("{head}{}", "x".repeat(bytes - head.len()))
    };
    expect(&[("procedures/a.md", &size(8 * 1024 * 1024))], &[]);
    expect(&[("procedures/a.md", &size(8 * 1024 * 1024 + 1))], &["a.md:1:1 too-deep - -"]);
}

#[test]
fn ten_thousand_steps_are_read_and_one_more_is_too_many() {
    let steps = |count: usize| {
        (0..count - 1).fold(String::new(), |text, at| {
            let next = if at + 2 == count { "end".to_owned() } else { format!("s{}", at + 1) };
            text + &format!("  s{at}: {{ do: Wipe, then: {next} }}\n")
        })
    };
    expect_steps(&steps(10_000), &[]);
    expect_steps(&steps(10_001), &["a.md:10004:3 too-deep - -"]);
}

#[test]
fn subjects_steps_and_places_are_as_documented() {
    let q = |answers: &str, unsure: &str| format!("  q:\n    ask: Is it?\n    answers:\n{answers}    unsure: {unsure}\n");
    let yes_no = "      - { answer: A, then: end }\n      - { answer: B, then: end }\n";
    expect_steps(&q("      - { answer: A }\n      - { answer: B, then: end }\n", "end"), &["a.md:7:9 branch-without-action q A"]);
    expect_steps("  s: { do: Wipe }\n", &["a.md:4:3 branch-without-action s -"]);
    expect_steps(&q(yes_no, "ned"), &["a.md:9:13 unknown-step q ned"]);
    expect_steps("  q:\n    ask: Is it?\n    answers: []\n    unsure: end\n", &["a.md:4:3 too-few-answers q -"]);
    expect_steps(
        &q("      - { answer: A, then: end }\n      - { answer: \"a \", then: end }\n", "end"),
        &["a.md:8:19 duplicate-answer q a"],
    );
    expect_steps("  m: { by-model: { desk: end } }\n", &["a.md:4:3 model-uncovered m floor"]);
    expect_steps("  m: { by-model: { tower: end, others: end } }\n", &["a.md:4:20 unknown-model m tower"]);
    expect_steps("  c: { carry-out: tow, outcomes: { done: end } }\n", &["a.md:4:19 unknown-procedure c tow"]);
    expect_steps(
        "  r: { do: Go, outcome: referred }\n  x: { do: Go, outcome: fixd }\n",
        &["a.md:4:3 refers-nowhere r -", "a.md:5:25 unknown-outcome x fixd"],
    );
    expect_steps("  s: { do: Wipe, ask: Is it, then: end }\n", &["a.md:4:3 step-kind-unclear s -"]);
    expect_steps("  s: { doo: Wipe, then: end }\n", &["a.md:4:8 unknown-key s -"]);
    expect(&[("procedures/a.md", &page("start: ned\n", "", ""))], &["a.md:3:8 unknown-step - ned"]);
    expect(&[("procedures/a.md", &page("", "", "\n## One {#one}\n"))], &["a.md:7:10 words-without-step - one"]);
    expect(&[("procedures/a.md", &page("", "", "\n[a](b.md)\n"))], &["a.md:7:1 link-broken - b.md"]);
}

#[test]
fn a_limit_is_judged_for_each_model_and_the_finding_names_them() {
    let steps = "  m:\n    measure: Width\n    unit: mm\n    from: 1\n    to: 400\n    bands:\n      - { below: 230, then: end }\n      \
                 - { up-to: wide, then: end }\n      - { then: end }\n    unsure: end\n";
    let place = library(&[("procedures/a.md", &page("", steps, ""))]);
    assert_eq!(lines(&place), ["a.md:11:18 bands-not-ascending m up to wide"]);
    assert_eq!(document(&verify(&place))["findings"][0]["models"], serde_json::json!(["desk"]));
    let place = library(&[("procedures/a.md", &page("equipment: [desk]\n", steps, ""))]);
    assert_eq!(document(&verify(&place))["findings"][0]["models"], serde_json::json!([]), "none are listed where it holds for all");
}

#[test]
fn a_witness_begins_at_the_start_and_ends_at_the_failing_step() {
    let steps = "  q:\n    ask: Is it?\n    answers:\n      - { answer: \"Yes\", then: end }\n      - { answer: \"No\", then: w }\n    unsure: end\n  \
                 w: { do: Wipe, then: x }\n  x: { do: Wipe, then: w }\n";
    let place = library(&[("procedures/a.md", &page("", steps, ""))]);
    assert_eq!(lines(&place), ["a.md:10:3 no-way-out w -", "a.md:11:3 no-way-out x -"]);
    let entry = |step: &str, way: Option<&str>, answer: Option<&str>| serde_json::json!({ "procedure": "a", "step": step, "way": way, "answer": answer });
    let document = document(&verify(&place));
    assert_eq!(
        document["findings"][1]["witness"],
        serde_json::json!([entry("q", Some("answer"), Some("No")), entry("w", Some("next"), None), entry("x", None, None),])
    );
}

#[test]
fn findings_stand_in_the_order_of_bytes_and_two_runs_print_the_same() {
    let bad = page("", "  s: { do: Wipe, then: ned, minutes: -1, cost: x }\n  t: { shout: it }\n", "");
    let names = ["procedures/b.md", "procedures/a/z.md", "procedures/a-b.md", "procedures/a.md", "leaflets/x.md"];
    let files: Vec<(&str, &str)> = names.iter().map(|name| (*name, bad.as_str())).collect();
    let place = library(&files);
    let first = verify(&place).out;
    let backwards: Vec<(&str, &str)> = files.iter().rev().copied().collect();
    assert_eq!(first, verify(&library(&backwards)).out);
    let document: Value = serde_json::from_str(&first).expect("JSON");
    let key = |finding: &Value| {
        let text = |key: &str| finding[key].as_str().map(|text| text.as_bytes().to_vec());
        (text("file"), finding["line"].as_u64(), finding["column"].as_u64(), text("rule"), text("subject"))
    };
    let keys: Vec<_> = document["findings"].as_array().expect("a list").iter().map(key).collect();
    assert!(keys.len() > 10 && keys.is_sorted(), "{keys:?}");
}

#[test]
fn a_key_of_another_kind_is_one_finding_and_says_nothing_more() {
    let task = "---\ntitle: T\nkind: task\nsteps:\n  e: { do: Go on, outcome: done }\n---\n";
    for key in ["touches: [x]", "exposes: [x]", "cautions: [x]", "requires: [x]", "picture: x.svg", "words-of: x"] {
        let steps = format!("  c:\n    carry-out: t\n    outcomes: {{ done: end }}\n    {key}\n");
        let files = [("procedures/a.md", page("", &steps, "")), ("procedures/t.md", task.to_owned())];
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
        expect(&files, &["a.md:7:5 value-invalid c -"]);
    }
    expect_steps("  b:\n    by-model: { others: end }\n    at-most: 2\n", &["a.md:6:5 value-invalid b -"]);
}

#[test]
fn settings_that_cannot_be_followed_are_findings_of_the_library() {
    for (setting, wanted) in [
        ("  limit-idle: { reason: Why }\n", "library.yaml:4:3 key-missing - -"),
        ("  limit-idle: { severity: off, reason: Why }\n", "library.yaml:4:27 value-invalid - -"),
        ("  limit-idle: { severity: note }\n", "library.yaml:4:3 key-missing - -"),
        ("  unknown-step: { severity: note, reason: Why }\n", "library.yaml:4:29 value-invalid - -"),
        ("  no-such-rule: { severity: note, reason: Why }\n", "library.yaml:4:3 value-invalid - -"),
    ] {
        let place = library(&[("procedures/a.md", &page("", "", ""))]);
        place.write("lib/library.yaml", &format!("title: A\nroles: [field service]\nrules:\n{setting}"));
        assert_eq!(lines(&place), [wanted]);
    }
    // Raised without a reason, lowered with one.
    let idle = page("", "  s: { do: Wipe, at-most: 2, otherwise: end, then: end }\n", "\n[a](b.md)\n");
    let place = library(&[("procedures/a.md", &idle)]);
    let rules = "rules:\n  limit-idle: { severity: error }\n  link-broken: { severity: note, reason: The page is on its way }\n";
    place.write("lib/library.yaml", &format!("title: A\n{rules}"));
    assert_eq!(document(&verify(&place))["counts"], serde_json::json!({ "error": 1, "warning": 0, "note": 1, "not-analysed": 0 }));
}

#[test]
fn publishing_judges_what_it_publishes_and_all_that_carries_out() {
    let publish = |place: &Place, more: &[&str]| place.run(&[&["publish", "lib", "--to", "site", "--today", DAY], more].concat()).status;
    let bad = page("", "  s: { do: Wipe, then: ned }\n", "");
    let good = page(RELEASED, "", "");
    let place = library(&[("procedures/a.md", &good), ("procedures/draft.md", &bad)]);
    place.sign("lib");
    assert_eq!(publish(&place, &[]), 0, "an error in a draft stops nothing");
    assert!(place.read("site/procedures/a.html").is_some() && place.read("site/procedures/draft.html").is_none());
    let before = place.below("site");
    assert_eq!(publish(&place, &["--unreleased"]), 1, "the draft is judged when it is asked for");
    assert_eq!(publish(&place, &[]), 0);
    assert_eq!(place.below("site"), before, "the same bytes");
    // A draft task that a released procedure carries out is judged with it.
    let caller = page(RELEASED, "  c: { carry-out: t, outcomes: { done: end } }\n", "");
    let task = "---\ntitle: T\nkind: task\nsteps:\n  s: { do: Wipe, then: ned }\n  e: { do: Go on, outcome: done }\n---\n";
    let place = library(&[("procedures/a.md", &caller), ("procedures/t.md", task)]);
    place.sign("lib");
    assert_eq!(publish(&place, &[]), 1);
    assert!(place.read("site/index.html").is_none());
}

#[test]
#[cfg(unix)]
fn a_link_out_of_the_library_is_refused_where_it_stands() {
    let place = library(&[("procedures/a.md", &page("", "", ""))]);
    place.write("secret.md", "Words\n");
    let lib = place.path("lib");
    std::os::unix::fs::symlink(place.path("secret.md"), lib.join("procedures/out.md")).expect("a link");
    fs::create_dir(place.path("far")).expect("a folder");
    std::os::unix::fs::symlink(place.path("far"), lib.join("procedures/folder")).expect("a link");
    std::os::unix::fs::symlink("a.md", lib.join("procedures/inside.md")).expect("a link");
    assert_eq!(lines(&place), ["folder:1:1 outside-library - -", "out.md:1:1 outside-library - -"]);
}
