//! Comparing two libraries: every kind of change, what is no change, renames, behaviour, git revisions.

mod behaviour;
mod git;
mod library;
mod mutations;

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::date;
use stepward::analyse::{Verdict, analyse};
use stepward::compare::kind::{self, Area};
use stepward::compare::{Comparison, Judged, compare};
use stepward::read::read;
use stepward::text::folder::{Entry, Folder};

const DAY: jiff::civil::Date = date(2026, 11, 24);

fn judge(folder: &Folder) -> Verdict {
    let (library, findings) = read(folder);
    analyse(library, findings, DAY)
}

/// Compares two folders, pictures by their bytes.
pub fn compared(old: &Folder, new: &Folder) -> Comparison {
    let pictures = |folder: &Folder| {
        let picture = |(path, entry): (&String, &Entry)| match entry {
            Entry::File(bytes) if path.starts_with("pictures/") => Some((path.clone(), format!("{bytes:?}"))),
            _ => None,
        };
        folder.entries.iter().filter_map(picture).collect::<BTreeMap<_, _>>()
    };
    let (before, after) = (judge(old), judge(new));
    let (left, right) = (pictures(old), pictures(new));
    fn judged<'a>(verdict: &'a Verdict, pictures: &'a BTreeMap<String, String>) -> Judged<'a> {
        Judged { library: &verdict.library, findings: &verdict.findings, not_analysed: &verdict.not_analysed, pictures }
    }
    compare(judged(&before, &left), judged(&after, &right))
}

fn base() -> Folder {
    Folder::of(library::FILES)
}

/// The small library with the first occurrence of a text in a file replaced.
#[track_caller]
fn edited(path: &str, from: &str, to: &str) -> Folder {
    let mut folder = base();
    let Some(Entry::File(bytes)) = folder.entries.get_mut(path) else { panic!("no file {path}") };
    let text = String::from_utf8(bytes.clone()).expect("UTF-8");
    assert!(text.contains(from), "`{from}` is not in {path}");
    *bytes = text.replacen(from, to, 1).into_bytes();
    folder
}

fn names(comparison: &Comparison) -> BTreeSet<&'static str> {
    comparison.changes.iter().map(|change| change.kind.name).collect()
}

const MARKS: &str = "procedures/marks.md";
const TASK: &str = "procedures/isolate.md";

