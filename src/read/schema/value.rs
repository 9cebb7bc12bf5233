//! Single values as the reader takes them: texts, ids, numbers, units, durations, days.

use serde_json::{Value, json};

use crate::read::way::PERSONS;
use crate::text::id::RESERVED;
use crate::text::quantity::{RATES, UNITS};

/// Lower-case ASCII letters, digits and single hyphens, beginning with a letter; the length stands beside it.
const ID: &str = "^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$";
const LONGEST_ID: usize = 64;
const NUMBER: &str = r"-?(?:0|[1-9]\d*)(?:\.\d+)?";

/// Words for people. Bare words that an editor's YAML takes for numbers or booleans are texts all the same.
pub fn text() -> Value {
    json!({ "type": ["string", "number", "boolean"], "pattern": "\\S" })
}

pub fn texts() -> Value {
    json!({ "type": "array", "items": text() })
}

/// An id where it is declared.
pub fn declared_id() -> Value {
    json!({ "type": "string", "pattern": ID, "maxLength": LONGEST_ID, "not": { "enum": RESERVED } })
}

/// The id of something declared elsewhere, or one of a few `words` with a meaning of their own. `true` and `false` are ids like any.
pub fn id_or(words: &[&str]) -> Value {
    let reserved: Vec<&str> = RESERVED.into_iter().filter(|word| !words.contains(word)).collect();
    json!({ "type": ["string", "boolean"], "pattern": ID, "maxLength": LONGEST_ID, "not": { "enum": reserved } })
}

pub fn id() -> Value {
    id_or(&[])
}

pub fn ids() -> Value {
    json!({ "type": "array", "items": id() })
}

/// A mapping from ids of things declared elsewhere to the reason why.
pub fn reasons() -> Value {
    json!({ "type": "object", "propertyNames": { "pattern": ID, "maxLength": LONGEST_ID }, "additionalProperties": text() })
}

pub fn words(list: &[&str]) -> Value {
    json!({ "enum": list })
}

pub fn person() -> Value {
    words(&PERSONS)
}

pub fn number() -> Value {
    json!({ "type": "number" })
}

/// A number of at least nought.
pub fn amount() -> Value {
    json!({ "type": "number", "minimum": 0 })
}

pub fn whole(least: u32, most: u32) -> Value {
    json!({ "type": "integer", "minimum": least, "maximum": most })
}

pub fn boolean() -> Value {
    json!({ "type": "boolean" })
}

pub fn unit() -> Value {
    let all: Vec<&str> = UNITS.iter().chain(RATES.iter()).copied().chain(["none"]).collect();
    words(&all)
}

/// A day of the calendar (proleptic Gregorian, RFC 3339 full-date), the 29th of February only in leap years.
pub fn day() -> Value {
    let months = "(?:0[13578]|1[02])-(?:0[1-9]|[12]\\d|3[01])|(?:0[469]|11)-(?:0[1-9]|[12]\\d|30)|02-(?:0[1-9]|1\\d|2[0-8])";
    let leap = "(?:\\d\\d(?:0[48]|[2468][048]|[13579][26])|(?:[02468][048]|[13579][26])00)-02-29";
    json!({ "type": "string", "format": "date", "pattern": format!("^(?:\\d{{4}}-(?:{months})|{leap})$") })
}

/// A wait of at most four hours.
pub fn wait() -> Value {
    let part = r"(?:\.\d+)?";
    let hours = format!(r"(?:[0-3]{part}|4(?:\.0+)?)\s*h");
    let minutes = format!(r"(?:(?:\d|[1-9]\d|1\d\d|2[0-3]\d){part}|240(?:\.0+)?)\s*min");
    let seconds = format!(r"(?:(?:\d|[1-9]\d{{1,3}}|1[0-3]\d{{3}}|14[0-3]\d\d){part}|14400(?:\.0+)?)\s*s");
    json!({ "type": "string", "pattern": format!("^(?:{hours}|{minutes}|{seconds})$") })
}

/// A duration, or the name of a figure of the model.
pub fn duration_or_figure() -> Value {
    json!({ "type": "string", "pattern": format!(r"^(?:0|[1-9]\d*)(?:\.\d+)?\s*(?:s|min|h)$|{ID}") })
}

/// A number with its unit. Without a unit it may be a number of YAML.
pub fn quantity() -> Value {
    json!({ "type": ["string", "number"], "pattern": format!(r"^{NUMBER}(?:\s*(?:{}))?$", unit_pattern()) })
}

/// A number, one with the step's unit, or the name of a figure of the model. A number in quotes needs its unit.
pub fn limit() -> Value {
    json!({ "type": ["string", "number"], "pattern": format!(r"^{NUMBER}\s*(?:{})$|{ID}", unit_pattern()) })
}

/// No sign of a unit means anything in a pattern but the slash, which needs no escape in JSON.
fn unit_pattern() -> String {
    UNITS.iter().chain(RATES.iter()).copied().collect::<Vec<_>>().join("|")
}

/// A code of a safety sign (ISO 7010).
pub fn sign() -> Value {
    json!({ "type": "string", "pattern": "^[EFMPW][0-9]{3}$" })
}

/// A language tag that is well-formed in outline (RFC 5646, 2.1). `no` is one, whatever YAML makes of it.
pub fn language() -> Value {
    json!({ "type": ["string", "boolean"], "pattern": "^(?:[A-Za-z]{2,8}|x(?=-))(?:-[A-Za-z0-9]{1,8})*$" })
}

pub fn address() -> Value {
    json!({ "type": "string", "pattern": "^https?://[^/\\s<>\"][^\\s<>\"]*$" })
}
