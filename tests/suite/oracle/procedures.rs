//! The procedures of a random library: tasks that carry each other out, then fault finding that carries out tasks.

use std::fmt::Write as _;

use crate::oracle::generate::{Names, few, listed};
use crate::oracle::steps::{self, Draft};
use crate::support::random::Random;

/// A task as its callers see it.
pub struct Task {
    pub id: String,
    /// Outcomes of its endings, reached or not.
    pub ends: Vec<String>,
    /// All that it may use.
    pub outcomes: Vec<String>,
}

/// Id and text of each.
pub fn all(random: &mut Random, names: &Names) -> Vec<(String, String)> {
    let mut made = Vec::new();
    let mut tasks: Vec<Task> = Vec::new();
    let some_models = !names.models.is_empty() && random.one_in(3);
    // Names that do not follow the order of calls.
    let stem = *random.pick(&["b-task", "y-task"]);
    for index in 0..random.below(3) {
        let id = if random.one_in(2) { format!("{stem}{index}") } else { format!("a{}-task", 9 - index) };
        let (text, task) = task(random, names, &id, &tasks, some_models);
        made.push((id, text));
        tasks.push(task);
    }
    for index in 0..=random.below(2) {
        let id = format!("p{index}");
        let text = fault_finding(random, names, &id, &tasks, some_models);
        made.push((id, text));
    }
    made
}

fn task(random: &mut Random, names: &Names, id: &str, tasks: &[Task], some_models: bool) -> (String, Task) {
    let custom = random.one_in(3);
    let outcomes: Vec<String> = if custom { ["good", "bad", "odd"] } else { ["done", "not-done", ""] }.map(str::to_owned).to_vec();
    let outcomes: Vec<String> = outcomes.into_iter().filter(|outcome| !outcome.is_empty()).collect();
    let draft = Draft { task: true, outcomes: &outcomes, tasks, count: 2 + random.below(4) };
    let written = steps::all(random, names, &draft);
    let mut head = format!("title: Task {id}\nkind: task\n");
    if custom {
        let _ = writeln!(head, "outcomes: [{}]", outcomes.join(", "));
    }
    if random.one_in(2) {
        let requires = few(random, &names.conditions, 2);
        if !requires.is_empty() {
            let _ = writeln!(head, "requires: [{}]", requires.join(", "));
        }
    }
    if some_models {
        let _ = writeln!(head, "equipment: [{}]", names.some_models.join(", "));
    }
    person(random, &mut head);
    let text = file(random, &head, &written);
    (text, Task { id: id.to_owned(), ends: written.ends, outcomes })
}

fn fault_finding(random: &mut Random, names: &Names, id: &str, tasks: &[Task], some_models: bool) -> String {
    let outcomes = ["fixed", "no-fault", "other-machine", "handed-over", "out-of-service", "referred"].map(str::to_owned);
    let draft = Draft { task: false, outcomes: &outcomes, tasks, count: 3 + random.below(6) };
    let written = steps::all(random, names, &draft);
    let mut head = format!("title: Fault {id}\n");
    let only = if some_models { few(random, &names.some_models, 3) } else { few(random, &names.models, 3) };
    let only = if some_models && only.is_empty() { names.some_models.clone() } else { only };
    if !only.is_empty() {
        let _ = writeln!(head, "equipment: [{}]", only.join(", "));
    }
    person(random, &mut head);
    file(random, &head, &written)
}

fn person(random: &mut Random, head: &mut String) {
    if random.one_in(2) {
        let _ = writeln!(head, "for: {}", random.pick(&["instructed", "skilled", "ordinary"]));
    }
}

fn file(random: &mut Random, head: &str, written: &steps::Written) -> String {
    let mut text = format!("---\n{head}faults: {{ f0: {{ name: A fault }} }}\nowner: field service\n");
    waivers(random, &mut text, written);
    if random.one_in(6) {
        let _ = writeln!(text, "start: s{}", random.below(written.lines.len().min(2)));
    }
    text.push_str("steps:\n");
    for line in &written.lines {
        let _ = writeln!(text, "  {line}");
    }
    text.push_str("---\n");
    for step in &written.worded {
        let _ = writeln!(text, "\n## Words {{#{step}}}\n\nAs it says.");
    }
    text
}

/// Waivers of exposures that the steps have; some of them are over.
fn waivers(random: &mut Random, text: &mut String, written: &steps::Written) {
    let mut list = String::new();
    for (step, hazard) in &written.exposures {
        if random.one_in(6) {
            let of = random.pick(&["requires", "least"]);
            let until = if random.one_in(4) { "2026-01-01" } else { "2026-12-01" };
            let _ = writeln!(list, "  - {{ step: {step}, hazard: {hazard}, of: {of}, reason: A demo, by: safety review, until: {until} }}");
        }
    }
    if !list.is_empty() {
        let _ = write!(text, "waivers:\n{list}");
    }
}

/// The keys by which a way changes conditions.
pub fn effects(random: &mut Random, names: &Names, often: usize) -> String {
    let mut keys = String::new();
    if random.one_in(often) {
        keys.push_str(&listed("sets", &few(random, &names.conditions, 2)));
    }
    if random.one_in(2 * often) {
        keys.push_str(&listed("clears", &few(random, &names.conditions, 1)));
    }
    keys
}
