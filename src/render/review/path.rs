//! A way through a procedure, step by step with the answer given at each, every step a link to where it is followed.

use std::cell::RefCell;

use crate::finding::{WayKind, Witness, WitnessEntry};
use crate::render::escape;
use crate::render::review::Desk;
use crate::render::say::number;
use crate::text::id::Id;

/// The ways that a page has spelled out. A way is spelled out once; where it comes again stands a link to it.
#[derive(Default)]
pub struct Told {
    ways: RefCell<Vec<Witness>>,
}

/// A way behind its summary, or a link to where it was told before.
pub fn told(desk: &Desk<'_, '_>, told: &Told, witness: &Witness, summary: &str, open: bool) -> String {
    let mut ways = told.ways.borrow_mut();
    if let Some(index) = ways.iter().position(|known| known == witness) {
        return format!("<p class=\"told\"><a href=\"#way-{}\">{summary}</a></p>\n", index + 1);
    }
    ways.push(witness.clone());
    let (n, open) = (ways.len(), if open { " open" } else { "" });
    format!(
        "<details class=\"told\"{open}><summary>{summary}</summary><div id=\"way-{n}\" class=\"told__way\">{}</div></details>\n",
        path(desk, witness)
    )
}

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
    let class = if inner { " class=\"path__inner\"" } else { "" };
    let taken = taken(desk, entry).map(|words| format!(" <b>{words}</b>")).unwrap_or_default();
    format!("<li{class}><div>{} <small>{of}</small>{taken}</div></li>", desk.step_link(&entry.procedure, &entry.step))
}

/// The answer or what stands in its place; nothing where there is only one way on.
fn taken(desk: &Desk<'_, '_>, entry: &WitnessEntry) -> Option<String> {
    match (entry.way, &entry.answer) {
        (Some(WayKind::Outcome), Some(outcome)) => Some(desk.frame.outcome(&Id::from(outcome.as_str()))),
        (Some(WayKind::Part), Some(part)) if matches!(part.as_str(), "several" | "none") => Some(desk.frame.word("step", part)),
        (Some(WayKind::Part), Some(part)) => Some(desk.frame.part_title(&Id::from(part.as_str()))),
        (Some(WayKind::Model), Some(model)) if model == "others" => Some(desk.frame.word("step", "others")),
        (Some(WayKind::Model), Some(model)) => Some(desk.frame.model_title(&Id::from(model.as_str()))),
        (_, Some(answer)) => Some(escape::text(answer)),
        (Some(WayKind::Unsure), None) => Some(desk.frame.word("step", "unsure")),
        (Some(WayKind::Otherwise), None) => Some(desk.word("often-enough")),
        (Some(_) | None, None) => None,
    }
}
