//! What the script of a chart needs beside the drawing: what may be shown by itself, and where the charts lie that can be opened in it.

use serde_json::{Value, json};

use crate::model::catalogue::Person;
use crate::model::procedure::Procedure;
use crate::render::chart_svg::figure::number;
use crate::render::chart_svg::lens::{Lens, LensKind, lenses};
use crate::render::frame::Frame;
use crate::text::id::Id;

/// Steps go by their numbers, ways by the step's number and their index.
pub fn chart_data(frame: &Frame<'_>, procedure: &Procedure) -> Value {
    let lenses: Vec<Value> = lenses(frame.library, procedure).iter().map(|lens| lens_data(frame, procedure, lens)).collect();
    let place = |callee: &Id| Some((callee.to_string(), Value::from(frame.drawing(callee)?)));
    let drawings: serde_json::Map<String, Value> = procedure.callees().filter_map(place).collect();
    json!({ "lenses": lenses, "drawings": drawings })
}

fn lens_data(frame: &Frame<'_>, procedure: &Procedure, lens: &Lens) -> Value {
    let number = |id: &Id| number(procedure, id).unwrap_or(0);
    let person = Person::ALL.iter().find(|person| lens.kind == LensKind::Person && person.as_str() == lens.id);
    let name = person.map_or(lens.name.as_str(), |person| match person {
        Person::Ordinary => frame.say("follower", "person-ordinary"),
        Person::Instructed => frame.say("follower", "person-instructed"),
        Person::Skilled => frame.say("follower", "person-skilled"),
    });
    json!({
        "kind": lens.kind.as_str(),
        "id": lens.id,
        "name": name,
        "steps": lens.steps.iter().map(number).collect::<Vec<_>>(),
        "ways": lens.ways.iter().map(|(step, way)| format!("{}.{way}", number(step))).collect::<Vec<_>>(),
    })
}
