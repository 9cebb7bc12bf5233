//! Libraries of any size, the same for the same size: procedures of 25 and of 200 steps, tasks that they carry out, links, tables and pictures.
//!
//! The catalogue is the one that `stepward create` writes. Every procedure is released and approved, and passes every rule without an error.

use std::fmt::Write;

use jiff::civil::Date;
use stepward::model::procedure::Status;
use stepward::read::read;
use stepward::rules::approval::digest::Digests;
use stepward::text::folder::{Entry, Folder};

/// One task for so many procedures.
const A_TASK: usize = 40;
/// One procedure in so many is long.
const A_LONG: usize = 20;
/// One procedure in so many shows a picture.
const A_PICTURE: usize = 10;

/// Blocks of a look, a cure and a test in a procedure of 25 steps, and in one of 200.
const SHORT: usize = 5;
const LONG: usize = 63;

const ISOLATE: &str = include_str!("../../src/cli/create/isolate.md");
/// A grey dot: the smallest picture there is.
const PICTURE: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 8 8\" width=\"8\" height=\"8\"><circle cx=\"4\" cy=\"4\" r=\"3\" fill=\"#777\"/></svg>\n";

/// A library of `count` procedures, its tasks among them, approved on `day`.
pub fn library(count: usize, day: Date) -> Folder {
    let mut folder = Folder::of([
        ("library.yaml", "title: Print rooms of Larkmere Libraries\nlanguage: en\nroles: [field service, safety]\n"),
        ("safety.yaml", include_str!("../../src/cli/create/safety.yaml")),
        ("stop.md", include_str!("../../src/cli/create/stop.md")),
    ]);
    let tasks = count.div_ceil(A_TASK);
    let mut put = |path: String, text: String| folder.entries.insert(path, Entry::File(text.into_bytes()));
    for task in 0..tasks {
        let text = released(ISOLATE).replace("title: Isolate the printer", &format!("title: Isolate the printer, group {task}"));
        put(format!("procedures/isolate-{task}.md"), text);
    }
    for number in 0..count - tasks {
        put(format!("procedures/{}.md", id(number)), procedure(number, number % tasks, count - tasks));
        if number.is_multiple_of(A_PICTURE) {
            put(
                format!("pictures/dot-{number}.svg"),
                PICTURE.replace("r=\"3\"", &format!("r=\"{}.{:03}\"", 1 + number / 1000, number % 1000)),
            );
        }
    }
    approved(folder, day)
}

fn id(number: usize) -> String {
    format!("fault-{number:05}")
}

fn released(text: &str) -> String {
    text.replace("status: draft\n", "status: released\nrevision: 1\nreview-by: 2030-06-30\n")
}

/// The front matter and words of one procedure.
fn procedure(number: usize, task: usize, of: usize) -> String {
    let blocks = if number % A_LONG == A_LONG - 1 { LONG } else { SHORT };
    let mut text = format!(
        "---\ntitle: Fault number {number}\nsummary: The print shows mark {number} and comes out slowly.\nsymptoms: [mark {number} on the sheet, slow sheet {number}]\nfor: ordinary\nstatus: draft\n\
         owner: field service\nsupplies: [sealed packet of plain paper, fuser unit for this model]\nfaults:\n"
    );
    for block in 0..blocks {
        let _ = writeln!(text, "  cause-{block}: {{ name: Setting {block} is wrong, weight: {} }}", 10 + block % 7);
    }
    text.push_str(
        "  worn-fuser: { name: Worn fuser unit, weight: 15 }\n  other: { name: Anything else, weight: 3, comes-to: handed-over }\nsteps:\n",
    );
    let mut body =
        format!("\nBegin with a sheet that shows mark {number}. See also [a fault that looks alike]({}.md).\n", id((number + 1) % of));
    for block in 0..blocks {
        let next = if block + 1 == blocks { "technician".to_owned() } else { format!("look-{}", block + 1) };
        let _ = write!(
            text,
            "  look-{block}:\n    ask: Does line {block} of the settings sheet match the label on the packet?\n    minutes: 2\n    answers:\n      - {{ answer: \"Yes\", then: {next}, when: rest }}\n      \
             - {{ answer: \"No\", then: set-{block}, when: [cause-{block}] }}\n    unsure: hand-over\n  set-{block}:\n    do: Set line {block} to what the label says\n    cures: [cause-{block}]\n    \
             minutes: 1\n    then: try-{block}\n  try-{block}:\n    ask: Are three test pages free of the mark now?\n    minutes: 3\n    answers:\n      - {{ answer: \"Yes\", then: close, when: [fixed] }}\n      \
             - {{ answer: \"No\", then: {next}, when: [not-fixed] }}\n    unsure: hand-over\n"
        );
        if block % 2 == 0 {
            let _ = write!(
                body,
                "\n## Compare line {block} {{#look-{block}}}\n\nThe label on the packet gives a weight in grams for each square metre. Line {block} of the settings sheet shows the type of the tray.\n\n\
                 | Weight | Type |\n|---|---|\n| 80 g/m² | plain |\n| 120 g/m² | heavy |\n"
            );
        }
    }
    text.push_str(TAIL.replace("TASK", &format!("isolate-{task}")).trim_start_matches('\n'));
    if number.is_multiple_of(A_PICTURE) {
        text = text.replace("  take-out:\n", &format!("  take-out:\n    picture: pictures/dot-{number}.svg\n"));
    }
    released(&text) + "---\n" + &body + WORDS
}

