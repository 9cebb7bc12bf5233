//! What a measurement has: its readings, and the table it may match.

use serde_json::{Value, json};

use crate::read::measurement::READING_KEYS;
use crate::read::schema::shape::{declared, mapping, said};
use crate::read::schema::value::{amount, boolean, number, text, unit, words};
use crate::read::schema::way::named_way;
use crate::read::way::MATCH_KEYS;

pub fn readings() -> Value {
    let reading = mapping(&READING_KEYS, &["ask", "from", "to"], |key| match key {
        "ask" => said("What is read off or measured, in the words shown.", text()),
        "unit" => said("Its unit; left out or `none` for a bare number.", unit()),
        "from" => said("The least that can be meant; less is a slip of the hand.", number()),
        "to" => said("The most that can be meant; more is a slip of the hand.", number()),
        "whole" => said("Whether only whole numbers are taken.", boolean()),
        _ => None,
    });
    declared(Value::Object(reading))
}

pub fn matching() -> Value {
    let matching = mapping(&MATCH_KEYS, &MATCH_KEYS, |key| match key {
        "table" => said("The table of the chosen model that the reading is compared with.", words(&["repeats"])),
        "within" => said("How far off a reading may be, either way and both edges inside, in the step's unit.", amount()),
        "parts" => said("Where each part of the table leads.", json!({ "type": "object", "additionalProperties": named_way() })),
        "several" => said("Where it leads if parts that lead to different steps are within reach.", Value::Object(named_way())),
        "none" => said("Where it leads if no part is within reach.", Value::Object(named_way())),
        _ => None,
    });
    Value::Object(matching)
}
