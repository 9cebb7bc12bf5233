//! What the followed procedure can find: its faults with their weights, which ways each of them gives, and what their cures may take. The follower
//! tells from it what is still possible when a run is handed over; nothing in it decides a way, and no proof rests on it.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use serde_json::{Map, Value, json};

use crate::flow::graph::ways;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, When};
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::words::{Phrases, Sameness};

pub fn faults(library: &Library, procedure: &Procedure) -> Value {
    let known = procedure.faults.iter().map(|fault| {
        let name = fault.name.as_ref().map_or(fault.id.as_str(), |name| name.value.as_str());
        json!({ "id": fault.id.as_str(), "name": name, "weight": fault.weight.to_string() })
    });
    let mut gives = Map::new();
    for step in &procedure.steps {
        let said: Vec<Value> = ways(step).iter().map(|way| way.when.map_or(Value::Null, given)).collect();
        if said.iter().any(|one| !one.is_null()) && !gives.contains_key(step.id.as_str()) {
            gives.insert(step.id.to_string(), Value::from(said));
        }
    }
    json!({ "known": known.collect::<Vec<_>>(), "gives": gives, "bring": bring(library, procedure) })
}

/// `rest`, or faults (or one of the words `fixed` and `not-fixed`) with the chance of each; a fault in a list gives the answer for sure.
fn given(when: &When) -> Value {
    match when {
        When::Unsaid => Value::Null,
        When::Rest(_) => Value::from("rest"),
        When::Faults(faults) => {
            let chance = |written: &Option<At<Decimal>>| written.as_ref().map_or_else(|| "1".to_owned(), |chance| chance.value.to_string());
            faults.iter().map(|(id, written)| (id.value.to_string(), Value::from(chance(written)))).collect::<Map<_, _>>().into()
        }
    }
}

/// Tools and supplies, each with the faults that a step which names it cures. One that no such step names is brought whatever the fault, and so is a
/// tool that another step names too: it may be needed to find the fault.
fn bring(library: &Library, procedure: &Procedure) -> Vec<Value> {
    let things = || procedure.tools.iter().chain(&procedure.supplies).map(|thing| thing.value.as_str());
    let mut phrases = Phrases::new(Sameness::of_language(library.settings.language()));
    for thing in things() {
        phrases.add(thing, thing);
    }
    let mut cured: BTreeMap<&str, BTreeSet<&Id>> = BTreeMap::new();
    for step in procedure.steps.iter().filter(|step| !step.cures.is_empty()) {
        for thing in named(procedure, step, &phrases) {
            cured.entry(thing).or_default().extend(step.cures.iter().map(|id| &id.value));
        }
    }
    for step in procedure.steps.iter().filter(|step| step.cures.is_empty()) {
        let also_here = named(procedure, step, &phrases);
        cured.retain(|thing, _| !(also_here.contains(thing) && procedure.tools.iter().any(|tool| tool.value == *thing)));
    }
    let faults_of = |thing: &str| cured.get(thing).into_iter().flatten().map(|id| id.as_str()).collect::<Vec<_>>();
    things().map(|thing| json!({ "name": thing, "cures": faults_of(thing) })).collect()
}

/// What a step's sentence and section name.
fn named<'a>(procedure: &Procedure, step: &Step, phrases: &Phrases<&'a str>) -> BTreeSet<&'a str> {
    let sentence = step.text().map(|text| text.value.as_str());
    let blocks = procedure.words_of(step).into_iter().flat_map(|section| section.blocks.iter().map(|block| block.value.as_str()));
    sentence.into_iter().chain(blocks).flat_map(|text| phrases.find(text).into_keys()).collect()
}
