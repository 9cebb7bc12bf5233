//! The data that the follower runs on, written into a procedure's page: the flow, every procedure it carries out, and what they need
//! of the catalogue and the equipment. Words of the page itself are not in it: the follower takes them from the page.

mod catalogue;
mod faults;
mod step;

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure};
use crate::model::step::StepKind;
use crate::text::id::Id;

/// The flow of a procedure as the follower reads it. Keys stand in a fixed order, so that two builds write the same bytes; what is large is put at its key
/// afterwards, since `json!` would copy it.
pub fn flow_data(library: &Library, procedure: &Procedure) -> Value {
    let closure = closure(library, procedure);
    let procedures: Map<String, Value> =
        closure.iter().map(|one| (one.id.to_string(), procedure_data(library, one, one.id != procedure.id))).collect();
    let mut data = json!({
        "schema": "stepward/flow/1",
        "edition": "",
        "procedure": procedure.id.as_str(),
        "library": library.settings.title(),
        "cautionWithin": {
            "steps": library.catalogue.caution_within.steps,
            "seconds": library.catalogue.caution_within.seconds,
        },
        "conditions": null,
        "hazards": null,
        "models": null,
        "procedures": null,
    });
    data["conditions"] = catalogue::conditions(library).into();
    data["hazards"] = catalogue::hazards(library, &closure).into();
    data["models"] = catalogue::models(library).into();
    data["procedures"] = procedures.into();
    // A saved run is taken up only by the very flow it began with.
    let edition = blake3::hash(data.to_string().as_bytes()).to_hex()[..16].to_owned();
    data["edition"] = Value::from(edition);
    // Weights are guesses that are mended as one learns; a run goes on when they are.
    data["faults"] = faults::faults(library, procedure);
    data
}

/// [`flow_data`] as text that may stand inside a `script` element: nothing in it can end the element or open a comment.
pub fn flow_data_text(library: &Library, procedure: &Procedure) -> String {
    let text = flow_data(library, procedure).to_string();
    text.replace('<', "\\u003c")
        .replace('>', "\\u003e")
        .replace('&', "\\u0026")
        .replace('\u{2028}', "\\u2028")
        .replace('\u{2029}', "\\u2029")
}

/// The procedure and all that it carries out, by id.
fn closure<'a>(library: &'a Library, procedure: &'a Procedure) -> Vec<&'a Procedure> {
    let mut seen: BTreeSet<&Id> = BTreeSet::from([&procedure.id]);
    let mut found = vec![procedure];
    let mut open = vec![procedure];
    while let Some(next) = open.pop() {
        for step in &next.steps {
            let StepKind::CarryOut(call) = &step.kind else { continue };
            if let Some(callee) = library.procedure(&call.procedure.value).filter(|callee| seen.insert(&callee.id)) {
                found.push(callee);
                open.push(callee);
            }
        }
    }
    found.sort_by(|left, right| left.id.cmp(&right.id));
    found
}

fn procedure_data(library: &Library, procedure: &Procedure, carried_out: bool) -> Value {
    // Of two steps with one id the first counts, as everywhere.
    let mut steps = Map::new();
    for one in &procedure.steps {
        if !steps.contains_key(one.id.as_str()) {
            steps.insert(one.id.to_string(), step::step_data(library, procedure, one, carried_out));
        }
    }
    let mut data = json!({
        "id": procedure.id.as_str(),
        "title": procedure.title(),
        "kind": match procedure.kind { Kind::FaultFinding => "fault-finding", Kind::Task => "task" },
        "status": procedure.status.as_str(),
        "revision": procedure.revision.as_ref().map(|revision| revision.value),
        "reviewBy": procedure.review_by.as_ref().map(|day| day.value.to_string()),
        "for": procedure.person.as_str(),
        "requires": ids(&procedure.requires),
        "models": library.models_of(procedure).into_iter().map(Id::as_str).collect::<Vec<_>>(),
        "start": procedure.start_step().map(|step| step.id.as_str()),
        "steps": null,
    });
    data["steps"] = steps.into();
    data
}

/// Ids as a list of texts.
fn ids(list: &[crate::text::place::At<Id>]) -> Vec<&str> {
    list.iter().map(|id| id.value.as_str()).collect()
}