/// File, what is replaced, by what, the kind that must be told, and the kind that must be told the other way round (the same edit taken back).
const EDITS: &[(&str, &str, &str, &str, &str)] = &[
    (MARKS, "    cautions: [toner]\n", "", "caution-lost", "caution-added"),
    (MARKS, "touches: [drum]\n    cautions: [toner]", "touches: [drum]", "exposure-unproven", "exposure-proven"),
    (MARKS, "touches: [drum]\n    cautions: [toner]", "touches: [drum]", "finding-new", "finding-gone"),
    (MARKS, "    touches: [drum]\n", "", "touch-lost", "touch-added"),
    (MARKS, "    touches: [drum]\n", "", "exposure-gone", "exposure-new"),
    (MARKS, "then: test }\n  test:", "then: test, sets: [isolated] }\n  test:", "effect-added", "effect-lost"),
    (MARKS, "wait: 10 min", "wait: 5 min", "wait-cut", "wait-grown"),
    (MARKS, "wait-for: cooled", "wait: 30 min", "wait-changed", "wait-changed"),
    (MARKS, "    requires: [isolated]\n", "", "requirement-lost", "requirement-added"),
    (MARKS, "at-most: 2", "at-most: 3", "limit-raised", "limit-lowered"),
    (MARKS, "for: ordinary", "for: skilled", "for-raised", "for-lowered"),
    (MARKS, "    least: skilled\n", "", "least-lowered", "least-raised"),
    (MARKS, ", person: skilled", "", "person-unclaimed", "person-claimed"),
    (MARKS, "when: [fixed]", "when: [nick]", "check-changed", "check-changed"),
    (MARKS, "cures: [nick]\n", "cures: [nick]\n    not-touching: { fuser: only named }\n", "denial-new", "denial-gone"),
    (MARKS, "cures: [nick]\n", "cures: [scar]\n", "cures-changed", "cures-changed"),
    (
        MARKS,
        "      - { below: 65, then: technician, when: [scar] }",
        "      - { below: 65, then: drum, when: [scar] }",
        "target-changed",
        "target-changed",
    ),
    (MARKS, "below: 65", "below: 70", "values-moved", "values-moved"),
    (MARKS, "below: 65, then: technician,", "below: 66, then: technician, sets: [bridged],", "effect-of-values", "effect-of-values"),
    (MARKS, "    to: 400", "    to: 300", "range-changed", "range-changed"),
    (MARKS, "    unit: mm", "    unit: cm", "measured-otherwise", "measured-otherwise"),
    (
        MARKS,
        "      - { answer: \"No\", then: hand-over }\n    unsure: hand-over\n  gap",
        "      - { answer: \"No\", then: hand-over }\n      - { answer: Now and then, then: leave }\n    unsure: hand-over\n  gap",
        "way-new",
        "way-gone",
    ),
    (
        MARKS,
        "answer: \"No\", then: hand-over }\n    unsure: hand-over\n  gap",
        "answer: No or never, then: hand-over }\n    unsure: hand-over\n  gap",
        "answer-reworded",
        "answer-reworded",
    ),
    (MARKS, "steps:\n", "start: gap\nsteps:\n", "start-changed", "start-changed"),
    (MARKS, "outcome: out-of-service", "outcome: handed-over", "outcome-changed", "outcome-changed"),
    (MARKS, "carry-out: isolate", "carry-out: marks", "carries-out-other", "carries-out-other"),
    (MARKS, "  leave: {", "  extra: { do: Sweep the whole floor, then: leave }\n  leave: {", "step-new", "step-gone"),
    (MARKS, "  leave: {", "  extra: { do: Sweep the whole floor, outcome: no-fault }\n  leave: {", "ending-new", "ending-gone"),
    (
        MARKS,
        "do: Let the dust settle, wait: 10 min, then: test",
        "ask: Let the dust settle, answers: [{ answer: a, then: test }, { answer: b, then: test }], unsure: test",
        "step-kind-changed",
        "step-kind-changed",
    ),
    (MARKS, "Replace the fuser unit", "Replace the old fuser unit", "text-changed", "text-changed"),
    (MARKS, "Keep it from light.", "Keep it from bright light.", "section-changed", "section-changed"),
    (MARKS, "title: Marks repeat", "title: Marks come back", "heading-changed", "heading-changed"),
    (MARKS, "minutes: 15", "minutes: 14", "minutes-changed", "minutes-changed"),
    (MARKS, "cost: 3", "cost: 4", "cost-changed", "cost-changed"),
    (MARKS, "tools: [steel rule]", "tools: [tape]", "detail-changed", "detail-changed"),
    (MARKS, "[repeating marks]", "[spots]", "symptoms-changed", "symptoms-changed"),
    (MARKS, "[\"1203\"]", "[\"1204\"]", "codes-changed", "codes-changed"),
    (MARKS, "weight: 40", "weight: 41", "fault-changed", "fault-changed"),
    (MARKS, "when: [scar]", "when: { scar: 0.5 }", "when-changed", "when-changed"),
    (MARKS, "status: released", "status: in-review", "status-changed", "procedure-released"),
    (MARKS, "for: ordinary", "equipment: [desk]\nfor: ordinary", "models-changed", "models-changed"),
    (MARKS, "    do: Change the drum\n", "    do: Read every number of the panel aloud to the caller\n", "id-reused", "id-reused"),
    (TASK, ", sets: [isolated]", "", "ends-less-safe", "ends-otherwise"),
    (TASK, ", sets: [isolated]", "", "condition-not-held", "condition-held"),
    (TASK, "Hold the plug by its body.", "Hold it by its body.", "callee-changed", "callee-changed"),
    (TASK, "kind: task\n", "kind: task\noutcomes: [done, not-done, half]\n", "outcomes-changed", "outcomes-changed"),
    ("safety.yaml", "    signal-word: warning", "    signal-word: notice", "signal-lowered", "signal-raised"),
    ("safety.yaml", "requires: [isolated, cooled]", "requires: [isolated]", "hazard-demand-lost", "hazard-demand-added"),
    ("safety.yaml", "    returns-with: [mains-on]\n", "", "hazard-return-lost", "hazard-return-added"),
    ("safety.yaml", "    least: skilled\n", "", "hazard-least-lowered", "hazard-least-raised"),
    ("safety.yaml", "Burns.", "Bad burns.", "hazard-text-changed", "hazard-text-changed"),
    ("safety.yaml", "    words: [hot roller]\n", "", "words-lost", "words-added"),
    ("safety.yaml", "takes: 30 min", "takes: 20 min", "takes-cut", "takes-grown"),
    ("safety.yaml", "takes: 30 min", "takes: cooling-time", "takes-changed", "takes-changed"),
    ("safety.yaml", "up-to: 48", "up-to: 60", "shown-by-widened", "shown-by-narrowed"),
    ("safety.yaml", "unit: °C, up-to", "unit: mm, up-to", "shown-by-changed", "shown-by-changed"),
    ("safety.yaml", "    tried-out: true\n", "", "tried-out-lost", "tried-out-added"),
    ("safety.yaml", "    must-clear: true\n", "", "must-clear-lost", "must-clear-added"),
    ("safety.yaml", "    clears: [isolated]\n", "", "condition-clears-lost", "condition-clears-added"),
    ("safety.yaml", "    after: isolated\n", "", "after-changed", "after-changed"),
    ("safety.yaml", "name: Power is back", "name: Power is there", "condition-name-changed", "condition-name-changed"),
    ("safety.yaml", "hazards: [toner]", "hazards: []", "part-hazard-lost", "part-hazard-added"),
    ("safety.yaml", "  drum: { name: Drum, hazards: [toner], words: [drum] }\n", "", "part-gone", "part-new"),
    ("safety.yaml", "  bridged:\n    name: Switch bridged\n    must-clear: true\n", "", "condition-gone", "condition-new"),
    ("safety.yaml", "steps: 5", "steps: 6", "caution-within-raised", "caution-within-lowered"),
    ("library.yaml", "offline-days: 14", "offline-days: 15", "offline-days-raised", "offline-days-lowered"),
    ("library.yaml", "language: en", "language: de", "language-changed", "language-changed"),
    (
        "library.yaml",
        "language: en\n",
        "language: en\nrules: { step-without-words: { severity: note, reason: short steps } }\n",
        "rule-lowered",
        "rule-raised",
    ),
    ("library.yaml", "title: Larkmere", "title: The Larkmere", "setting-changed", "setting-changed"),
    ("equipment.yaml", "90 mm", "91 mm", "figure-changed", "figure-changed"),
    ("equipment.yaml", "Tarnwood D30", "Tarnwood D31", "model-changed", "model-changed"),
    ("stages.yaml", "melts toner", "melts the toner", "stage-changed", "stage-changed"),
    ("stop.md", "Call the", "Ring the", "stop-card-changed", "stop-card-changed"),
];

