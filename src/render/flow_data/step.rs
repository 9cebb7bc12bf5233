//! One step as the follower reads it.

use serde_json::{Value, json};

use crate::flow::graph::{Way, ways};
use crate::formula::Formula;
use crate::model::library::Library;
use crate::model::procedure::{Procedure, WaiverOf};
use crate::model::step::{Action, Effects, Limit, LimitValue, Measurement, Sorting, Step, StepKind};
use crate::render::flow_data::ids;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::Unit;

pub fn step_data(library: &Library, procedure: &Procedure, step: &Step, carried_out: bool) -> Value {
    let action = action_of(step);
    let none = Effects::default();
    let effects = action.map_or(&none, |action| &action.effects);
    let mut data = json!({
        "id": step.id.as_str(),
        "kind": kind(step),
        "text": text(library, step),
        "words": if carried_out { paragraphs(procedure, step) } else { Vec::new() },
        "seconds": step.seconds.as_ref().map(|seconds| seconds.value),
        "cautions": ids(&step.cautions),
        "exposes": null,
        "requires": ids(&step.requires),
        "least": step.least.as_ref().map(|least| least.value.as_str()),
        "wait": action.and_then(|action| action.wait.as_ref()).map(|wait| wait.value),
        "waitFor": action.and_then(|action| action.wait_for.as_ref()).map(|id| id.value.as_str()),
        "clears": ids(&effects.clears),
        "sets": ids(&effects.sets),
        "cures": ids(&step.cures),
        "atMost": step.at_most.as_ref().map(|times| times.value),
        "outcome": step.outcome().map(|outcome| outcome.value.as_str()),
        "referTo": action.and_then(|action| action.refer_to.as_ref()).map(|target| refer_to(library, &target.value)),
        "callee": match &step.kind { StepKind::CarryOut(call) => Some(call.procedure.value.as_str()), _ => None },
        "measure": match &step.kind { StepKind::Measure(measurement) => Some(measure(measurement)), _ => None },
        "ways": null,
    });
    data["exposes"] = exposures(library, procedure, step).into();
    data["ways"] = ways(step).iter().map(|way| way_data(step, way)).collect::<Vec<_>>().into();
    data
}

fn action_of(step: &Step) -> Option<&Action> {
    match &step.kind {
        StepKind::Do(action) => Some(action),
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    }
}

fn kind(step: &Step) -> &'static str {
    match &step.kind {
        StepKind::Ask(_) => "ask",
        StepKind::Measure(_) => "measure",
        StepKind::Do(_) => "do",
        StepKind::CarryOut(_) => "carry-out",
        StepKind::ByModel(_) => "by-model",
        StepKind::Unclear(_) => "unclear",
    }
}

/// The step's sentence; for a procedure carried out its name.
fn text(library: &Library, step: &Step) -> String {
    match (&step.kind, step.text()) {
        (_, Some(text)) => text.value.clone(),
        (StepKind::CarryOut(call), None) => match &call.name {
            Some(name) => name.value.clone(),
            None => library.procedure(&call.procedure.value).map_or(call.procedure.value.as_str(), Procedure::title).to_owned(),
        },
        (_, None) => step.id.to_string(),
    }
}

/// A section's words, a paragraph, heading, cell or list item each; its own heading is left out.
fn paragraphs(procedure: &Procedure, step: &Step) -> Vec<String> {
    let Some(section) = procedure.words_of(step) else { return Vec::new() };
    let blocks = section.blocks.iter().map(|block| block.value.trim());
    blocks.filter(|block| !block.is_empty() && *block != section.heading.trim()).map(str::to_owned).collect()
}

/// Exposures with the last day of a waiver of what the hazard requires or of the least qualified person.
fn exposures(library: &Library, procedure: &Procedure, step: &Step) -> Vec<Value> {
    let waived = |hazard: &Id, of: WaiverOf| {
        let fits = procedure.waivers.iter().filter(|waiver| {
            let same = |written: &Option<At<Id>>, id: &Id| written.as_ref().is_some_and(|written| written.value == *id);
            same(&waiver.step, &step.id) && same(&waiver.hazard, hazard) && waiver.of.as_ref().is_some_and(|written| written.value == of)
        });
        fits.filter_map(|waiver| waiver.until.as_ref()).map(|until| until.value.to_string()).max()
    };
    let exposure = |hazard: &Id| json!({ "hazard": hazard.as_str(), "waived": { "requires": waived(hazard, WaiverOf::Requires), "least": waived(hazard, WaiverOf::Least) } });
    library.catalogue.exposed(step).into_iter().map(|hazard| exposure(&hazard.id)).collect()
}

fn refer_to(library: &Library, target: &Id) -> Value {
    let title = library.procedure(target).map(Procedure::title);
    json!({ "id": target.as_str(), "title": title })
}

fn measure(measurement: &Measurement) -> Value {
    let unit = |unit: &Option<At<Unit>>| unit.as_ref().map_or("", |unit| unit.value.as_str());
    let readings = measurement.readings.iter().map(|reading| {
        json!({
            "id": reading.id.as_str(),
            "ask": reading.ask.as_ref().map_or(reading.id.as_str(), |ask| ask.value.as_str()),
            "unit": unit(&reading.unit),
            "from": reading.from.as_ref().map(|from| from.value.to_string()),
            "to": reading.to.as_ref().map(|to| to.value.to_string()),
            "whole": reading.whole,
        })
    });
    json!({
        "unit": unit(&measurement.unit),
        "from": measurement.from.as_ref().map(|from| from.value.to_string()),
        "to": measurement.to.as_ref().map(|to| to.value.to_string()),
        "readings": readings.collect::<Vec<_>>(),
        "formula": measurement.formula.as_ref().map(|formula| formula_data(&formula.value)),
        "match": match &measurement.sorting {
            Sorting::Match(table) => json!({ "within": table.within.as_ref().map(|within| within.value.to_string()) }),
            Sorting::Bands(_) | Sorting::Missing => Value::Null,
        },
    })
}

/// The formula in postfix order. One that cannot be parsed is an error that keeps the gate shut; the follower then hands over.
fn formula_data(text: &str) -> Value {
    let tokens = Formula::parse(text).ok().map(|formula| formula.rpn());
    json!({ "text": text, "rpn": tokens })
}

fn way_data(step: &Step, way: &Way<'_>) -> Value {
    let none = Effects::default();
    let effects = way.effects.unwrap_or(&none);
    json!({
        "kind": way.kind.as_str(),
        "text": way.text,
        "then": way.then.map(|then| then.value.as_str()),
        "clears": ids(&effects.clears),
        "sets": ids(&effects.sets),
        "person": way.person.map(|person| person.as_str()),
        "fixed": way.fixed,
        "limit": way.band.and_then(|index| limit_of(step, index)),
    })
}

/// The upper edge of a band: a decimal, or a figure of the model.
fn limit_of(step: &Step, index: usize) -> Option<Value> {
    let StepKind::Measure(measurement) = &step.kind else { return None };
    let Sorting::Bands(bands) = &measurement.sorting else { return None };
    let Limit { inside, value } = &bands.get(index)?.limit.as_ref()?.value;
    Some(match value {
        LimitValue::Number(number, _) => json!({ "inside": inside, "value": number.to_string(), "figure": null }),
        LimitValue::Figure(figure) => json!({ "inside": inside, "value": null, "figure": figure.as_str() }),
    })
}
