//! The proof on flows too large to be walked path by path, and on what only whole libraries show.

use std::fmt::Write;

use jiff::civil::date;
use stepward::analyse::{Verdict, analyse};
use stepward::finding::{Finding, WayKind};
use stepward::read::read;
use stepward::text::folder::{Entry, Folder};

const SAFETY: &str = include_str!("../../src/rules/example/safety.yaml");
const LIBRARY: &str = include_str!("../../src/rules/example/library.yaml");
const STOP: &str = include_str!("../../src/rules/example/stop.md");

fn judge(procedures: &[(&str, String)]) -> Verdict {
    let mut folder = Folder::of([("library.yaml", LIBRARY), ("safety.yaml", SAFETY), ("stop.md", STOP)]);
    for (id, text) in procedures {
        folder.entries.insert(format!("procedures/{id}.md"), Entry::File(text.as_bytes().to_vec()));
    }
    let (library, findings) = read(&folder);
    analyse(library, findings, date(2026, 11, 2))
}

fn said(verdict: &Verdict) -> Vec<String> {
    let line = |f: &Finding| {
        let step = f.step.as_ref().map_or("-", |step| step.as_str());
        let procedure = f.procedure.as_ref().map_or("-", |procedure| procedure.as_str());
        format!("{} {procedure} {step} {}", f.rule.name, f.subject.as_deref().unwrap_or("-"))
    };
    verdict.findings.iter().map(line).collect()
}

/// A hundred diamonds of three ways each: 3^100 paths. `age` steps after the last caution comes the exposure.
fn diamonds(age: usize) -> String {
    let mut text = "---\ntitle: Many ways\nsteps:\n".to_owned();
    for number in 0..100 {
        let _ = write!(
            text,
            "  ask-{number}:\n    ask: Which of three {number}?\n    minutes: 0\n    answers:\n      - {{ answer: A, then: left-{number} }}\n      - \
             {{ answer: B, then: right-{number} }}\n    unsure: ask-{next}\n  left-{number}: {{ do: Turn left, minutes: 0, then: ask-{next} }}\n  \
             right-{number}: {{ do: Turn right, minutes: 0, then: ask-{next} }}\n",
            next = number + 1
        );
    }
    text.push_str("  ask-100: { do: Read the sign aloud, minutes: 0, cautions: [toner-dust], then: walk-1 }\n");
    for number in 1..age {
        let _ = writeln!(text, "  walk-{number}: {{ do: Walk on, minutes: 0, then: walk-{} }}", number + 1);
    }
    let _ = writeln!(text, "  walk-{age}: {{ do: Pull the sheet, exposes: [toner-dust], then: end }}");
    let _ = write!(text, "  end: {{ do: Book a visit, outcome: handed-over }}\n---\n\n## Pull {{#walk-{age}}}\n\nSlowly.\n");
    text
}

#[test]
fn three_hundred_steps_and_three_to_the_hundred_paths_are_judged_at_both_sides_of_the_limit() {
    assert_eq!(said(&judge(&[("many", diamonds(6))])), Vec::<String>::new());
    let verdict = judge(&[("many", diamonds(7))]);
    assert_eq!(said(&verdict), ["caution-idle many ask-100 toner-dust", "caution-out-of-date many walk-7 toner-dust"]);
    let witness = verdict.findings.iter().find_map(|finding| finding.witness.clone()).unwrap();
    // the shortest way is to be unsure a hundred times: each question once, the caution, six steps, the failing one
    assert_eq!(witness.len(), 100 + 1 + 7);
    assert!(witness[..100].iter().all(|entry| entry.way == Some(WayKind::Unsure)));
}