#[test]
fn every_edit_is_told_by_its_kind_both_ways() {
    let old = base();
    let mut wrong = Vec::new();
    for (path, from, to, there, back) in EDITS {
        let new = edited(path, from, to);
        for (before, after, kind) in [(&old, &new, there), (&new, &old, back)] {
            let comparison = compared(before, after);
            if !names(&comparison).contains(kind) || comparison.same() {
                wrong.push(format!("{path}: `{from}` -> `{to}`: {kind} is not in {:?}", names(&comparison)));
            }
            // What is told as safety stands first.
            let areas: Vec<Area> = comparison.changes.iter().map(|change| change.kind.area).collect();
            assert!(areas.is_sorted(), "{path}: {areas:?}");
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn kinds_are_ranked_by_area_and_have_one_name_each() {
    let all: BTreeSet<&str> = kind::ALL.iter().map(|kind| kind.name).collect();
    assert_eq!(all.len(), kind::ALL.len());
    assert!(kind::ALL.is_sorted_by_key(|kind| (kind.area, kind.turn, kind.rank)));
}

#[test]
fn the_same_library_and_a_reformatted_one_have_no_change_in_meaning() {
    assert!(compared(&base(), &base()).same());
    // Wrapped otherwise, other marks of a list, quotes, a comment, other spaces: nothing of it means anything.
    let edits = [
        (MARKS, "- under a cloth\n- in its bag", "* under a\n  cloth\n\n* in its bag"),
        (MARKS, "Take it out by its green handle. Keep it from light.", "Take it out by\nits green\nhandle.  Keep it from light."),
        (MARKS, "symptoms: [repeating marks]", "symptoms:\n  - 'repeating marks' # a comment"),
        (
            MARKS,
            "title: Marks repeat down the page\nsummary: The same mark comes back.",
            "summary: The same mark comes back.\ntitle: Marks repeat down the page",
        ),
        ("safety.yaml", "avoid: Let it cool.", "avoid: \"Let it cool.\""),
        ("stop.md", "# Stop\n\nCall the fire service.", "Stop\n====\n\nCall the fire\nservice."),
    ];
    for (path, from, to) in edits {
        let comparison = compared(&base(), &edited(path, from, to));
        assert!(comparison.same(), "{path}: {to}: {:?}", comparison.changes);
    }
}

#[test]
fn two_answers_that_exchange_where_they_lead_come_first() {
    let new = edited(
        MARKS,
        "\"Yes\", then: gap, when: rest }\n      - { answer: \"No\", then: hand-over",
        "\"Yes\", then: hand-over, when: rest }\n      - { answer: \"No\", then: gap",
    );
    let comparison = compared(&base(), &new);
    assert_eq!(comparison.changes[0].kind.name, "targets-swapped", "{:?}", comparison.changes);
    assert!(!names(&comparison).contains("target-changed"));
}

#[test]
fn a_renamed_step_is_recognised_and_listed() {
    let mut new = base();
    let text = library::MARKS.replace("rest-a-while", "settle");
    new.entries.insert(MARKS.to_owned(), Entry::File(text.into_bytes()));
    let comparison = compared(&base(), &new);
    assert_eq!(names(&comparison), ["step-renamed"].into(), "{:?}", comparison.changes);
    assert_eq!(comparison.matched.len(), 1);
    assert_eq!((comparison.matched[0].old.as_str(), comparison.matched[0].new.as_str()), ("rest-a-while", "settle"));
}

#[test]
fn a_renamed_procedure_and_hazard_are_recognised() {
    let mut new = Folder::default();
    for (path, text) in library::FILES {
        let text = text.replace("carry-out: isolate", "carry-out: make-safe").replace("hot-fuser", "fuser-heat");
        new.entries.insert(path.replace("isolate", "make-safe"), Entry::File(text.into_bytes()));
    }
    // Approved as they stand: what is new under its new name has been reviewed.
    let approved = |folder: Folder| stepward::rules::example::signed(folder, |_| true);
    let comparison = compared(&approved(base()), &approved(new));
    assert_eq!(names(&comparison), ["callee-changed", "entry-renamed", "procedure-renamed"].into(), "{:?}", comparison.changes);
}

#[test]
fn what_is_broken_is_named_as_not_compared() {
    let comparison = compared(&base(), &edited(MARKS, "then: gap", "then: nowhere"));
    assert!(names(&comparison).contains("finding-new"));
    let left = &comparison.not_compared;
    assert_eq!((left.len(), left[0].procedure.as_ref().map(|id| id.as_str())), (1, Some("marks")), "{left:?}");
}
