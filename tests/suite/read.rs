//! Reading: every rule of the group *reading*, both ways, and the places it points at.

use std::collections::BTreeMap;

use stepward::finding::Findings;
use stepward::model::catalogue::Takes;
use stepward::model::library::Library;
use stepward::model::procedure::{Procedure, Status};
use stepward::model::step::{LimitValue, Sorting, StepKind};
use stepward::text::folder::{Entry, Folder};
use stepward::text::id::Id;

const LIBRARY: &str = "title: Larkmere print rooms\nroles: [field service, safety]\n";
const MARKS: &str = include_str!("reading/repeating-marks.md");
const SMALL: &str = "---\ntitle: T\nsteps: { a: { do: x, outcome: fixed } }\n---\n";

fn read(files: &[(&str, &str)]) -> (Library, Findings) {
    stepward::read::read(&Folder::of(files.iter().copied()))
}

/// The findings as `path:line:column rule`; also holds every message to its form.
fn lines(library: &Library, findings: &Findings) -> Vec<String> {
    findings
        .iter()
        .map(|one| {
            assert!(one.message.chars().count() <= 90, "{}", one.message);
            assert!(!one.message.ends_with('.') && one.help.is_some(), "{}", one.message);
            let source = library.sources.get(one.at.file).map_or("", |source| source.text.as_str());
            assert!(source.get(one.at.start as usize..one.at.end as usize).is_some(), "{} points past its file", one.message);
            format!("{}:{}:{} {}", library.sources.path(one.at.file), one.at.line, one.at.column, one.rule.name)
        })
        .collect()
}

/// Reads these files beside a good `library.yaml` and compares what was found.
fn check_library(files: &[(&str, &str)], expected: &[&str]) -> Library {
    let mut all: BTreeMap<&str, &str> = BTreeMap::from([("library.yaml", LIBRARY), ("procedures/small.md", SMALL)]);
    all.extend(files.iter().copied());
    let (library, findings) = read(&all.into_iter().collect::<Vec<_>>());
    assert_eq!(lines(&library, &findings), expected, "{:#?}", findings.iter().map(|one| &one.message).collect::<Vec<_>>());
    library
}

/// Reads a procedure; expectations are `line:column rule`.
fn check(text: &str, expected: &[&str]) -> Library {
    let expected: Vec<String> = expected.iter().map(|one| format!("procedures/p.md:{one}")).collect();
    check_library(&[("procedures/p.md", text)], &expected.iter().map(String::as_str).collect::<Vec<_>>())
}

/// A procedure of these steps, which begin on line 4.
fn check_steps(steps: &str, expected: &[&str]) -> Library {
    check(&format!("---\ntitle: T\nsteps:\n{steps}\n---\n"), expected)
}

fn check_safety(text: &str, expected: &[&str]) -> Library {
    let expected: Vec<String> = expected.iter().map(|one| format!("safety.yaml:{one}")).collect();
    check_library(&[("safety.yaml", text)], &expected.iter().map(String::as_str).collect::<Vec<_>>())
}

fn p(library: &Library) -> &Procedure {
    library.procedure(&Id::new("p")).expect("the library has the procedure `p`")
}

