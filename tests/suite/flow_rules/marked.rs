//! The same rules on files as authors write them: each finding at its line, and one cause one finding, those of the reader included.
//!
//! A comment `# expect: RULE` at the end of a line is a finding there; nothing else may be found.

use std::collections::BTreeSet;

use stepward::finding::Group;
use stepward::read::read;
use stepward::rules::{self, Context};
use stepward::text::folder::Folder;

/// The endings that every case leads to, and the words that end the front matter.
const ENDINGS: &str = "  close: { do: Close the call, outcome: no-fault }
  hand-over: { do: Keep the pages and book a visit, outcome: handed-over }
---
Words.
";

const EQUIPMENT: &str = "models:
  mono:
    name: Desk-side mono printer
    figures: { memory: 128 MB, cooling: 30 min }
    repeats: { drum: 75.4 mm }
  colour:
    name: Floor-standing colour printer
    figures: { memory: 512 MB }
    repeats: { drum: 94.2 mm }
";

fn check(what: &str, head: &str, steps: &str) {
    let marks = format!("---\ntitle: Marks\n{head}steps:\n{steps}{ENDINGS}");
    let isolate = "---\ntitle: Isolate\nkind: task\nequipment: [mono]\nsteps:\n  pull: { do: Pull the plug, outcome: done }\n---\n";
    let old = "---\ntitle: Old\nstatus: withdrawn\nreplaced-by: nothing\nwithdrawn-because: Never needed\n---\n";
    let files = [
        ("library.yaml", "title: Larkmere Libraries\n"),
        ("equipment.yaml", EQUIPMENT),
        ("procedures/broken.md", "---\nsteps: {\n---\n"),
        ("procedures/isolate.md", isolate),
        ("procedures/marks.md", &marks),
        ("procedures/old.md", old),
    ];
    let (library, mut findings) = read(&Folder::of(files));
    let misread: BTreeSet<_> = findings.iter().filter_map(|finding| finding.procedure.clone()).collect();
    let context = Context { library: &library, today: jiff::civil::date(2026, 6, 1), misread: &misread, remembered: None };
    for rule in rules::flow::CHECKS {
        rule(&context, &mut findings);
    }
    findings.sort(&library.sources);
    let here = |path: &str| path == "procedures/marks.md";
    let judged = findings.iter().filter(|finding| matches!(finding.rule.group, Group::Reading | Group::Flow));
    let found: Vec<String> = judged
        .filter(|finding| here(library.sources.path(finding.at.file)))
        .map(|finding| format!("{} {}", finding.at.line, finding.rule.name))
        .collect();
    let mut expected: Vec<String> = Vec::new();
    for (index, line) in marks.lines().enumerate() {
        let rules = line.split("  # expect: ").skip(1).flat_map(|rules| rules.split(", "));
        expected.extend(rules.map(|rule| format!("{} {rule}", index + 1)));
    }
    assert_eq!(found, expected, "{what}:\n{marks}");
}

