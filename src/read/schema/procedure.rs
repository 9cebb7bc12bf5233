//! The front matter of a procedure.

use serde_json::{Map, Value, json};

use crate::model::procedure::{FAULT_OUTCOMES, Status};
use crate::read::procedure::{FAULT_KEYS, KEYS, MOST_STEPS, WAIVER_KEYS};
use crate::read::schema::shape::{absent, declared, list, mapping, present, said, when};
use crate::read::schema::step;
use crate::read::schema::value::{day, declared_id, id, id_or, ids, person, reasons, text, texts, whole, words};

/// What the front matter refers to.
pub fn parts() -> Map<String, Value> {
    step::parts()
}

pub fn front_matter() -> Map<String, Value> {
    let mut schema = mapping(&KEYS, &["title"], |key| for_readers(key).or_else(|| release(key)).or_else(|| graph(key)));
    schema.insert("allOf".to_owned(), json!([withdrawn(), released(), of_tasks()]));
    schema
}

fn for_readers(key: &str) -> Option<Value> {
    match key {
        "title" => said("What the procedure is called.", text()),
        "summary" => said("One sentence on what the person at the machine sees.", text()),
        "symptoms" => said("What people say when they have this trouble, for finding the procedure.", texts()),
        "codes" => said("Panel or alert codes that lead here.", texts()),
        "stages" => said("Stages of the imaging process it is about.", texts()),
        "tools" => said("Tools to bring.", texts()),
        "supplies" => said("Material and parts to bring.", texts()),
        "kind" => {
            said("`fault-finding`, the default, or `task`: a job that other procedures carry out.", words(&["fault-finding", "task"]))
        }
        "equipment" => said("The machine models it is for; left out, every model.", list(id(), 1)),
        "for" => said("Who is at the machine when it begins (IEC 62368-1); left out, `ordinary`.", person()),
        _ => None,
    }
}

fn release(key: &str) -> Option<Value> {
    let statuses = Status::ALL.map(Status::as_str);
    match key {
        "status" => said("How far it is on its way; left out, `draft`. Only `released` is published.", words(&statuses)),
        "revision" => said("Number of the revision. Required once released.", whole(0, u32::MAX)),
        "owner" => said("The role, from `library.yaml`, that answers for it; never a person. Required once released.", text()),
        "review-by" => said("The day by which it must be looked at again. Required once released.", day()),
        "replaced-by" => said("The procedure that takes its place, or `nothing`. Required when withdrawn.", id_or(&["nothing"])),
        "withdrawn-because" => said("Why it was withdrawn. Required when withdrawn.", text()),
        _ => None,
    }
}

fn graph(key: &str) -> Option<Value> {
    let outcomes = list(declared_id(), 1);
    match key {
        "requires" => said("Tasks only: conditions that must hold when it begins. Such a task is never offered as a start.", ids()),
        "outcomes" => said("Tasks only: the names its endings may use; left out, `done` and `not-done`.", outcomes),
        "not-touching" => {
            said("Parts that the introduction names and does not touch, each with the reason; the review shows it.", reasons())
        }
        "faults" => said("What this procedure can find.", declared(fault())),
        "waivers" => {
            said("Safety demands that are waived at one step, for a while and by somebody who is not the owner.", list(waiver(&[]), 0))
        }
        "start" => said("The step it begins with; left out, the first.", id()),
        "steps" => said("The steps, by their ids, in the order they are read.", json!({})),
        _ => None,
    }
}

fn fault() -> Value {
    let weight = json!({ "type": "number", "exclusiveMinimum": 0 });
    let mut fault = mapping(&FAULT_KEYS, &[], |key| match key {
        "name" => said("What the fault is called.", text()),
        "weight" => said("How often it is the cause, next to the others; over 0, left out 1.", weight.clone()),
        "comes-to" => said("The outcome, or the ending step, it comes to if no action cures it.", id_or(&["fixed"])),
        _ => None,
    });
    fault.insert("type".to_owned(), json!(["object", "null"]));
    Value::Object(fault)
}

fn waiver(required: &[&str]) -> Value {
    let waiver = mapping(&WAIVER_KEYS, required, |key| match key {
        "step" => said("The step at which something is waived.", id()),
        "hazard" => said("The hazard it is about.", id()),
        "of" => {
            said("What is waived: the conditions that the hazard requires, or the least qualified person.", words(&["requires", "least"]))
        }
        "reason" => said("Why this is acceptable.", text()),
        "by" => said("The role that answers for the waiver; another one than the owner.", text()),
        "until" => said("The last day it holds, at most a year ahead.", day()),
        _ => None,
    });
    Value::Object(waiver)
}

/// A withdrawn file says why, and its steps are not checked; every other has steps, and whole waivers.
fn withdrawn() -> Value {
    let is = json!({ "required": ["status"], "properties": { "status": { "const": "withdrawn" } } });
    let says_why = json!({ "allOf": [present("replaced-by"), present("withdrawn-because")] });
    let steps = json!({
        "type": "object",
        "minProperties": 1,
        "maxProperties": MOST_STEPS,
        "propertyNames": declared_id(),
        "additionalProperties": { "$ref": "#/$defs/step" }
    });
    let checked = json!({
        "required": ["steps"],
        "properties": { "steps": steps, "waivers": { "items": { "required": WAIVER_KEYS, "allOf": WAIVER_KEYS.map(present) } } },
        "allOf": [outcomes_of_kind()]
    });
    when(&is, &says_why, &checked)
}

fn is_task() -> Value {
    json!({ "required": ["kind"], "properties": { "kind": { "const": "task" } } })
}

/// Fault finding ends in one of a few ways, a task in those it names, or in the usual two.
fn outcomes_of_kind() -> Value {
    let only = |words: &[&str]| {
        let known: Vec<Value> = words.iter().map(|word| json!(word)).chain([Value::Null]).collect();
        json!({ "properties": { "steps": { "additionalProperties": { "properties": { "outcome": { "enum": known } } } } } })
    };
    let of_task = json!({ "if": absent("outcomes"), "then": only(&["done", "not-done"]) });
    when(&is_task(), &of_task, &only(&FAULT_OUTCOMES))
}

fn released() -> Value {
    let is = json!({ "required": ["status"], "properties": { "status": { "const": "released" } } });
    json!({ "if": is, "then": { "allOf": [present("revision"), present("owner"), present("review-by")] } })
}

/// `requires` and `outcomes` do not belong on fault finding.
fn of_tasks() -> Value {
    json!({ "if": is_task(), "else": { "allOf": [absent("requires"), absent("outcomes")] } })
}