fn answers(library: &Library) -> Vec<String> {
    match &p(library).steps[0].kind {
        StepKind::Ask(question) => question.answers.iter().map(|one| one.text.as_ref().expect("a text").value.clone()).collect(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_worked_example_reads_without_a_finding() {
    let library = check(MARKS, &[]);
    let procedure = p(&library);
    assert_eq!(procedure.steps.len(), 13);
    assert_eq!(procedure.status, Status::Released);
    assert_eq!(procedure.revision.as_ref().map(|one| one.value), Some(4));
    assert_eq!(procedure.faults.len(), 3);
    let StepKind::Measure(gap) = &procedure.steps[2].kind else { panic!("`gap` is a measurement") };
    let Sorting::Bands(bands) = &gap.sorting else { panic!("`gap` has bands") };
    assert!(matches!(bands[0].limit.as_ref().map(|limit| &limit.value.value), Some(LimitValue::Number(_, None))));
    assert!(bands[1].limit.is_none());
}

#[test]
fn the_other_examples_of_the_format_read_without_a_finding() {
    let files = [
        ("safety.yaml", include_str!("reading/safety.yaml")),
        ("equipment.yaml", include_str!("reading/equipment.yaml")),
        ("procedures/p.md", include_str!("reading/measuring.md")),
    ];
    let library = check_library(&files, &[]);
    let catalogue = &library.catalogue;
    assert_eq!((catalogue.conditions.len(), catalogue.hazards.len(), catalogue.parts.len()), (4, 1, 1));
    let cooled = catalogue.condition(&Id::new("cooled")).expect("it is in the catalogue");
    assert_eq!(cooled.takes.as_ref().map(|takes| &takes.value), Some(&Takes::Seconds(1800)));
    assert_eq!(cooled.name.as_ref().map(|name| name.value.as_str()), Some("Fuser below 48 °C"));
    assert!(cooled.shown_by.as_ref().is_some_and(|range| range.unit.as_str() == "°C" && range.from.is_none()));
    assert_eq!((library.equipment.models[0].figures.len(), library.equipment.models[0].repeats.len()), (2, 2));
    let StepKind::Measure(gap) = &p(&library).steps[0].kind else { panic!("`gap` is a measurement") };
    let Sorting::Match(matching) = &gap.sorting else { panic!("`gap` matches a table") };
    assert_eq!((matching.parts.len(), matching.several.is_some(), matching.none.is_some()), (2, true, true));
    let StepKind::Measure(memory) = &p(&library).steps[1].kind else { panic!("`page-memory` is a measurement") };
    assert_eq!((memory.readings.len(), memory.formula.is_some()), (4, true));
    assert!(memory.readings[2].whole && memory.readings[2].unit.is_none());
}

#[test]
fn maps_from_ids_need_a_value_for_each() {
    check_steps(
        "  a: { do: x, not-touching: { fuser: , drum: only names it }, not-changing: { on: '' } }",
        &["4:31 key-missing", "4:79 key-missing"],
    );
    let library = check_steps("  a: { by-model: { one: b, two: , others: b } }", &["4:28 key-missing"]);
    let StepKind::ByModel(by_model) = &p(&library).steps[0].kind else { panic!("a choice by model") };
    assert!(by_model.ways.len() == 1 && by_model.others.is_some());
    let library = check_steps("  a: { carry-out: t, outcomes: { done: b, not-done: { then: c, when: [f] }, half: } }", &[]);
    let StepKind::CarryOut(carry_out) = &p(&library).steps[0].kind else { panic!("another procedure") };
    assert_eq!(carry_out.outcomes.iter().map(|way| way.then.is_some()).collect::<Vec<_>>(), [true, true, false]);
}

#[test]
fn one_long_line_is_read_in_one_pass() {
    let symptoms = "a,".repeat(100_000);
    let links = "[a](b) ".repeat(100_000);
    let library = check(&format!("---\ntitle: T\nsymptoms: [{symptoms}]\nsteps: {{ a: {{ do: x }} }}\n---\n{links}\n"), &[]);
    assert_eq!(p(&library).symptoms.len(), 100_000);
    let links = &p(&library).body.introduction.links;
    assert_eq!((links.len(), links[99_999].at.column), (100_000, 699_994));
}

#[test]
fn the_body_is_cut_at_level_two_headings_with_an_id() {
    let library = check(MARKS, &[]);
    let body = &p(&library).body;
    assert_eq!(body.introduction.blocks.len(), 1);
    assert_eq!(body.sections.iter().map(|one| one.heading.as_str()).collect::<Vec<_>>(), ["Is the distance even?", "Measure the gap"]);
    let look = &body.sections[0];
    let words: Vec<&str> = look.blocks.iter().map(|one| one.value.as_str()).collect();
    let expected = [
        "Is the distance even?",
        "Lay the page beside a steel rule.",
        "Mark the first spot.",
        "Mark the next one.",
        "Leave faint ones out.",
        "In other words",
        "Spot",
        "Next",
        "1",
        "76",
        "Two spots on a page",
        "A steel rule, no tape.",
    ];
    assert_eq!(words, expected);
    assert!(look.numbered_list.is_some() && body.sections[1].numbered_list.is_none());
    assert_eq!(look.pictures.len(), 1);
    assert!(
        body.markdown[look.range.clone()].starts_with("## Is the distance") && body.markdown[look.range.clone()].ends_with(".png)\n\n")
    );
    let id = look.id.as_ref().expect("a section has an id");
    assert_eq!(&MARKS[id.at.start as usize..id.at.end as usize], "look");
}

#[test]
fn bare_words_are_texts() {
    let words = ["yes", "no", "on", "off", "y", "n", "null", "~", "010", "1.10", "1:30", "2024-01-01", "012", "1e3", "true"];
    let list: String = words.iter().map(|word| format!("      - {{ answer: {word}, then: a }}\n")).collect();
    let library = check_steps(&format!("  a:\n    ask: on\n    unsure: a\n    answers:\n{list}"), &[]);
    assert_eq!(answers(&library), words);
    check_steps(
        "  a: { measure: x, unit: mm, from: 0, to: 9, readings: { r: { ask: q, from: 0, to: 1, whole: yes } }, formula: r, bands: [{}] }",
        &["4:94 value-invalid"],
    );
    check("---\ntitle: T\nrevision: \"4\"\nsymptoms: spots\nsteps: { a: { do: x } }\n---\n", &["3:11 value-invalid", "4:11 value-invalid"]);
}

#[test]
fn an_empty_value_is_a_missing_one() {
    check("---\ntitle:\nsummary: \"\"\nfor: \nsteps: { a: { do: x, cautions: } }\n---\n", &["1:1 key-missing"]);
    check("---\ntitle: ''\n---\n", &["1:1 key-missing", "1:1 key-missing"]);
    check("---\n---\n", &["1:1 key-missing", "1:1 key-missing"]);
}

#[test]
fn front_matter_begins_the_file_and_is_closed() {
    check("# A page\n", &["1:1 front-matter-missing"]);
    check("\n---\ntitle: T\n---\n", &["1:1 front-matter-missing"]);
    check("", &["1:1 front-matter-missing"]);
    check("---\ntitle: T\n", &["1:1 front-matter-invalid"]);
    check("--- \ntitle: T\nsteps: { a: { do: x } }\n---\t\n", &[]);
    check_library(&[("leaflets/about.md", "# About\n"), ("stop.md", "Stop.\n")], &[]);
    check_library(
        &[("leaflets/a.md", "---\ntitle: A\norder: x\ncolour: red\n---\n")],
        &["leaflets/a.md:3:8 value-invalid", "leaflets/a.md:4:1 unknown-key"],
    );
}

#[test]
fn yaml_is_one_document_without_anchors_aliases_and_tags() {
    check("---\na: &a [x]\nb: [*a, *a]\n---\n", &["2:4 front-matter-invalid", "3:5 front-matter-invalid", "3:9 front-matter-invalid"]);
    check("---\ntitle: !!str T\n---\n", &["2:8 front-matter-invalid"]);
    check("---\ntitle: T\n...\nx: y\n---\n", &["4:1 front-matter-invalid"]);
    check("---\n%YAML 1.1\n---\n", &["2:1 front-matter-invalid"]);
    check("---\nhello\n---\n", &["2:1 front-matter-invalid"]);
    check("---\n- a\n---\n", &["2:1 front-matter-invalid"]);
    check("---\n? [a]\n: b\n---\n", &["2:3 front-matter-invalid"]);
    check("---\ntitle: \"open\n---\n", &["2:8 front-matter-invalid"]);
    let library = check_library(
        &[("safety.yaml", "hazards: [\n"), ("equipment.yaml", "a: &x y\n")],
        &["equipment.yaml:1:4 front-matter-invalid", "safety.yaml:1:10 front-matter-invalid"],
    );
    assert!(library.catalogue.unreadable && library.equipment.unreadable);
    let many = format!("---\na: &a x\nb: [{}]\n---\n", "*a,".repeat(50_000));
    let (_, findings) = read(&[("library.yaml", LIBRARY), ("procedures/p.md", &many)]);
    assert!((2..20).contains(&findings.len()));
}

#[test]
fn a_tab_is_named_as_one() {
    let (library, findings) = read(&[("library.yaml", LIBRARY), ("procedures/p.md", "---\ntitle: T\nsteps:\n\ta: { do: x }\n---\n")]);
    assert_eq!(lines(&library, &findings), ["procedures/p.md:4:2 front-matter-invalid"]);
    assert!(findings.iter().any(|one| one.message.contains("tab")));
}

#[test]
fn keys_that_nobody_knows_are_errors_with_a_hint() {
    check_steps("  a: { do: x, cautoins: [y] }", &["4:15 unknown-key"]);
    let (_, findings) = read(&[("library.yaml", "title: T\ncolour: red\nrole: [x]\n"), ("procedures/p.md", SMALL)]);
    let helps: Vec<_> = findings.iter().filter_map(|one| one.help.as_deref()).collect();
    assert!(helps.contains(&"the nearest known key is `roles`"), "{helps:?}");
    check_steps("  a: { ask: x, answers: [{ answer: A, below: 3 }], person: skilled }", &["4:39 unknown-key", "4:52 unknown-key"]);
}

#[test]
fn keys_of_another_kind_are_wrong_values() {
    check_steps("  a: { ask: x, wait: 5 min }", &["4:16 value-invalid"]);
    check_steps("  a: { do: x, unsure: b, answers: [] }", &["4:15 value-invalid", "4:26 value-invalid"]);
    check_steps("  a: { carry-out: b, minutes: 3 }", &["4:22 value-invalid"]);
    check_steps("  a: { by-model: { others: b }, at-most: 3 }", &["4:33 value-invalid"]);
    // Of what kind the step is, is not this layer's to say; and then no key is on the wrong one.
    let library = check_steps("  a: { ask: x, do: y, wait: 5 min }\n  b: { minutes: 2 }\n  c:", &[]);
    let keys = |index: usize| match &p(&library).steps[index].kind {
        StepKind::Unclear(keys) => keys.iter().map(|key| key.value.clone()).collect::<Vec<_>>(),
        other => panic!("{other:?}"),
    };
    assert_eq!(keys(0), ["ask", "do"]);
    assert!(keys(1).is_empty() && keys(2).is_empty());
}

#[test]
fn values_outside_their_range_are_reported_at_the_value() {
    check_steps("  a: { do: x, minutes: -1 }", &["4:24 value-invalid"]);
    check_steps("  a: { do: x, minutes: 0, wait: 4 h, at-most: 99, otherwise: a }", &[]);
    check_steps("  a: { do: x, wait: 30 }", &["4:21 value-invalid"]);
    check_steps("  a: { do: x, wait: 241 min }", &["4:21 value-invalid"]);
    check_steps("  a: { do: x, at-most: 0 }", &["4:24 value-invalid"]);
    check_steps("  a: { do: x, at-most: 100, least: expert }", &["4:24 value-invalid", "4:36 value-invalid"]);
    check_steps("  a: { do: x, cautions: hot }", &["4:25 value-invalid"]);
    check_steps("  a: { ask: x, answers: [{ answer: A, when: f }, { then: a }] }", &["4:45 value-invalid", "4:50 key-missing"]);
    check(
        "---\ntitle: T\nstatus: relesed\nkind: job\nreview-by: 2027-02-30\nsteps: { a: { do: x } }\n---\n",
        &["3:9 value-invalid", "4:7 value-invalid", "5:12 value-invalid"],
    );
    check("---\ntitle: T\nfaults: { f: { weight: 0 }, g: { weight: 0.5 } }\nsteps: { a: { do: x } }\n---\n", &["3:24 value-invalid"]);
}

#[test]
fn measurements_have_unit_range_and_bands() {
    check_steps("  a: { measure: x }", &["4:3 key-missing", "4:3 key-missing", "4:3 key-missing", "4:3 key-missing"]);
    check_steps(
        "  a: { measure: x, unit: parsec, from: 1e1, to: 2, bands: [] }",
        &["4:26 value-invalid", "4:40 value-invalid", "4:59 value-invalid"],
    );
    check_steps("  a: { measure: x, unit: none, from: 0, to: 2, bands: [{ then: a }] }", &[]);
    let band = "{ then: a },";
    check_steps(&format!("  a: {{ measure: x, unit: mm, from: 0, to: 2, bands: [{}] }}", band.repeat(40)), &[]);
    check_steps(&format!("  a: {{ measure: x, unit: mm, from: 0, to: 2, bands: [{}] }}", band.repeat(41)), &["4:53 value-invalid"]);
    let matching = |table: &str| {
        format!(
            "  a:\n    measure: x\n    unit: mm\n    from: 0\n    to: 2\n    match: {{ table: {table}, within: 1, parts: {{ drum: a }}, several: a, none: a }}"
        )
    };
    check_steps(&matching("repeats"), &[]);
    check_steps(&matching("others"), &["9:21 value-invalid"]);
    check_steps(
        "  a: { measure: x, unit: mm, from: 0, to: 2, bands: [{ below: 1e3 }, { up-to: memory }, { below: 9 MB }, { then: a }] }",
        &["4:63 value-invalid"],
    );
    check_steps(
        "  a: { measure: x, unit: mm, from: 0, to: 2, readings: { r: { ask: q, from: 1, to: 0 } }, bands: [{}] }",
        &["4:3 key-missing", "4:84 value-invalid"],
    );
}

#[test]
fn a_released_or_withdrawn_procedure_says_more() {
    let steps = "steps: { a: { do: x } }";
    check(&format!("---\ntitle: T\nstatus: released\n{steps}\n---\n"), &["1:1 key-missing", "1:1 key-missing", "1:1 key-missing"]);
    check(&format!("---\ntitle: T\nstatus: released\nrevision: 1\nowner: field service\nreview-by: 2027-01-31\n{steps}\n---\n"), &[]);
    check("---\ntitle: T\nstatus: withdrawn\n---\n", &["1:1 key-missing", "1:1 key-missing"]);
    check(
        "---\ntitle: T\nstatus: withdrawn\nreplaced-by: nothing\nwithdrawn-because: Machine scrapped\nsteps: { a: { colour: x } }\n---\n",
        &[],
    );
    check("---\ntitle: T\n---\n", &["1:1 key-missing"]);
}

#[test]
fn only_tasks_have_requires_and_outcomes() {
    check("---\ntitle: T\nrequires: [x]\noutcomes: [done]\nsteps: { a: { do: x } }\n---\n", &["3:1 value-invalid", "4:1 value-invalid"]);
    check("---\ntitle: T\nkind: task\nrequires: [x]\noutcomes: [done, half-done]\nsteps: { a: { do: x } }\n---\n", &[]);
    check("---\ntitle: T\nkind: task\noutcomes: [fixed]\nsteps: { a: { do: x } }\n---\n", &["4:12 bad-id"]);
}

#[test]
fn ids_are_judged_where_they_are_declared() {
    let library = check_steps(
        "  Look: { do: x, then: fixed }\n  l\u{043e}ok: { do: x, then: Look }\n  several: { do: x }",
        &["4:3 bad-id", "5:3 bad-id", "6:3 bad-id"],
    );
    assert!(p(&library).step(&Id::new("Look")).is_some());
    check_library(&[("procedures/Bad.md", SMALL)], &["procedures/Bad.md:1:1 bad-id"]);
    check_safety(
        "conditions: { a_b: {} }\nhazards: { 2x: {} }\nparts: { ok-1: {}, none: {} }\n",
        &["1:15 bad-id", "2:12 bad-id", "3:20 bad-id"],
    );
    check_library(
        &[("equipment.yaml", "models: { M: { figures: { a--b: 1 mm } } }\n"), ("stages.yaml", "stages: [{ id: X }]\n")],
        &["equipment.yaml:1:11 bad-id", "equipment.yaml:1:27 bad-id", "stages.yaml:1:16 bad-id"],
    );
}

#[test]
fn all_doubled_keys_of_a_file_are_found_with_both_places() {
    let text = "---\ntitle: T\ntitle: U\nsteps:\n  a: { do: x }\n  a: { do: y }\n  b: { do: x, do: y }\n---\n## One {#a}\n\n## Two {#a}\n";
    let library = check(text, &["3:1 duplicate-key", "6:3 duplicate-key", "7:15 duplicate-key", "11:10 duplicate-key"]);
    assert_eq!(p(&library).steps.len(), 2);
    let (_, findings) = read(&[("library.yaml", LIBRARY), ("procedures/p.md", text)]);
    let firsts: Vec<_> = findings.iter().map(|one| (one.also[0].0.line, one.subject.clone(), one.step.clone())).collect();
    let a = || Some(Id::new("a"));
    assert_eq!(firsts[0], (2, None, None));
    assert_eq!(firsts[1], (5, Some("a".to_owned()), a()));
    assert_eq!(firsts[2], (7, None, Some(Id::new("b"))));
    assert_eq!(firsts[3], (9, Some("a".to_owned()), a()));
}

#[test]
fn two_files_of_one_id_are_found() {
    check_library(&[("procedures/x/small.md", SMALL)], &["procedures/x/small.md:1:1 duplicate-procedure"]);
}

#[test]
fn a_text_cut_at_a_hash_is_an_error_and_a_comment_is_none() {
    check("---\ntitle: Tray # 5\nsummary: Tray #5\nsteps: { a: { do: x } }\n---\n", &["2:8 text-cut-short", "3:10 text-cut-short"]);
    check("---\ntitle: Tray  #5\nsteps: { a: { do: x } }\n---\n", &["2:8 text-cut-short"]);
    check("---\ntitle: Tray   # a comment\nsteps: { a: { do: x } } # x\nstatus: draft # x\n---\n", &[]);
    check("---\ntitle: \"Tray #5\" # quoted\nsummary: a#b\nsteps: { a: { do: x } }\n---\n", &[]);
    check("---\ntitle: #5 tray\nsteps: { a: { do: x } }\n---\n", &["2:8 text-cut-short"]);
    check_steps("  a:\n    do: Press the\n      button #5 twice", &["5:9 text-cut-short"]);
    check_steps("  a:\n    do: |\n      Press the button #5 twice", &[]);
}

#[test]
fn bytes_that_are_no_text_are_found() {
    let bytes = |bytes: &[u8]| {
        let mut folder = Folder::of([("library.yaml", LIBRARY), ("procedures/small.md", SMALL)]);
        folder.entries.insert("procedures/p.md".to_owned(), Entry::File(bytes.to_vec()));
        let (library, findings) = stepward::read::read(&folder);
        lines(&library, &findings)
    };
    assert_eq!(bytes("---\ntitle: Ä\u{0}".as_bytes()), ["procedures/p.md:2:9 not-utf8"]);
    assert_eq!(bytes(b"---\ntitle: \xc3\xa4 \xe4\n"), ["procedures/p.md:2:10 not-utf8"]);
    assert_eq!(bytes(SMALL.replace("title: T", "title: T\u{202e}").as_bytes()), ["procedures/p.md:2:9 not-utf8"]);
    assert_eq!(bytes(SMALL.as_bytes()), [""; 0]);
}

#[test]
fn nesting_size_and_number_are_bounded() {
    for nest in ["[", "{a: ", "- ", "? "] {
        for count in [5_000, 100_000] {
            let (library, findings) =
                read(&[("library.yaml", LIBRARY), ("procedures/p.md", &format!("---\nsteps:\n  {}x\n---\n", nest.repeat(count)))]);
            let found = lines(&library, &findings);
            assert!(found.len() == 1 && found[0].ends_with("too-deep"), "{nest} {found:?}");
        }
    }
    check(&format!("---\ntitle: {}{}\nsteps: {{ a: {{ do: x }} }}\n---\n", "[".repeat(63), "]".repeat(63)), &["2:8 value-invalid"]);
    check(&format!("---\ntitle: {}{}\n---\n", "[".repeat(64), "]".repeat(64)), &["2:71 too-deep"]);
    check(&format!("{SMALL}{}x\n", "> ".repeat(5_000)), &["5:129 too-deep"]);
    let steps = |count: usize| (0..count).map(|index| format!("  s{index}: {{ do: x }}\n")).collect::<String>();
    check_steps(&steps(10_000), &[]);
    check_steps(&steps(10_001), &["10004:3 too-deep"]);
    let big = format!("{SMALL}{}", "</script> words ".repeat(640_000));
    check(&big, &["1:1 too-deep"]);
    let mut folder = Folder::of([("library.yaml", LIBRARY), ("procedures/small.md", SMALL)]);
    folder.entries.insert("pictures/a.png".to_owned(), Entry::TooLarge(9 * 1024 * 1024));
    folder.entries.insert("safety.yaml".to_owned(), Entry::Outside);
    let (library, findings) = stepward::read::read(&folder);
    assert_eq!(lines(&library, &findings), ["pictures/a.png:1:1 too-deep", "safety.yaml:1:1 outside-library"]);
    assert!(library.catalogue.unreadable);
}

#[test]
fn paths_stay_in_the_library() {
    let words = "[a](../../x) ![y](%2e%2e/..%5cz)\n[b](../leaflets/a.md) [h](https://example.org/../..)\n";
    check(&format!("{SMALL}{words}"), &["5:1 outside-library", "5:14 outside-library"]);
    check_steps("  a: { do: x, picture: ../../a.png }\n  b: { do: x, picture: ../pictures/a.png }", &["4:24 outside-library"]);
}

#[test]
fn places_count_characters_and_see_through_marks_and_breaks() {
    let plain = "---\ntitle: Ü\nsteps: { a: { do: \"Ä😀\", wiat: 3 } }\n---\n\n## Über {#a}\n## Ü😀 {#a}\n";
    for text in [plain.to_owned(), plain.replace('\n', "\r\n"), format!("\u{feff}{plain}")] {
        let library = check(&text, &["3:25 unknown-key", "7:9 duplicate-key"]);
        assert_eq!(p(&library).title.as_ref().map(|one| one.value.as_str()), Some("Ü"));
    }
    check_library(&[("safety.yaml", "\u{feff}hazard: {}\r\n")], &["safety.yaml:1:1 unknown-key"]);
}

#[test]
fn the_catalogue_is_held_together() {
    check_safety("conditions: { a: { takes: 5 min }, b: { after: a, takes: warm-up } }\n", &["1:27 value-invalid"]);
    check_safety(
        "conditions:\n  a: { after: c }\n  b: { after: a }\n  c: { after: b }\n  d: { after: a }\n  e: { after: e }\n",
        &["2:15 value-invalid", "6:15 value-invalid"],
    );
    check_safety(
        "conditions:\n  a: {}\n  b: { after: a, takes: 5 min, clears: [a], must-clear: true }\nhazards: { h: { returns-with: [a, b] } }\n",
        &["3:32 value-invalid", "3:45 value-invalid", "4:35 value-invalid"],
    );
    check_safety("caution-within: { steps: 7, minutes: 15.5 }\n", &["1:26 value-invalid", "1:38 value-invalid"]);
    let library = check_safety("caution-within: { steps: 2, minutes: 0.5 }\n", &[]);
    assert_eq!((library.catalogue.caution_within.steps, library.catalogue.caution_within.seconds), (2, 30));
    check_safety("conditions: { a: { tried-out: yes, shown-by: { unit: mm } } }\n", &["1:31 value-invalid", "1:36 key-missing"]);
}

#[test]
fn roles_and_targets_are_known_to_the_library() {
    let owner = |name: &str| format!("---\ntitle: T\nowner: {name}\nwaivers: [{{ by: {name} }}]\nsteps: {{ a: {{ do: x }} }}\n---\n");
    check(&owner("safety"), &[]);
    check(&owner("safty"), &["3:8 value-invalid", "4:17 value-invalid"]);
    let task = "---\ntitle: T\nkind: task\nsteps: { a: { do: x, outcome: done } }\n---\n";
    let caller = "---\ntitle: T\nsteps:\n  a: { carry-out: small }\n  b: { do: x, outcome: referred, refer-to: task }\n  c: { do: x, outcome: referred, refer-to: by-code }\n---\n";
    check_library(
        &[("procedures/task.md", task), ("procedures/p.md", caller)],
        &["procedures/p.md:4:19 value-invalid", "procedures/p.md:5:44 value-invalid"],
    );
    // What a broken file is, nobody knows.
    let caller = "---\ntitle: T\nsteps: { a: { carry-out: broken } }\n---\n";
    check_library(
        &[("procedures/broken.md", "---\n[\n---\n"), ("procedures/p.md", caller)],
        &["procedures/broken.md:2:1 front-matter-invalid"],
    );
}

#[test]
fn settings_approvals_and_equipment_are_read() {
    check_library(
        &[("library.yaml", "language: de_CH\nsite: ftp://x\noffline-days: 0\nrules: { x: { severity: bad } }\n")],
        &[
            "library.yaml:1:1 key-missing",
            "library.yaml:1:11 value-invalid",
            "library.yaml:2:7 value-invalid",
            "library.yaml:3:15 value-invalid",
            "library.yaml:4:25 value-invalid",
        ],
    );
    let entry = "approvals:\n  - { procedure: p, revision: 1, digest: abc, by: safety, on: 2026-11-02 }\n";
    assert_eq!(check_library(&[("approvals.yaml", entry)], &[]).approvals.len(), 1);
    check_library(&[("approvals.yaml", "approvals:\n  - { procedure: p, by: nobody }\n")], &["approvals.yaml:2:5 key-missing"; 3]);
    let models = "models:\n  mono-desk:\n    figures: { memory: 128 MB, odd: 5 parsec }\n    repeats: { drum: 75.4 mm }\n";
    let library = check_library(&[("equipment.yaml", models)], &["equipment.yaml:3:37 value-invalid"]);
    assert_eq!(library.equipment.models[0].figures.len(), 1);
    let (library, findings) = read(&[("library.yaml", LIBRARY)]);
    assert_eq!(lines(&library, &findings), ["library.yaml:1:1 key-missing"]);
    assert!(findings.iter().all(|one| one.procedure.is_none()));
}

#[test]
fn ten_errors_are_ten_findings_and_hide_none_of_another_file() {
    let text = "---\ntitel: T\nkind: job\nstatus: old\nfor: all\nrevision: x\nreview-by: soon\nequipment: []\nsteps:\n  A: { do: x, wait: 5 }\n---\n";
    check(
        text,
        &[
            "1:1 key-missing",
            "2:1 unknown-key",
            "3:7 value-invalid",
            "4:9 value-invalid",
            "5:6 value-invalid",
            "6:11 value-invalid",
            "7:12 value-invalid",
            "8:12 value-invalid",
            "10:3 bad-id",
            "10:21 value-invalid",
        ],
    );
    check_library(
        &[("procedures/a.md", "---\n[\n---\n"), ("procedures/p.md", "---\ntitle: T\n---\n")],
        &["procedures/a.md:2:1 front-matter-invalid", "procedures/p.md:1:1 key-missing"],
    );
}

#[test]
fn a_file_that_is_wrong_throughout_has_a_thousand_findings() {
    let doubled = "a:\n".repeat(50_000);
    let unknown: String = (0..50_000).map(|index| format!("x{index}:\n")).collect();
    let items = "a: { b: c }\nsymptoms: [".to_owned() + &"{},".repeat(50_000) + "]\n";
    for yaml in [doubled, unknown, items] {
        let (_, findings) = read(&[("library.yaml", LIBRARY), ("procedures/p.md", &format!("---\n{yaml}---\n"))]);
        assert_eq!(findings.len(), 1_000);
    }
}

/// A small generator of our own (xorshift, Marsaglia 2003), so that the test needs no clock and repeats to the byte.
struct Dice(u64);

impl Dice {
    fn under(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % (most.max(1) as u64)).unwrap_or(0)
    }
}

#[test]
fn damaged_files_never_stop_the_reader() {
    let bits: [&[u8]; 12] = [b"[", b"{", b"\"", b": ", b"\n", b"- ", b"#", b"\t", b"\xff", b"\0", "😀".as_bytes(), b"---\n"];
    let safety = "conditions: { a: { after: b, takes: 5 min } }\nhazards: { h: { requires: [a] } }\ncaution-within: { steps: 3 }\n";
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    let mut found = 0;
    for _ in 0..3_000 {
        let mut bytes = MARKS.as_bytes().to_vec();
        for _ in 0..=dice.under(4) {
            let at = dice.under(bytes.len());
            let bit = bits[dice.under(bits.len())];
            match dice.under(4) {
                0 => bytes.truncate(at.max(1)),
                1 => drop(bytes.drain(at..(at + dice.under(80)).min(bytes.len()))),
                2 => drop(bytes.splice(at..at, bit.iter().copied())),
                _ => bytes[at] = u8::try_from(dice.under(256)).unwrap_or(0),
            }
        }
        let mut folder = Folder::of([("library.yaml", LIBRARY), ("safety.yaml", safety)]);
        let path = if dice.under(8) == 0 { "safety.yaml" } else { "procedures/p.md" };
        folder.entries.insert(path.to_owned(), Entry::File(bytes));
        let (library, findings) = stepward::read::read(&folder);
        found += lines(&library, &findings).len();
    }
    assert!(found > 3_000, "{found}");
}
