//! One exposure in words.

use crate::emit::counted;
use crate::emit::review::short::state;
use crate::emit::review::text::line;
use crate::emit::text::way;
use crate::finding::WayKind;
use crate::flow::coverage::{Cover, Exposure, Held, Setter};
use crate::model::library::Library;
use crate::text::id::Id;
use crate::text::quantity::duration_text;

pub(super) fn add(out: &mut String, library: &Library, procedure: &Id, exposure: &Exposure) {
    line(out, 1, &format!("{}: step `{}` meets `{}`{}", state(exposure), exposure.step, exposure.hazard, brought_by(exposure)));
    if !exposure.reachable {
        line(out, 2, "no way leads there");
        return;
    }
    line(out, 2, &format!("caution {}", cover(library, procedure, exposure)));
    for held in &exposure.conditions {
        line(out, 2, &condition(procedure, held));
    }
    if exposure.requires_waived {
        line(out, 2, "a waiver lifts what the hazard requires");
    }
    let waived = if exposure.least_waived { ", lifted by a waiver" } else { "" };
    line(
        out,
        2,
        &format!("at the machine: {} or better; the hazard asks for {}{waived}", exposure.person.as_str(), exposure.least.as_str()),
    );
    if !exposure.models.is_empty() {
        line(out, 2, &format!("only on {}", ids(&exposure.models)));
    }
    line(out, 2, &ways(exposure));
    if let Some(worst) = &exposure.worst {
        line(out, 2, "the worst way:");
        for words in way::lines(worst, library) {
            line(out, 2, &words);
        }
    }
}

fn brought_by(exposure: &Exposure) -> String {
    match (exposure.declared, exposure.parts.is_empty()) {
        (true, true) => String::new(),
        (true, false) => format!(" (declared, and by touching {})", ids(&exposure.parts)),
        (false, _) => format!(" (by touching {})", ids(&exposure.parts)),
    }
}

/// How the caution covers it, on the worst way.
pub fn cover(library: &Library, procedure: &Id, exposure: &Exposure) -> String {
    if !exposure.reachable {
        return "no way leads there".to_owned();
    }
    match &exposure.cover {
        Cover::Here => "shown at the step itself".to_owned(),
        Cover::Before { steps, seconds, at } => {
            format!(
                "shown at most {} and {} before, at {}",
                counted(*steps as usize, "step"),
                duration_text(*seconds),
                place(procedure, at)
            )
        }
        Cover::OutOfDate { at } => {
            let within = library.catalogue.caution_within;
            let last = at.as_ref().map(|at| format!(", last at {}", place(procedure, at))).unwrap_or_default();
            let most = format!("{} or {}", counted(within.steps as usize, "step"), duration_text(within.seconds));
            format!("shown longer ago than {most}{last}")
        }
        Cover::Missing => "not shown on every way".to_owned(),
    }
}

/// `step`, or `step` of another procedure.
fn place(procedure: &Id, (owner, step): &(Id, Id)) -> String {
    if owner == procedure { format!("`{step}`") } else { format!("`{step}` of `{owner}`") }
}

fn condition(procedure: &Id, held: &Held) -> String {
    let mut sources: Vec<String> = held.set_by.iter().map(|setter| set_by(procedure, setter)).collect();
    if held.from_start {
        sources.push("demanded of its callers".to_owned());
    }
    let sources = if sources.is_empty() { String::new() } else { format!(": {}", sources.join("; ")) };
    let state = if held.holds { "holds" } else { "does not hold on every way" };
    format!("`{}` {state}{sources}", held.condition)
}

pub(super) fn set_by(procedure: &Id, setter: &Setter) -> String {
    let place = place(procedure, &(setter.procedure.clone(), setter.step.clone()));
    match &setter.way {
        None => format!("set by {place}"),
        Some((_, Some(answer))) => format!("set by {place}, \"{answer}\""),
        Some((WayKind::Unsure, None)) => format!("set by {place}, cannot tell"),
        Some((_, None)) => format!("set by {place}"),
    }
}

/// `12 ways lead there, those round loops left out`.
fn ways(exposure: &Exposure) -> String {
    let verb = if exposure.ways == "1" { "way leads" } else { "ways lead" };
    let loops = if exposure.loops { ", those round loops left out" } else { "" };
    format!("{} {verb} there{loops}", exposure.ways)
}

pub(super) fn ids(list: &[Id]) -> String {
    list.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ")
}
