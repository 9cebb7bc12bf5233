//! The ways on from a step as a list of links, each with what it changes.

use crate::finding::WayKind;
use crate::flow::graph::{Way, ways};
use crate::model::procedure::Procedure;
use crate::model::step::{Effects, LimitValue, Measurement, Sorting, Step, StepKind};
use crate::render::by_model::{self, Edge};
use crate::render::escape;
use crate::render::frame::Frame;
use crate::render::say::{condition_name, number};
use crate::text::id::Id;

/// The list of ways; nothing for an ending.
pub fn list(frame: &Frame<'_>, procedure: &Procedure, step: &Step) -> String {
    let mut all = ways(step);
    // Whether the step may be done once more is asked before anything else.
    all.sort_by_key(|way| way.kind != WayKind::Otherwise);
    let items: String = all.iter().map(|way| item(frame, procedure, step, way)).collect();
    if items.is_empty() {
        return String::new();
    }
    let title = frame.word("step", title(step));
    format!("<div class=\"step__ways\"><h4 class=\"ways__title\">{title}</h4>\n<ul class=\"ways\">\n{items}</ul></div>\n")
}

fn title(step: &Step) -> &'static str {
    match step.kind {
        StepKind::Ask(_) => "answers",
        StepKind::Measure(_) => "results",
        StepKind::CarryOut(_) => "outcomes",
        StepKind::ByModel(_) => "models",
        StepKind::Do(_) | StepKind::Unclear(_) => "next",
    }
}

fn item(frame: &Frame<'_>, procedure: &Procedure, step: &Step, way: &Way<'_>) -> String {
    let text = format!("<span class=\"way__answer\">{}</span>", text(frame, procedure, step, way));
    let target = way.then.and_then(|then| procedure.step(then));
    let go = match target {
        Some(target) => {
            let n = number(procedure, &target.id).to_string();
            let to = frame.fill("step", "go-to", &[("n", &n)]);
            let to = format!("<span class=\"way__target\">{to} {}</span>", frame.step_title(target));
            format!("<a class=\"way__go\" href=\"#step-{}\">{text} {to}</a>", escape::text(target.id.as_str()))
        }
        None => format!("<span class=\"way__go\">{text} <span>{}</span></span>", frame.word("step", "nowhere")),
    };
    format!("<li class=\"way\">{go}{}</li>\n", notes(frame, way))
}

fn text(frame: &Frame<'_>, procedure: &Procedure, step: &Step, way: &Way<'_>) -> String {
    let own = way.text.as_deref().unwrap_or_default();
    match way.kind {
        WayKind::Answer => escape::text(own),
        WayKind::Band => match (&step.kind, way.band) {
            (StepKind::Measure(measurement), Some(index)) => escape::text(&band(frame, procedure, measurement, index)),
            _ => escape::text(own),
        },
        WayKind::Part => match own {
            "several" | "none" => frame.word("step", own),
            part => frame.part_title(&Id::new(part)),
        },
        WayKind::Model => match own {
            "others" => frame.word("step", "others"),
            model => frame.model_title(&Id::new(model)),
        },
        WayKind::Outcome => frame.outcome(&Id::new(own)),
        WayKind::Unsure => frame.word("step", "unsure"),
        WayKind::Otherwise => {
            let n = step.at_most.as_ref().map(|most| most.value.to_string()).unwrap_or_default();
            frame.fill("step", "otherwise", &[("n", &n)])
        }
        WayKind::Next => frame.word("step", "then"),
    }
}

/// Both edges of a band, each with the word that says whether it is inside: `above 48 up to 300 °C`.
fn band(frame: &Frame<'_>, procedure: &Procedure, measurement: &Measurement, index: usize) -> String {
    let Sorting::Bands(bands) = &measurement.sorting else { return String::new() };
    let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
    let edge = |limit: &LimitValue| match limit {
        LimitValue::Number(number, _) => number.to_string(),
        LimitValue::Figure(figure) => {
            let name = figure.as_str().replace('-', " ");
            match by_model::figure(frame.library, procedure, None, figure, unit) {
                Some(Edge::One(value)) => value,
                Some(Edge::Many(from, to)) => {
                    frame.words.fill("step", "figure-by-model", &[("figure", name.as_str()), ("from", from.as_str()), ("to", to.as_str())])
                }
                None => frame.words.fill("step", "figure-of", &[("figure", &name)]),
            }
        }
    };
    let before = index.checked_sub(1).and_then(|index| bands.get(index)).and_then(|band| band.limit.as_ref());
    let (low_key, low) = match before {
        Some(limit) if limit.inside => ("band-above", edge(&limit.value.value)),
        Some(limit) => ("band-from", edge(&limit.value.value)),
        None => ("band-from", measurement.from.as_ref().map(|from| from.value.to_string()).unwrap_or_default()),
    };
    let (high_key, high) = match bands.get(index).and_then(|band| band.limit.as_ref()) {
        Some(limit) if limit.inside => ("band-up-to", edge(&limit.value.value)),
        Some(limit) => ("band-below", edge(&limit.value.value)),
        None => ("band-up-to", measurement.to.as_ref().map(|to| to.value.to_string()).unwrap_or_default()),
    };
    let low = frame.words.fill("step", low_key, &[("value", &low)]);
    let high = frame.words.fill("step", high_key, &[("value", &high)]);
    format!("{low} {high} {unit}").trim_end().to_owned()
}

/// What taking the way makes true, or no longer true, and who is at the machine from there on.
fn notes(frame: &Frame<'_>, way: &Way<'_>) -> String {
    let mut lines = way.effects.map(|effects| changes(frame, effects)).unwrap_or_default();
    lines.extend(way.person.map(|person| format!("{}: {}", frame.word("step", "person-from-here"), frame.person(person))));
    lines.iter().map(|line| format!("<p class=\"way__note\">{line}</p>")).collect()
}

/// `Now true: Mains plug out`, one line for what is set and one for what is cleared.
pub fn changes(frame: &Frame<'_>, effects: &Effects) -> Vec<String> {
    let lines = [("clears", &effects.clears), ("sets", &effects.sets)];
    let named = |id: &Id| escape::text(frame.library.catalogue.condition(id).map_or(id.as_str(), condition_name));
    lines
        .into_iter()
        .filter(|(_, ids)| !ids.is_empty())
        .map(|(key, ids)| {
            let names: Vec<String> = ids.iter().map(|id| named(id)).collect();
            format!("{}: {}", frame.word("step", key), names.join("; "))
        })
        .collect()
}