const TAIL: &str = "
  technician:
    ask: Is a trained technician at the printer now?
    answers:
      - { answer: \"Yes\", then: make-safe, person: skilled }
      - { answer: \"No\", then: hand-over }
    unsure: hand-over
  make-safe:
    carry-out: TASK
    outcomes: { done: cool, not-done: leave-off }
  cool:
    do: Wait until the heat has gone
    wait-for: cooled
    then: take-out
  take-out:
    do: Take the fuser unit out
    touches: [fuser]
    cautions: [live-parts, hot-fuser]
    minutes: 5
    then: fit
  fit:
    do: Fit the new fuser unit
    touches: [fuser]
    cures: [worn-fuser]
    minutes: 5
    then: restore
  restore:
    do: Put the mains plug back into the socket and start the printer
    touches: [mains-lead]
    sets: [mains-on]
    minutes: 3
    then: check
  check:
    ask: Are three more test pages free of the mark?
    minutes: 3
    answers:
      - { answer: \"Yes\", then: close, when: [fixed] }
      - { answer: \"No\", then: hand-over, when: [not-fixed] }
    unsure: hand-over
  close:
    do: Write down what helped and close the call
    outcome: fixed
  hand-over:
    do: Keep the test pages and book a field visit
    outcome: handed-over
  leave-off:
    do: Leave every cover shut and tag the printer as not for use
    outcome: out-of-service
";

const WORDS: &str = "
## Let the heat go {#cool}

The plug stays out and in sight all the time. A reading with the thermometer ends the wait early only where the follower asks for one.

## Take the old unit out {#take-out}

The service manual for this model shows the latches and the order. It comes before anything that is said here.

Both green levers point up when the unit is free. It comes out level, and it is heavier at the back.

## Fit the new unit {#fit}

The new unit locks on both sides with a click.

## Give the printer its power back {#restore}

All covers are shut before the plug goes in. The printer needs about two minutes to get ready.
";

/// The library with an approval of everything released, by the role that does not own it.
fn approved(mut folder: Folder, day: Date) -> Folder {
    let (library, _) = read(&folder);
    let digests = Digests::of(&library, library.procedures.iter().map(|procedure| &procedure.id));
    let mut text = "approvals:\n".to_owned();
    for procedure in library.procedures.iter().filter(|procedure| procedure.status == Status::Released) {
        let owner = procedure.owner.as_ref().map(|owner| owner.value.as_str());
        let by = if owner == Some("safety") { "field service" } else { "safety" };
        let digest = digests.get(&procedure.id).expect("a digest of each");
        let _ = write!(text, "  - procedure: {}\n    revision: 1\n    digest: \"{digest}\"\n    by: {by}\n    on: {day}\n", procedure.id);
    }
    folder.entries.insert("approvals.yaml".to_owned(), Entry::File(text.into_bytes()));
    folder
}
