//! Cautions as markup: the full block, the line that reminds of one, and the safety summary of a procedure.

use crate::model::catalogue::{Hazard, SignalWord};
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::render::escape;
use crate::render::frame::Frame;
use crate::render::hazards::{Met, cautions, exposed, met};
use crate::render::say::{items, number};
use crate::render::sign;

/// A triangle with an exclamation mark, in the colour of the text. Never beside NOTICE, which is not about injury.
const ALERT: &str = "<svg class=\"caution__alert\" viewBox=\"0 0 24 24\" aria-hidden=\"true\" focusable=\"false\">\
<path fill-rule=\"evenodd\" d=\"M12 1 24 22H0ZM10.6 8.5l.5 7h1.8l.5-7ZM12 16.8a1.5 1.5 0 1 0 0 3 1.5 1.5 0 0 0 0-3Z\"/></svg>";

/// What stands above a step's words: its cautions in full, then one line for each hazard it meets whose caution stood before.
pub fn before_step(frame: &Frame<'_>, step: &Step) -> String {
    let shown = cautions(frame.library, step);
    let mut out: String = shown.iter().map(|hazard| block(frame, hazard, "")).collect();
    let again: Vec<&Hazard> =
        exposed(frame.library, step).into_iter().filter(|hazard| !shown.iter().any(|other| other.id == hazard.id)).collect();
    out.push_str(&reminder(frame, &again, "reminder-title"));
    out
}

/// A list of hazards in one line each: signal word, name, place and what to do.
pub fn reminder(frame: &Frame<'_>, hazards: &[&Hazard], title: &str) -> String {
    if hazards.is_empty() {
        return String::new();
    }
    let line = |hazard: &&Hazard| {
        let place = hazard.where_at.as_ref().map(|place| format!(", {}", escape::text(place))).unwrap_or_default();
        let avoid = hazard.avoid.as_ref().map(|avoid| format!(" {}", escape::text(avoid))).unwrap_or_default();
        format!("<li>{} <strong>{}</strong>{place}.{avoid}</li>", signal(frame, hazard), escape::text(hazard.title()))
    };
    let lines: String = hazards.iter().map(line).collect();
    format!("<div class=\"reminder\"><p class=\"reminder__title\">{}</p><ul>{lines}</ul></div>\n", frame.word("step", title))
}

/// The safety summary: every hazard the flow can meet, in full, with the steps that meet it.
pub fn summary(frame: &Frame<'_>, procedure: &Procedure) -> String {
    let all = met(frame.library, procedure);
    if all.is_empty() {
        return format!("<p>{}</p>\n", frame.word("procedure", "no-hazards"));
    }
    all.iter().map(|one| block(frame, one.hazard, &places(frame, procedure, one))).collect()
}

/// The steps that meet a hazard, as links.
fn places(frame: &Frame<'_>, procedure: &Procedure, one: &Met<'_>) -> String {
    let link = |(owner, step): &(&Procedure, &Step)| {
        let n = number(owner, &step.id).to_string();
        if owner.id == procedure.id {
            return format!("<a href=\"#step-{}\">{}</a>", step.id, frame.fill("step", "step-n", &[("n", &n)]));
        }
        let text = frame.fill("step", "step-n-of", &[("n", &n), ("procedure", owner.title())]);
        format!("<a href=\"{}.html#step-{}\">{text}</a>", owner.id, step.id)
    };
    let links: Vec<String> = one.at.iter().map(link).collect();
    note(frame, "met-at", &links.join(", "))
}

/// One caution in full: what and where it is, what can happen, what to do; then who may meet it and what must hold. `more` are further notes.
fn block(frame: &Frame<'_>, hazard: &Hazard, more: &str) -> String {
    let word = hazard.signal();
    let kind = word.map_or("caution", SignalWord::as_str);
    let alert = if word == Some(SignalWord::Notice) { "" } else { ALERT };
    let name = escape::text(hazard.title());
    let label = frame.word("signal", kind);
    let (beside, below) = signs(frame, hazard);
    let place = hazard.where_at.as_ref().map(|place| format!("<span class=\"caution__where\">{}</span>", escape::text(place)));
    let danger: Vec<String> = [&hazard.nature, &hazard.consequence].into_iter().flatten().map(|text| escape::text(text)).collect();
    let avoid =
        hazard.avoid.as_ref().map(|avoid| format!("<p class=\"caution__avoid\">{below}<strong>{}</strong></p>", escape::text(avoid)));
    let conditions = || frame.conditions(hazard.requires.iter().map(|id| &id.value));
    let notes = [
        hazard.least.as_ref().map(|person| note(frame, "least", &frame.person(person.value))),
        (!hazard.requires.is_empty()).then(|| note(frame, "requires", &conditions())),
        hazard.no_control_because.as_ref().map(|reason| note(frame, "no-control", &escape::text(reason))),
        Some(more.to_owned()),
    ];
    let notes: String = notes.into_iter().flatten().collect();
    format!(
        "<div class=\"caution caution--{kind}\" data-hazard=\"{}\" role=\"group\" aria-label=\"{label}: {name}\">\
         <p class=\"caution__panel\"><strong class=\"caution__word\">{alert}{label}</strong> <span class=\"caution__name\">{name}</span>{}</p>\
         <div class=\"caution__body\">{beside}<div class=\"caution__texts\"><p>{}</p>{}<dl class=\"caution__notes\">{notes}</dl></div></div></div>\n",
        escape::text(hazard.id.as_str()),
        place.unwrap_or_default(),
        danger.join(" "),
        avoid.unwrap_or_default(),
    )
}

/// A warning or fire sign stands beside the texts; one that bids or forbids stands with what to do.
fn signs(frame: &Frame<'_>, hazard: &Hazard) -> (String, String) {
    let Some(code) = &hazard.sign else { return (String::new(), String::new()) };
    let drawing = sign::drawing(code, frame.words.find("sign", code).unwrap_or_else(|| frame.say("sign", "unknown")));
    if code.starts_with(['M', 'P']) { (String::new(), drawing) } else { (drawing, String::new()) }
}

pub fn signal(frame: &Frame<'_>, hazard: &Hazard) -> String {
    let kind = hazard.signal().map_or("caution", SignalWord::as_str);
    format!("<span class=\"signal signal--{kind}\">{}</span>", frame.word("signal", kind))
}

fn note(frame: &Frame<'_>, key: &str, markup: &str) -> String {
    format!("<div><dt>{}</dt><dd>{markup}</dd></div>", frame.word("caution", key))
}

/// Names of the hazards met in a procedure that is carried out.
pub fn met_there(frame: &Frame<'_>, callee: &Procedure) -> String {
    let lines = met(frame.library, callee);
    if lines.is_empty() {
        return String::new();
    }
    let names = items(lines.iter().map(|one| format!("{} {}", signal(frame, one.hazard), escape::text(one.hazard.title()))));
    format!("<div class=\"reminder\"><p class=\"reminder__title\">{}</p>{names}</div>\n", frame.word("step", "met-there"))
}
