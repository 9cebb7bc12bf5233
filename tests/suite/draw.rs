//! A chart alone: what `draw` prints, what is left out of it and said, and what lenses show.

use std::collections::BTreeSet;

use stepward::build::pipeline;
use stepward::model::catalogue::Person;
use stepward::model::library::Library;
use stepward::render::chart_svg::lens::{self, Lens, LensKind};

use crate::support::command::Place;

const SAFETY: &str = "hazards:
  heat: { name: Hot roller, kind: hot-surface, place: inside, signal-word: caution, nature: It is hot., consequence: Burns., avoid: Wait., spoken: Wait. }
  dust: { name: Loose dust, kind: dust, place: inside, signal-word: notice, nature: It flies., consequence: Dirt., avoid: Wipe., spoken: Wipe. }
";
const EQUIPMENT: &str = "models:\n  small: { name: Small model }\n  big: { name: Big model }\n";
const MARKS: &str = "---
title: \"Marks \\\\ \\\"here\\\" <b>\"
status: draft
revision: 3
owner: service
review-by: 2027-06-30
faults:
  nick: { name: A nick, weight: 2 }
  dirt: { name: Dirt, weight: 1 }
  other: { name: Else, weight: 1, comes-to: handed-over }
steps:
  look:
    ask: What is it?
    answers:
      - { answer: A nick, then: swap, when: [nick] }
      - { answer: Dirt, then: which, when: { dirt: 0.9, nick: 0 } }
      - { answer: Neither, then: book, when: rest }
    unsure: book
  which: { by-model: { small: wipe, others: rest } }
  wipe: { do: Wipe it, exposes: [dust], cautions: [dust], cures: [dirt], then: check }
  rest: { do: Leave it to rest, wait: 1 min, then: fetch }
  fetch:
    ask: Is a technician there?
    answers:
      - { answer: \"Yes\", then: deep, person: skilled }
      - { answer: \"No\", then: book }
    unsure: book
  deep: { do: Clean it deep inside, least: skilled, exposes: [heat], cautions: [heat], cures: [dirt], then: check }
  swap: { carry-out: swapping, cures: [nick], outcomes: { done: check, not-done: book } }
  check:
    ask: Is it gone?
    at-most: 2
    otherwise: book
    answers:
      - { answer: \"Yes\", then: close, when: [fixed] }
      - { answer: \"No\", then: look, when: [not-fixed] }
    unsure: book
  close: { do: Close the call, outcome: fixed }
  book: { do: Book a visit, outcome: handed-over }
---
";
const SWAPPING: &str = "---
title: Swapping
kind: task
status: draft
revision: 1
owner: service
review-by: 2027-06-30
steps:
  take: { do: Take it out, exposes: [heat], cautions: [heat], then: done }
  done: { do: Go on, outcome: done }
---
";

fn place() -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [service, safety]\n");
    place.write("lib/safety.yaml", SAFETY);
    place.write("lib/equipment.yaml", EQUIPMENT);
    place.write("lib/procedures/marks.md", MARKS);
    place.write("lib/procedures/swapping.md", SWAPPING);
    place
}

fn library() -> Library {
    let disk = stepward::build::disk::Disk { today: jiff::civil::date(2026, 11, 2) };
    pipeline::verify(&disk, &place().path("lib")).expect("a library").library
}

fn steps(lens: &Lens) -> Vec<&str> {
    lens.steps.iter().map(|step| step.as_str()).collect()
}

#[test]
fn a_fault_takes_the_answers_it_gives_and_is_cured_where_it_is_cured() {
    let library = library();
    let marks = library.procedure(&"marks".into()).expect("there");
    // Before its cure no `fixed`, after it no `not-fixed`; never the way of a doubt or of a step tried too often.
    assert_eq!(steps(&lens::fault(marks, &"nick".into())), ["book", "check", "close", "look", "swap"]);
    let ways: BTreeSet<String> = lens::fault(marks, &"nick".into()).ways.iter().map(|(step, way)| format!("{step}.{way}")).collect();
    assert_eq!(ways.iter().map(String::as_str).collect::<Vec<_>>(), ["check.1", "look.0", "swap.0", "swap.1"]);
    assert_eq!(steps(&lens::fault(marks, &"dirt".into())), ["book", "check", "close", "deep", "fetch", "look", "rest", "which", "wipe"]);
    assert_eq!(steps(&lens::fault(marks, &"other".into())), ["book", "look"]);
}

#[test]
fn models_persons_and_hazards_show_their_own_steps() {
    let library = library();
    let marks = library.procedure(&"marks".into()).expect("there");
    assert!(!lens::model(&library, marks, &"small".into()).steps.iter().any(|step| ["rest", "fetch", "deep"].contains(&step.as_str())));
    assert!(!lens::model(&library, marks, &"big".into()).steps.iter().any(|step| *step == "wipe"));
    assert!(!steps(&lens::person(&library, marks, Person::Ordinary)).contains(&"deep"));
    // The check leads back to the beginning with the technician still there.
    assert_eq!(lens::person(&library, marks, Person::Skilled).steps.len(), marks.steps.len());
    assert!(lens::person(&library, marks, Person::Instructed).steps.is_empty());
    // What shows everything or nothing is not offered.
    let offered: Vec<String> =
        lens::lenses(&library, marks).into_iter().filter(|lens| lens.kind == LensKind::Person).map(|lens| lens.id).collect();
    assert_eq!(offered, ["ordinary"]);
    // What is carried out meets it, so the step that carries it out does.
    assert_eq!(steps(&lens::hazard(&library, marks, &"heat".into())), ["deep", "swap"]);
    assert_eq!(steps(&lens::hazard(&library, marks, &"dust".into())), ["wipe"]);
}

#[test]
fn drawings_say_what_they_leave_out_and_that_they_are_not_for_use() {
    let place = place();
    let whole = place.run(&["draw", "marks", "--library", "lib"]);
    assert_eq!(whole.status, 0, "{}", whole.err);
    assert!(whole.err.starts_with("Not for use: it is not released"), "{}", whole.err);
    assert!(whole.out.contains(">Not for use: it is not released") && whole.out.contains("marks, revision 3, draft. Print rooms."));
    assert!(whole.out.contains(">NOTICE: Loose dust<") && whole.out.contains(">CAUTION: Hot roller<"));
    for never in ["href", "<script", "url(", "var(", "@media", "data-sign=\"\"", "<a "] {
        assert!(!whole.out.contains(never), "{never}");
    }
    let small = place.run(&["draw", "marks", "--library", "lib", "--model", "small"]);
    assert!(small.out.contains("Only the ways of this model are drawn: Small model.") && !small.out.contains("data-step=\"deep\""));
    let dust = place.run(&["draw", "marks", "--library", "lib", "--hazard", "dust"]);
    assert!(dust.out.contains("Only the signs of this hazard are drawn: Loose dust.") && dust.out.contains("data-step=\"deep\""));
    assert!(!dust.out.contains("Hot roller"), "another hazard's sign");
    assert!(dust.out.contains("chart__node--aside\" data-step") || dust.out.contains("chart__node--aside\" id="));
    let again = place.run(&["draw", "marks", "--library", "lib"]);
    assert_eq!(whole.out, again.out);
}

#[test]
fn what_cannot_be_drawn_is_named() {
    let place = place();
    for (words, said) in [
        (&["draw", "mark", "--library", "lib"][..], "there is no procedure `mark`; did you mean `marks`?"),
        (
            &["draw", "marks", "--library", "lib", "--model", "zzzzzz"],
            "there is no model of this procedure `zzzzzz`; there are `small`, `big`",
        ),
        (&["draw", "marks", "--library", "lib", "--hazard", "hea"], "did you mean `heat`?"),
        (&["draw", "marks", "--library", "lib", "--hazard", "heat", "--model", "big"], "cannot be used with"),
        (&["draw", "marks"], "library"),
        (&["draw"], "PROCEDURE"),
    ] {
        let ran = place.run(words);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{words:?}: {}", ran.err);
        assert!(ran.err.contains(said), "{words:?}: {}", ran.err);
    }
}

#[test]
fn a_broken_flow_is_drawn_as_far_as_it_goes() {
    let place = place();
    place.write("lib/procedures/marks.md", &MARKS.replace("then: swap, when", "then: nowhere, when"));
    let ran = place.run(&["draw", "marks", "--library", "lib", "--as", "dot"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.err.contains("the library has") && ran.out.starts_with("digraph \"marks\" {"), "{}", ran.err);
    assert!(!ran.out.contains("nowhere"));
}

#[test]
fn a_legend_holds_what_occurs_and_nothing_else() {
    let library = library();
    let legend = |id: &str| stepward::render::chart_svg::legend(&library, library.procedure(&id.into()).expect("there"));
    let (marks, swapping) = (legend("marks"), legend("swapping"));
    for words in ["Question: one way", "carried out", "can damage things", "can injure", "exposes you", "cannot tell", "or waits", "Action"]
    {
        assert!(marks.contains(words), "{words}");
    }
    assert!(!marks.contains("Measurement") && !marks.contains("kill") && !marks.contains("Goes on in another"));
    assert!(!swapping.contains("Question") && !swapping.contains("cannot tell") && !swapping.contains("damage"));
}