#[test]
fn a_missing_key_is_found_at_the_key_of_its_mapping_and_a_wrong_value_at_the_value() {
    check(
        "questions",
        "start: lok  # expect: unknown-step\n",
        "  look:  # expect: unsure-missing
    ask: Is the page clean?
    answers:
      - { answer: \"Yes\", then: close }
      - answer: \"No\"  # expect: branch-without-action
      - answer: Never
        then: nowhere  # expect: unknown-step
      - answer: yes  # expect: duplicate-answer
        then: close
  again:  # expect: otherwise-missing, too-few-answers
    ask: Is it clean now?
    at-most: 2
    answers:
      - { answer: \"Yes\", then: close }
    unsure: hand-over
  what: { then: close }  # expect: step-kind-unclear
",
    );
    check(
        "measurements",
        "",
        "  gap:
    measure: Distance between two marks
    unit: mm
    from: 5
    to: 400
    bands:
      - then: close  # expect: bands-not-ascending
      - below: 65
        then: close
      - up-to: 6.5 cm  # expect: unit-mismatch
        then: close
      - up-to: 65  # expect: bands-not-ascending
        then: close
      - below: 500  # expect: bands-not-ascending
        then: close
    unsure: hand-over
  page:  # expect: step-without-words
    measure: Memory of the page
    unit: MB
    readings:
      width: { ask: Width, unit: mm, from: 0, to: 450 }
    formula: memory / width  # expect: formula-invalid
    from: 0
    to: 500
    bands:
      - { up-to: memory, then: close }  # expect: bands-not-ascending
      - then: close
    unsure: hand-over
",
    );
}

#[test]
fn ways_to_other_procedures_are_judged_at_their_names() {
    check(
        "leads",
        "equipment: [mono, mono-desk]  # expect: unknown-model\n",
        "  safe:
    carry-out: isolat  # expect: unknown-procedure
    outcomes: { done: close, not-done: hand-over }
  on:
    do: Go on
    outcome: referred
    refer-to: old  # expect: leads-to-withdrawn
  from: { do: Go on, outcome: referred }  # expect: refers-nowhere
  to: { do: Go on, outcome: refered, refer-to: broken }  # expect: unknown-outcome
  code:
    do: Read the code
    outcome: referred
    refer-to: by-code  # expect: code-nowhere
",
    );
    check(
        "models",
        "",
        "  split:  # expect: model-uncovered
    by-model: { mono: close }
  safe:
    carry-out: isolate  # expect: model-uncovered
    outcomes: { done: close, not-done: hand-over }
  left:  # expect: step-without-words
    measure: Time left
    unit: min
    readings:
      gone: { ask: Minutes gone, unit: min, from: 0, to: 60 }
    formula: cooling - gone
    from: 0
    to: 60
    bands:
      - { below: cooling, then: close }  # expect: model-uncovered
      - then: close
    unsure: hand-over
  gap:
    measure: Distance between two marks
    unit: cm
    from: 1
    to: 40
    match:
      table: repeats  # expect: unit-mismatch
      within: 0.2
      parts:
        drum: close
        fuser: close  # expect: model-uncovered, model-uncovered
      several: hand-over
      none: hand-over
    unsure: hand-over
",
    );
}

#[test]
fn what_the_reader_found_is_not_found_again() {
    check(
        "steps",
        "",
        "  look:
    ask: Is the page clean?
    answers:
      - answer: \"Yes\"
        thn: close  # expect: unknown-key
      - answer: \"No\"
        then: [close]  # expect: value-invalid
    unsur: hand-over  # expect: unknown-key
  again:
    aks: Is it clean now?  # expect: unknown-key
  tried:
    ask: Is it clean now?
    answers: none  # expect: value-invalid
    at-most: 0  # expect: value-invalid
    otherwise: close
    unsure: hand-over
  stop: text  # expect: value-invalid
  go:
    do: Go on
    outcme: fixed  # expect: unknown-key
  gap:
    measure: Distance between two marks
    unit: furlong  # expect: value-invalid
    from: 5
    to: 400
    bands:
      - { below: 65 mm, then: close }
      - { below: 1e3, then: close }  # expect: value-invalid
      - then: close
    unsure: hand-over
",
    );
    check(
        "readings",
        "",
        "  page:  # expect: step-without-words
    measure: Memory of the page
    unit: MB
    readings:
      width: { ask: Width, unit: mm, from: 1, to: wide }  # expect: value-invalid
    formula: memory / width / height  # expect: formula-invalid
    from: 0
    to: 5000
    bands:
      - then: close
    unsure: hand-over
",
    );
    check(
        "readings lost",
        "",
        "  page:  # expect: step-without-words
    measure: Memory of the page
    unit: MB
    readings:
      width: { ask: Width, unit: mm, from: 1, to: wide }  # expect: value-invalid
      height: 297  # expect: value-invalid
    formula: memory / width / height
    from: 0
    to: 5000
    bands:
      - then: close
    unsure: hand-over
  memory:  # expect: key-missing
    measure: Memory of the page
    unit: MB
    formula: memory / width
    from: 0
    to: 5000
    bands:
      - then: close
    unsure: hand-over
",
    );
    check(
        "a reading without its end",
        "",
        "  page:  # expect: step-without-words
    measure: Memory of the page
    unit: MB
    readings:
      width: { ask: Width, unit: mm, from: 1, to: wide }  # expect: value-invalid
    formula: memory / width
    from: 0
    to: 5000
    bands:
      - then: close
    unsure: hand-over
  safe:
    carry-out: [isolate]  # expect: value-invalid
    outcomes: { done: close }
",
    );
    check(
        "ways",
        "",
        "  split:
    by-model: { mono: close, colour: [close] }  # expect: value-invalid
  safe:
    carry-out: broken
    outcomes: { done: [close], not-done: hand-over }  # expect: value-invalid
",
    );
    check("outcomes", "kind: task\noutcomes: [\"\"]  # expect: value-invalid\n", "  pull: { do: Pull the plug, outcome: done }\n");
    check("kind", "kind: tsk  # expect: value-invalid\n", "  pull: { do: Pull the plug, outcome: done }\n");
    check(
        "a slip elsewhere in the step hides nothing",
        "",
        "  look:  # expect: unsure-missing
    ask: Is the page clean?
    minutes: -1  # expect: value-invalid
    answers:
      - { answer: \"Yes\", then: close }
      - { answer: \"No\", then: nowhere }  # expect: unknown-step
",
    );
}