/// Tasks that each carry out the next one twice: 2^60 steps if they were written out.
#[test]
fn deep_nesting_costs_no_more_than_its_parts() {
    let depth = 60;
    let mut procedures: Vec<(String, String)> = Vec::new();
    for number in 0..depth {
        let steps = format!(
            "  once: {{ carry-out: task-{next}, outcomes: {{ done: twice }} }}\n  twice: {{ carry-out: task-{next}, outcomes: {{ done: end }} }}\n  \
             end: {{ do: Go on, outcome: done }}\n",
            next = number + 1
        );
        procedures.push((format!("task-{number}"), format!("---\ntitle: Task\nkind: task\nsteps:\n{steps}---\n")));
    }
    let last = "---\ntitle: Last\nkind: task\nsteps:\n  on: { do: Switch on, sets: [mains-on], then: end }\n  end: { do: Go on, outcome: done }\n---\n";
    procedures.push((format!("task-{depth}"), last.to_owned()));
    let caller = "---\ntitle: Caller\nsteps:\n  warn: { do: Read the sign, cautions: [moving-parts], then: deep }\n  deep: { carry-out: task-50, \
                  outcomes: { done: pull } }\n  pull: { do: Pull the sheet, exposes: [moving-parts], then: end }\n  end: { do: Book a visit, \
                  outcome: handed-over }\n---\n\n## Pull {#pull}\n\nSlowly.\n";
    procedures.push(("caller".to_owned(), caller.to_owned()));
    let borrowed: Vec<(&str, String)> = procedures.iter().map(|(id, text)| (id.as_str(), text.clone())).collect();
    let verdict = judge(&borrowed);
    assert_eq!(said(&verdict), ["caution-idle caller warn moving-parts", "caution-missing caller pull moving-parts"]);
    let witness = verdict.findings.iter().find_map(|finding| finding.witness.clone()).unwrap();
    assert_eq!(witness.first().map(|entry| entry.step.as_str()), Some("warn"));
    // task-60 has 2 steps, each task above it twice as many and three of its own
    let steps = (50..60).fold(2, |steps, _| 2 * steps + 3);
    assert_eq!(witness.len(), 1 + 1 + steps + 1);
}

#[test]
fn a_chain_of_five_thousand_tasks_is_judged() {
    let size = 5_000;
    let mut procedures: Vec<(String, String)> = (0..size)
        .map(|number| {
            let steps =
                format!("  on: {{ carry-out: task-{}, outcomes: {{ done: end }} }}\n  end: {{ do: Go on, outcome: done }}\n", number + 1);
            (format!("task-{number}"), format!("---\ntitle: Task\nkind: task\nsteps:\n{steps}---\n"))
        })
        .collect();
    let last = "---\ntitle: Last\nkind: task\nsteps:\n  end: { do: Go on, outcome: done }\n---\n";
    procedures.push((format!("task-{size}"), last.to_owned()));
    let borrowed: Vec<(&str, String)> = procedures.iter().map(|(id, text)| (id.as_str(), text.clone())).collect();
    assert_eq!(said(&judge(&borrowed)), Vec::<String>::new());
}

#[test]
fn a_witness_names_the_ways_as_other_programs_read_them() {
    let text = "---\ntitle: Ways\nfor: skilled\nsteps:\n  warm:\n    measure: Temperature\n    unit: °C\n    from: 0\n    to: 250\n    bands:\n      - { up-to: 48, \
                then: end }\n      - { then: safe }\n    unsure: end\n  safe: { carry-out: lift, outcomes: { done: pull, not-done: end } }\n  pull: { do: Pull \
                the sheet, exposes: [toner-dust], then: end }\n  end: { do: Book a visit, outcome: handed-over }\n---\n\n## Pull {#pull}\n\nSlowly.\n";
    let lift = "---\ntitle: Lift\nkind: task\nsteps:\n  ask:\n    ask: Is it light?\n    answers:\n      - { answer: \"No\", then: leave }\n      - { answer: \
                \"Yes\", then: lift }\n    unsure: leave\n  lift: { do: Lift it, outcome: done }\n  leave: { do: Leave it, outcome: not-done }\n---\n";
    let verdict = judge(&[("ways", text.to_owned()), ("lift", lift.to_owned())]);
    assert_eq!(said(&verdict), ["caution-missing ways pull toner-dust"]);
    let witness = verdict.findings.iter().find_map(|finding| finding.witness.clone()).unwrap();
    let words: Vec<String> = witness
        .iter()
        .map(|entry| {
            let way = entry.way.map_or("-", WayKind::as_str);
            format!("{}/{} {way} {}", entry.procedure, entry.step, entry.answer.as_deref().unwrap_or("-"))
        })
        .collect();
    assert_eq!(words, ["ways/warm band the rest", "ways/safe outcome done", "lift/ask answer Yes", "lift/lift next -", "ways/pull - -"]);
}
