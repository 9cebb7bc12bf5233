//! What judging a large procedure costs, as a ratio against parsing its text. See `README.md` here.

#[path = "support/timing.rs"]
mod timing;

use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;

use granit_parser::Parser;
use jiff::civil::{Date, date};
use pulldown_cmark::{Options, Parser as Markdown};
use stepward::analyse::analyse;
use stepward::finding::rule::Severity;
use stepward::read::read;
use stepward::text::folder::{Entry, Folder};
use stepward::text::id::Id;

use crate::timing::median;

const RUNS: usize = 50;
const DAY: Date = date(2026, 11, 2);

fn main() {
    for (name, age) in [("safe on every path", 6), ("one caution too late", 7)] {
        let text = procedure(age);
        let mut folder = Folder::of([
            ("library.yaml", include_str!("../src/rules/example/library.yaml")),
            ("safety.yaml", include_str!("../src/rules/example/safety.yaml")),
            ("stop.md", include_str!("../src/rules/example/stop.md")),
        ]);
        folder.entries.insert("procedures/many.md".to_owned(), Entry::File(text.clone().into_bytes()));
        let (library, reading) = read(&folder);
        let steps = library.procedures[0].steps.len();
        let findings = analyse(library.clone(), reading.clone(), DAY).findings.len();
        println!("{name}: {steps} steps, {} bytes, 3^100 paths, {findings} findings", text.len());
        let floor = median(RUNS, || {}, || parse(&text));
        let reading_time = median(RUNS, || {}, || drop(black_box(read(&folder))));
        let judging = median(RUNS, || {}, || drop(black_box(analyse(library.clone(), reading.clone(), DAY))));
        println!("  floor    {floor:>10.1?}");
        println!("  reading  {reading_time:>10.1?}  {:>5.2} x floor", ratio(reading_time, floor));
        println!("  judging  {judging:>10.1?}  {:>5.2} x floor", ratio(judging, floor));
    }
    growth();
}

/// Procedures that grow, with many hazards and many tasks carried out: how the time to judge grows with the number of steps.
fn growth() {
    let mut first: Option<(usize, Duration)> = None;
    for blocks in [25, 75, 250, 750, 2_499] {
        let (library, reading) = read(&large(blocks));
        let steps = library.procedure(&Id::from("large")).expect("it is there").steps.len();
        let verdict = analyse(library.clone(), reading.clone(), DAY);
        let findings: Vec<_> = verdict.findings.iter().filter(|finding| finding.severity == Severity::Error).collect();
        assert!(findings.is_empty() && verdict.not_analysed.is_empty(), "{:?}", findings.first());
        let runs = if steps > 1_000 { 3 } else { 9 };
        let judging = median(runs, || {}, || drop(black_box(analyse(library.clone(), reading.clone(), DAY))));
        let (few, little) = *first.get_or_insert((steps, judging));
        let power = if steps == few { 1.0 } else { ratio(judging, little).ln() / (steps as f64 / few as f64).ln() };
        println!("{steps:>6} steps, {HAZARDS} hazards, {TASKS} tasks: judging {judging:>9.1?}, growth since {few} steps n^{power:.2}");
    }
}

const HAZARDS: usize = 50;
const TASKS: usize = 100;

/// In each block a question, a step with a hazard, one without, and a task carried out.
fn large(blocks: usize) -> Folder {
    let mut safety = "conditions:\n  isolated: { name: Plug out and tried, tried-out: true }\nhazards:\n".to_owned();
    for hazard in 0..HAZARDS {
        let requires = if hazard % 3 == 0 { ", requires: [isolated]" } else { "" };
        let _ = writeln!(
            safety,
            "  h{hazard}: {{ name: Hazard {hazard}, kind: dust, sign: M016, signal-word: caution, nature: Number {hazard} is near., consequence: It hurts., avoid: Keep away., \
             place: bay {hazard}{requires}, least: ordinary, words: [hazard number {hazard} here] }}"
        );
    }
    safety.push_str("caution-within: { steps: 6, minutes: 15 }\n");
    let mut text = "---\ntitle: A large procedure\nsteps:\n".to_owned();
    for block in 0..blocks {
        let (hazard, task) = (block % HAZARDS, block % TASKS);
        let next = if block + 1 == blocks { "end".to_owned() } else { format!("ask-{}", block + 1) };
        let _ = write!(
            text,
            "  ask-{block}:\n    ask: Which of two is it, number {block}?\n    answers:\n      - {{ answer: A, then: call-{block} }}\n      - \
             {{ answer: B, then: plain-{block} }}\n    unsure: plain-{block}\n  call-{block}: {{ carry-out: task-{task}, outcomes: {{ done: work-{block}, not-done: left }} }}\n  \
             work-{block}: {{ do: Work at place {block}, minutes: 1, cautions: [h{hazard}], exposes: [h{hazard}], then: {next} }}\n  \
             plain-{block}: {{ do: Look at sheet {block}, minutes: 1, then: {next} }}\n"
        );
    }
    text.push_str("  left: { do: Keep it shut, outcome: out-of-service }\n  end: { do: Book a visit, outcome: handed-over }\n---\n");
    let mut folder = Folder::of([
        ("library.yaml", include_str!("../src/rules/example/library.yaml")),
        ("safety.yaml", safety.as_str()),
        ("stop.md", include_str!("../src/rules/example/stop.md")),
        ("procedures/large.md", text.as_str()),
    ]);
    for task in 0..TASKS {
        let text = include_str!("../src/rules/example/isolate.md").replace("status: released", "status: draft");
        folder.entries.insert(format!("procedures/task-{task}.md"), Entry::File(text.into_bytes()));
    }
    folder
}

fn ratio(of: Duration, to: Duration) -> f64 {
    of.as_secs_f64() / to.as_secs_f64()
}

/// The floor: the same libraries over the same text, nothing kept.
fn parse(text: &str) {
    let (front, body) = text[4..].split_once("\n---\n").expect("front matter");
    assert!(Parser::new_from_str(front).all(|event| black_box(event).is_ok()));
    Markdown::new_ext(body, Options::ENABLE_TABLES).into_offset_iter().for_each(|event| drop(black_box(event)));
}

fn procedure(age: usize) -> String {
    let mut text = "---\ntitle: Many ways\nsteps:\n".to_owned();
    let mut body = String::new();
    for number in 0..100 {
        let next = number + 1;
        let _ = write!(
            text,
            "  ask-{number}:\n    ask: Which of three {number}?\n    minutes: 0\n    answers:\n      - {{ answer: A, then: left-{number} }}\n      - \
             {{ answer: B, then: right-{number} }}\n    unsure: ask-{next}\n  left-{number}: {{ do: Turn left, minutes: 0, then: ask-{next} }}\n  \
             right-{number}: {{ do: Turn right, minutes: 0, then: ask-{next} }}\n"
        );
        let _ = write!(body, "\n## Question {number} {{#ask-{number}}}\n\nLook at the sheet from the left and say what you see.\n");
    }
    text.push_str("  ask-100: { do: Read the sign aloud, minutes: 0, cautions: [toner-dust], then: walk-1 }\n");
    for number in 1..age {
        let _ = writeln!(text, "  walk-{number}: {{ do: Walk on, minutes: 0, then: walk-{} }}", number + 1);
    }
    let _ = writeln!(text, "  walk-{age}: {{ do: Pull the sheet, exposes: [toner-dust], then: end }}");
    let _ = write!(text, "  end: {{ do: Book a visit, outcome: handed-over }}\n---\n{body}\n## Pull {{#walk-{age}}}\n\nSlowly.\n");
    text
}
