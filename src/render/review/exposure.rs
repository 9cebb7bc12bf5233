//! Every exposure of a procedure, hazard by hazard: how it is covered, what holds, who is at the machine, and the worst way there.

use crate::flow::coverage::{Cover, Coverage, Exposure, Held, Setter};
use crate::model::catalogue::Hazard;
use crate::model::procedure::Procedure;
use crate::render::escape;
use crate::render::review::cell::{self, State};
use crate::render::review::matrix::tally;
use crate::render::review::path::{Told, told};
use crate::render::review::{Desk, exposure_anchor, hazard_anchor};
use crate::render::say::{items, number};
use crate::text::id::Id;
use crate::text::quantity::duration_text;

/// One group for each hazard met, the most severe first.
pub fn groups(desk: &Desk<'_, '_>, procedure: &Procedure, coverage: &Coverage, ways: &Told) -> String {
    desk.review.hazards().into_iter().map(|hazard| group(desk, procedure, coverage, hazard, ways)).collect()
}

fn group(desk: &Desk<'_, '_>, procedure: &Procedure, coverage: &Coverage, hazard: &Hazard, ways: &Told) -> String {
    let own: Vec<&Exposure> = coverage.exposures.iter().filter(|exposure| exposure.hazard == hazard.id).collect();
    if own.is_empty() {
        return String::new();
    }
    let count = tally(desk, crate::emit::review::Tally::of(own.iter().copied()));
    let place = hazard.where_at.as_ref().map(|place| format!("<p class=\"aside\">{}</p>\n", escape::text(place))).unwrap_or_default();
    let all: String = own.iter().map(|exposure| self::exposure(desk, procedure, exposure, ways)).collect();
    let anchor = hazard_anchor(&hazard.id);
    format!(
        "<section class=\"exposures\" id=\"{anchor}\" aria-labelledby=\"name-of-{anchor}\" tabindex=\"-1\">\n\
         <h3 class=\"exposures__name\" id=\"name-of-{anchor}\">{} {} <span class=\"exposures__tally\">{count}</span></h3>\n{place}{all}</section>\n",
        desk.signal(hazard),
        escape::text(hazard.title()),
    )
}

fn exposure(desk: &Desk<'_, '_>, procedure: &Procedure, exposure: &Exposure, ways: &Told) -> String {
    let anchor = exposure_anchor(&exposure.step, &exposure.hazard);
    let n = number(procedure, &exposure.step);
    let state = State::of(exposure);
    let step_word = desk.frame.word("step", "step");
    format!(
        "<article class=\"exposure exposure--{key}\" id=\"{anchor}\" aria-labelledby=\"name-of-{anchor}\">\n\
         <p class=\"exposure__number\" aria-hidden=\"true\"><span>{step_word}</span> {n}</p>\n<div class=\"exposure__body\">\n\
         <h4 class=\"exposure__name\" id=\"name-of-{anchor}\"><span class=\"out-of-sight\">{step_word} {n}, </span>{link}</h4>\n\
         <p class=\"exposure__state\">{state_words}</p>\n<dl class=\"exposure__facts\">{facts}</dl>\n{worst}</div>\n</article>\n",
        key = state.as_str(),
        link = desk.step_link(&procedure.id, &exposure.step),
        state_words = cell::state(desk, state),
        facts = facts(desk, procedure, exposure),
        worst = worst(desk, exposure, ways),
    )
}

fn facts(desk: &Desk<'_, '_>, procedure: &Procedure, exposure: &Exposure) -> String {
    let mut rows = vec![("brought-by", brought_by(desk, exposure))];
    if exposure.reachable {
        rows.push(("caution", cover(desk, &procedure.id, &exposure.cover)));
        if !exposure.conditions.is_empty() {
            let waived = exposure.requires_waived.then(|| desk.word("requires-waived"));
            rows.push(("conditions", items(exposure.conditions.iter().map(|held| self::held(desk, &procedure.id, held)).chain(waived))));
        }
        rows.push(("person", person(desk, exposure)));
        if !exposure.models.is_empty() {
            rows.push(("models", items(exposure.models.iter().map(|id| desk.frame.model_title(id)))));
        }
        rows.push(("ways", ways(desk, exposure)));
    }
    let row = |(key, markup): &(&str, String)| format!("<div><dt>{}</dt><dd>{markup}</dd></div>", desk.word(key));
    rows.iter().map(row).collect()
}

