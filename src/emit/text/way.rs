//! A witness in words: step by step, with the answer given at each.

use crate::emit::clean;
use crate::finding::{WayKind, WitnessEntry};
use crate::model::library::Library;
use crate::model::step::StepKind;
use crate::text::id::Id;

/// One line a step. Steps of a procedure that is carried out stand indented under the step that carries it out.
pub fn in_words(witness: &[WitnessEntry], library: &Library) -> String {
    let lines = std::iter::once("one way that leads there:".to_owned()).chain(lines(witness, library));
    lines.collect::<Vec<_>>().join("\n")
}

/// The lines alone.
pub fn lines(witness: &[WitnessEntry], library: &Library) -> Vec<String> {
    let mut lines = Vec::new();
    let mut inside: Vec<&Id> = Vec::new();
    for entry in witness {
        enter(&mut inside, entry);
        let indent = "  ".repeat(inside.len());
        lines.push(format!("{indent}{}", step(entry, library)));
    }
    lines
}

/// Keeps track of the procedures that a way is inside of, outermost first; the last is that of the entry.
pub fn enter<'a>(inside: &mut Vec<&'a Id>, entry: &'a WitnessEntry) {
    match inside.iter().position(|id| **id == entry.procedure) {
        Some(depth) => inside.truncate(depth + 1),
        None => inside.push(&entry.procedure),
    }
}

/// One step and the way taken on from it, safe to print: `"Is it hot?" — Yes`.
pub fn step(entry: &WitnessEntry, library: &Library) -> String {
    format!("\"{}\"{}", clean::line(&title(entry, library)), taken(entry))
}

/// What a step is called where its id would say too little.
fn title(entry: &WitnessEntry, library: &Library) -> String {
    let step = library.procedure(&entry.procedure).and_then(|procedure| procedure.step(&entry.step));
    let Some(step) = step else { return entry.step.to_string() };
    match &step.kind {
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) => {
            step.text().filter(|text| !text.trim().is_empty()).map_or_else(|| entry.step.to_string(), |text| text.value.clone())
        }
        StepKind::CarryOut(carry_out) => match (&carry_out.name, library.procedure(&carry_out.procedure)) {
            (Some(name), _) => name.value.clone(),
            (None, Some(callee)) => callee.title().to_owned(),
            (None, None) => carry_out.procedure.to_string(),
        },
        StepKind::ByModel(_) => "Which model is it?".to_owned(),
        StepKind::Unclear(_) => entry.step.to_string(),
    }
}

fn taken(entry: &WitnessEntry) -> String {
    match (entry.way, &entry.answer) {
        (_, Some(answer)) => format!(" — {}", clean::line(answer)),
        (Some(WayKind::Unsure), None) => " — cannot tell".to_owned(),
        (Some(WayKind::Otherwise), None) => " — tried often enough".to_owned(),
        (Some(_) | None, None) => String::new(),
    }
}
