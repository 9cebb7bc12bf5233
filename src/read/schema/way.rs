//! The ways on from a step: answers, bands, named ways, and which faults take them.

use serde_json::{Map, Value, json};

use crate::read::schema::shape::{absent, mapping, present, said};
use crate::read::schema::value::{id, id_or, ids, limit, person, text};
use crate::read::way::{ANSWER_KEYS, BAND_KEYS, MOST_BANDS, WAY_KEYS};

/// A question with more answers than this is hard to read aloud; with fewer than two it decides nothing.
const ANSWERS: [usize; 2] = [2, 6];

pub fn answers() -> Value {
    let answer = mapping(&ANSWER_KEYS, &["answer", "then"], |key| match key {
        "answer" => said("What the person may answer, in the words shown.", text()),
        "person" => said("Who is at the machine from here on, if this is the answer. Not on every answer of a question.", person()),
        _ => on_every_way(key),
    });
    // An answer for everybody else: where each sets `person`, nobody was asked.
    let for_others = absent("person");
    json!({ "type": "array", "items": answer, "minItems": ANSWERS[0], "maxItems": ANSWERS[1], "contains": for_others })
}

pub fn bands() -> Value {
    let mut band = mapping(&BAND_KEYS, &["then"], |key| match key {
        "below" => said("The band ends before this value: a number, one with the step's unit, or a figure of the model.", limit()),
        "up-to" => said("The band ends with this value inside: a number, one with the step's unit, or a figure of the model.", limit()),
        _ => on_every_way(key),
    });
    let [below, up_to] = ["below", "up-to"].map(present);
    band.insert("not".to_owned(), json!({ "allOf": [below, up_to] }));
    // One band, the last, ends at `to` and has no limit of its own.
    let last = json!({ "allOf": [absent("below"), absent("up-to")] });
    json!({ "type": "array", "items": band, "minItems": 1, "maxItems": MOST_BANDS, "contains": last, "minContains": 1, "maxContains": 1 })
}

fn on_every_way(key: &str) -> Option<Value> {
    match key {
        "then" => said("The step it goes on with.", id()),
        "when" => said(WHEN, when()),
        "sets" => said("Conditions of the safety catalogue that hold once this way is taken.", ids()),
        "clears" => said("Conditions of the safety catalogue that no longer hold once this way is taken.", ids()),
        _ => None,
    }
}

/// A step's id, or a mapping of it and the faults.
pub fn named_way() -> Map<String, Value> {
    let mut way = mapping(&WAY_KEYS, &["then"], on_every_way);
    if let Value::Object(step) = id() {
        way.extend(step);
    }
    way.insert("type".to_owned(), json!(["string", "boolean", "object"]));
    way
}

const WHEN: &str = "Which faults give this answer: a list, a mapping from fault to probability, or `rest` for all that no other way of this step names. \
`fixed` and `not-fixed` are for a step that checks a cure.";

fn when() -> Value {
    let fault = id_or(&["fixed", "not-fixed"]);
    json!({
        "type": ["string", "array", "object"],
        "pattern": "^rest$",
        "items": fault,
        "propertyNames": fault,
        "additionalProperties": { "type": "number", "minimum": 0, "maximum": 1 }
    })
}