fn brought_by(desk: &Desk<'_, '_>, exposure: &Exposure) -> String {
    let declared = exposure.declared.then(|| desk.word("declared"));
    let parts: Vec<String> = exposure.parts.iter().map(|id| desk.frame.part_title(id)).collect();
    let touching = (!parts.is_empty()).then(|| format!("{} {}", desk.word("touching"), parts.join(", ")));
    declared.into_iter().chain(touching).collect::<Vec<_>>().join("; ")
}

/// How the caution covers it, on the worst way.
fn cover(desk: &Desk<'_, '_>, here: &Id, cover: &Cover) -> String {
    match cover {
        Cover::Here => desk.word("cover-here"),
        Cover::Before { steps, seconds, at: (owner, step) } => {
            let key = if *steps == 1 { "cover-step-before" } else { "cover-before" };
            let time = duration_text(*seconds);
            format!("{} {}", desk.fill(key, &[("n", &steps.to_string()), ("time", &time)]), desk.place(here, owner, step))
        }
        Cover::OutOfDate { at } => {
            let within = desk.review.library().catalogue.caution_within;
            let values = [("n", within.steps.to_string()), ("time", duration_text(within.seconds))];
            let words = desk.fill("cover-out-of-date", &[("n", &values[0].1), ("time", &values[1].1)]);
            let last = at.as_ref().map(|(owner, step)| format!(" {} {}", desk.word("cover-last"), desk.place(here, owner, step)));
            format!("<strong>{words}</strong>{}", last.unwrap_or_default())
        }
        Cover::Missing => format!("<strong>{}</strong>", desk.word("cover-missing")),
    }
}

fn held(desk: &Desk<'_, '_>, here: &Id, held: &Held) -> String {
    let name = desk.condition(&held.condition);
    let state = if held.holds { desk.word("holds") } else { format!("<strong>{}</strong>", desk.word("holds-not")) };
    let mut from: Vec<String> = held.set_by.iter().map(|setter| set_by(desk, here, setter)).collect();
    if held.from_start {
        from.push(desk.word("from-start"));
    }
    let from = if from.is_empty() { String::new() } else { format!(", <span class=\"exposure__from\">{}</span>", from.join("; ")) };
    format!("{name}: {state}{from}")
}

fn set_by(desk: &Desk<'_, '_>, here: &Id, setter: &Setter) -> String {
    let answer = setter.way.as_ref().and_then(|(_, answer)| answer.as_ref());
    let answer = answer.map(|answer| format!(" <q>{}</q>", escape::text(answer))).unwrap_or_default();
    format!("{} {}{answer}", desk.word("set-at"), desk.place(here, &setter.procedure, &setter.step))
}

fn person(desk: &Desk<'_, '_>, exposure: &Exposure) -> String {
    let asked = desk.fill("person-asked", &[("person", desk.frame.say("person", exposure.least.as_str()))]);
    let waived = if exposure.least_waived { format!(" {}", desk.word("least-waived")) } else { String::new() };
    format!("{}. <span class=\"exposure__from\">{asked}{waived}</span>", desk.frame.person(exposure.person))
}

fn ways(desk: &Desk<'_, '_>, exposure: &Exposure) -> String {
    let loops = if exposure.loops { format!(" <span class=\"exposure__from\">{}</span>", desk.word("loops-out")) } else { String::new() };
    format!("<span class=\"figures\">{}</span>{loops}", escape::text(&exposure.ways))
}

fn worst(desk: &Desk<'_, '_>, exposure: &Exposure, ways: &Told) -> String {
    let Some(witness) = &exposure.worst else { return String::new() };
    let summary = desk.fill("worst-way", &[("n", &witness.len().to_string())]);
    told(desk, ways, witness, &summary, State::of(exposure) == State::Uncovered)
}
