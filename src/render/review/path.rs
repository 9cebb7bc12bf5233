//! A way through a procedure, step by step with the answer given at each, every step a link to where it is followed.

use crate::finding::{WayKind, WitnessEntry};
use crate::render::escape;
use crate::render::review::Desk;
use crate::render::say::number;
use crate::text::id::Id;

/// An ordered list; its numbers are those of the marks in a drawing. Steps of a procedure that is carried out are set in.
pub fn path(desk: &Desk<'_, '_>, witness: &[WitnessEntry]) -> String {
    let mut inside: Vec<&Id> = Vec::new();
    let mut items = String::new();
    for entry in witness {
        match inside.iter().position(|id| **id == entry.procedure) {
            Some(depth) => inside.truncate(depth + 1),
            None => inside.push(&entry.procedure),
        }
        items.push_str(&item(desk, entry, inside.len() > 1));
    }
    format!("<ol class=\"path\">{items}</ol>\n")
}

fn item(desk: &Desk<'_, '_>, entry: &WitnessEntry, inner: bool) -> String {
    let owner = desk.procedure(&entry.procedure);
    let n = owner.map_or(0, |procedure| number(procedure, &entry.step)).to_string();
    let of = if inner {
        desk.frame.fill("step", "step-n-of", &[("n", &n), ("procedure", owner.map_or("", |owner| owner.title()))])
    } else {
        desk.frame.fill("step", "step-n", &[("n", &n)])
    };
    let class = if inner { "path__step path__step--inner" } else { "path__step" };
    let taken = taken(desk, entry).map(|words| format!(" <span class=\"path__taken\">{words}</span>")).unwrap_or_default();
    format!(
        "<li class=\"{class}\"><span class=\"path__words\">{} <span class=\"path__where\">{of}</span>{taken}</span></li>",
        desk.step_link(&entry.procedure, &entry.step)
    )
}

/// The answer or what stands in its place; nothing where there is only one way on.
fn taken(desk: &Desk<'_, '_>, entry: &WitnessEntry) -> Option<String> {
    match (entry.way, &entry.answer) {
        (Some(WayKind::Outcome), Some(outcome)) => Some(desk.frame.outcome(&Id::from(outcome.as_str()))),
        (Some(WayKind::Model), Some(model)) => Some(desk.frame.model_title(&Id::from(model.as_str()))),
        (_, Some(answer)) => Some(escape::text(answer)),
        (Some(WayKind::Unsure), None) => Some(desk.frame.word("step", "unsure")),
        (Some(WayKind::Otherwise), None) => Some(desk.word("often-enough")),
        (Some(_) | None, None) => None,
    }
}
