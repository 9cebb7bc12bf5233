//! What a flow needs of the safety catalogue and of the equipment.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use crate::model::catalogue::{Condition, Hazard, Takes};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::render::flow_data::ids;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::{Quantity, seconds};

/// All conditions: clearing one may clear others, and a hazard may return with any.
pub fn conditions(library: &Library) -> Vec<Value> {
    library.catalogue.conditions.iter().map(|condition| condition_data(library, condition)).collect()
}

fn condition_data(library: &Library, condition: &Condition) -> Value {
    json!({
        "id": condition.id.as_str(),
        "name": condition.name.as_ref().map_or(condition.id.as_str(), |name| name.value.as_str()),
        "clears": ids(&condition.clears),
        "after": condition.after.as_ref().map(|after| after.value.as_str()),
        "takes": condition.takes.as_ref().map(|takes| takes_data(library, &takes.value)),
        "shownBy": condition.shown_by.as_ref().map(|range| json!({
            "unit": range.unit.as_str(),
            "from": range.from.map(|from| from.to_string()),
            "upTo": range.up_to.to_string(),
        })),
        "triedOut": condition.tried_out,
        "mustClear": condition.must_clear,
    })
}

/// A duration in seconds, or one for each model that has the figure.
fn takes_data(library: &Library, takes: &Takes) -> Value {
    match takes {
        Takes::Seconds(seconds) => json!({ "seconds": seconds }),
        Takes::Figure(figure) => {
            let on_model = library.equipment.models.iter().filter_map(|model| {
                let quantity = model.figure(figure)?;
                Some((model.id.to_string(), Value::from(seconds(quantity.value.value, quantity.value.unit.as_str())?)))
            });
            json!({ "seconds": null, "byModel": on_model.collect::<Map<String, Value>>() })
        }
    }
}

/// The hazards that the procedures meet, most severe signal word first, then in file order: the order in which cautions are shown.
pub fn hazards(library: &Library, procedures: &[&Procedure]) -> Vec<Value> {
    let steps = procedures.iter().flat_map(|procedure| &procedure.steps);
    let met: BTreeSet<&Id> = steps
        .flat_map(|step| {
            step.cautions.iter().map(|id| &id.value).chain(library.catalogue.exposed(step).into_iter().map(|hazard| &hazard.id))
        })
        .collect();
    let mut hazards: Vec<&Hazard> = library.catalogue.hazards.iter().filter(|hazard| met.contains(&hazard.id)).collect();
    // The sort is stable; a word nobody knows counts as the most severe.
    hazards.sort_by_key(|hazard| hazard.signal());
    hazards.into_iter().map(hazard_data).collect()
}

fn hazard_data(hazard: &Hazard) -> Value {
    let text = |text: &Option<At<String>>| text.as_ref().map(|text| text.value.clone());
    json!({
        "id": hazard.id.as_str(),
        "name": hazard.title(),
        "signalWord": hazard.signal().map_or("danger", |signal| signal.as_str()),
        "sign": text(&hazard.sign),
        "place": text(&hazard.where_at),
        "nature": text(&hazard.nature),
        "consequence": text(&hazard.consequence),
        "avoid": text(&hazard.avoid),
        "spoken": hazard.read_aloud(),
        "requires": ids(&hazard.requires),
        "returnsWith": ids(&hazard.returns_with),
        "least": hazard.least.as_ref().map(|least| least.value.as_str()),
    })
}

pub fn models(library: &Library) -> Vec<Value> {
    let table = |entries: &[(At<Id>, At<Quantity>)]| -> Map<String, Value> {
        let entry = |quantity: &Quantity| json!({ "value": quantity.value.to_string(), "unit": quantity.unit.as_str() });
        entries.iter().map(|(name, quantity)| (name.value.to_string(), entry(&quantity.value))).collect()
    };
    let models = library.equipment.models.iter();
    models
        .map(|model| {
            json!({ "id": model.id.as_str(), "name": model.title(), "figures": table(&model.figures), "repeats": table(&model.repeats) })
        })
        .collect()
}
