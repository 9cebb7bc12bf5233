//! What judging a large procedure costs, as a ratio against parsing its text. See `README.md` here.

use std::fmt::Write;
use std::hint::black_box;
use std::time::{Duration, Instant};

use granit_parser::Parser;
use jiff::civil::date;
use pulldown_cmark::{Options, Parser as Markdown};
use stepward::analyse::analyse;
use stepward::read::read;
use stepward::text::folder::{Entry, Folder};

const RUNS: usize = 50;

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
        let findings = analyse(library.clone(), reading.clone(), date(2026, 11, 2)).findings.len();
        println!("{name}: {steps} steps, {} bytes, 3^100 paths, {findings} findings", text.len());
        let floor = median(|| parse(&text));
        let reading_time = median(|| drop(black_box(read(&folder))));
        let judging = median(|| drop(black_box(analyse(library.clone(), reading.clone(), date(2026, 11, 2)))));
        println!("  floor    {floor:>10.1?}");
        println!("  reading  {reading_time:>10.1?}  {:>5.2} x floor", ratio(reading_time, floor));
        println!("  judging  {judging:>10.1?}  {:>5.2} x floor", ratio(judging, floor));
    }
}

fn ratio(of: Duration, to: Duration) -> f64 {
    of.as_secs_f64() / to.as_secs_f64()
}

fn median(mut run: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
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
