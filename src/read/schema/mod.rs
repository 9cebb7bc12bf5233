//! The format as JSON Schema 2020-12, for editors: what the reader takes, said in their language.
//!
//! Each mapping takes its keys from the very table its reader opens it with, so the two cannot drift apart; a key without a description here is found by
//! a test. A schema sees one file and one value at a time: whether a step exists, a band ascends or a caution is shown is `verify`'s to say.

mod catalogues;
mod measurement;
mod procedure;
mod shape;
mod step;
mod value;
mod way;

use serde_json::{Map, Value, json};

/// The files of a library that have a schema, by what they hold.
pub const NAMES: [&str; 7] = ["procedure", "library", "safety", "equipment", "stages", "approvals", "leaflet"];

const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// What the schemas cannot tell, for whoever wonders why one is more lenient or more strict than `verify`.
const LIMITS: &str = "Written by `stepward schema`. In this format every bare word is a text: `yes`, `012`, `1.10` and `~` are never anything else. An \
editor's YAML reads some of them as booleans, numbers or null before the schema sees them, so a text may be any of the first two, and null where the key \
may be left empty. For the same reason a number written as `1e3` or `0x1F`, which the reader refuses, cannot be told from a plain one here, and a \
required text written as a bare `~` or `null` has to stand in quotes. Words of a closed list are expected without blanks around them. What needs \
more than one value to judge (steps that exist, bands that ascend, cautions on every way) is what `stepward verify` is for.";

/// The schema of one kind of file, on its own. `None` for a name that is not in [`NAMES`].
pub fn of(name: &str) -> Option<String> {
    let (title, schema) = document(name)?;
    let mut whole = head(title);
    whole.extend(schema);
    if name == "procedure" {
        whole.insert("$defs".to_owned(), Value::Object(procedure::parts()));
    }
    Some(text(&whole))
}

/// All of them in one document: as it stands it is the schema of a procedure's front matter, and `#/$defs/NAME` that of each kind of file.
pub fn all() -> String {
    let mut whole = head("Stepward: front matter of a procedure; under `$defs` also the other files of a library");
    whole.insert("$ref".to_owned(), json!("#/$defs/procedure"));
    let documents = NAMES.iter().filter_map(|name| Some((*name, document(name)?)));
    let mut parts: Map<String, Value> = documents.map(|(name, (title, schema))| (name.to_owned(), titled(title, schema))).collect();
    parts.extend(procedure::parts());
    whole.insert("$defs".to_owned(), Value::Object(parts));
    text(&whole)
}

fn document(name: &str) -> Option<(&'static str, Map<String, Value>)> {
    Some(match name {
        "procedure" => ("Stepward: front matter of a procedure", procedure::front_matter()),
        "library" => ("Stepward: library.yaml", catalogues::library()),
        "safety" => ("Stepward: safety.yaml", catalogues::safety()),
        "equipment" => ("Stepward: equipment.yaml", catalogues::equipment()),
        "stages" => ("Stepward: stages.yaml", catalogues::stages()),
        "approvals" => ("Stepward: approvals.yaml", catalogues::approvals()),
        "leaflet" => ("Stepward: front matter of a leaflet or of the stop card", catalogues::leaflet()),
        _ => return None,
    })
}

fn head(title: &str) -> Map<String, Value> {
    shape::map([("$schema", json!(DIALECT)), ("title", json!(title)), ("$comment", json!(LIMITS))])
}

fn titled(title: &str, schema: Map<String, Value>) -> Value {
    let mut whole = shape::map([("title", json!(title))]);
    whole.extend(schema);
    Value::Object(whole)
}

fn text(schema: &Map<String, Value>) -> String {
    let mut text = serde_json::to_string_pretty(schema).expect("texts, numbers and lists always have a JSON form");
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every object schema below a value that lists properties.
    fn objects<'v>(value: &'v Value, found: &mut Vec<&'v Map<String, Value>>) {
        match value {
            Value::Object(map) => {
                if map.get("additionalProperties") == Some(&json!(false)) {
                    found.push(map);
                }
                map.values().for_each(|value| objects(value, found));
            }
            Value::Array(list) => list.iter().for_each(|value| objects(value, found)),
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
        }
    }

    fn closed() -> (Value, Vec<Vec<String>>) {
        let whole: Value = serde_json::from_str(&all()).expect("well-formed JSON");
        let mut found = Vec::new();
        objects(&whole, &mut found);
        let keys = found.iter().map(|map| {
            let properties = map["properties"].as_object().expect("a closed mapping lists its keys");
            let mut keys: Vec<String> = properties.keys().cloned().collect();
            keys.sort();
            keys
        });
        let keys = keys.collect();
        (whole, keys)
    }

    #[test]
    fn the_schema_knows_the_keys_that_the_reader_knows_and_describes_each() {
        use crate::read::{catalogue, equipment, leaflet, measurement, procedure, settings, step, way};
        let steps = |kind| step::KEYS.iter().filter(|(_, on)| on.share(kind)).map(|(key, _)| *key).collect::<Vec<_>>();
        let mut tables: Vec<Vec<&str>> = [step::ASK, step::MEASURE, step::DO, step::CARRY_OUT, step::BY_MODEL].map(steps).to_vec();
        let readers: [&[&str]; 20] = [
            &procedure::KEYS,
            &procedure::FAULT_KEYS,
            &procedure::WAIVER_KEYS,
            &way::ANSWER_KEYS,
            &way::BAND_KEYS,
            &way::MATCH_KEYS,
            &way::WAY_KEYS,
            &measurement::READING_KEYS,
            &catalogue::KEYS,
            &catalogue::CONDITION_KEYS,
            &catalogue::HAZARD_KEYS,
            &catalogue::PART_KEYS,
            &catalogue::SHOWN_BY_KEYS,
            &catalogue::CAUTION_WITHIN_KEYS,
            &settings::KEYS,
            &settings::RULE_KEYS,
            &settings::APPROVAL_KEYS,
            &equipment::MODEL_KEYS,
            &equipment::STAGE_KEYS,
            &leaflet::KEYS,
        ];
        tables.extend(readers.map(<[&str]>::to_vec));
        tables.extend([&settings::APPROVALS_KEYS, &equipment::KEYS, &equipment::STAGES_KEYS].map(|keys| keys.to_vec()));
        let (_, found) = closed();
        for table in &mut tables {
            table.sort_unstable();
            assert!(found.iter().any(|keys| keys == table), "no mapping of the schema has just the keys {table:?}");
        }
        for keys in &found {
            assert!(tables.iter().any(|table| keys == table), "no reader knows just the keys {keys:?}");
        }
    }

    #[test]
    fn every_key_has_a_description() {
        let (whole, _) = closed();
        let mut found = Vec::new();
        objects(&whole, &mut found);
        for map in found {
            for (key, value) in map["properties"].as_object().expect("keys") {
                let words = value["description"].as_str().unwrap_or("");
                assert!(words.len() > 10 && words.ends_with('.'), "{key}: {words:?}");
            }
        }
    }

    #[test]
    fn a_name_of_no_file_has_no_schema() {
        assert!(NAMES.iter().all(|name| of(name).is_some_and(|text| text.ends_with("}\n"))));
        assert!(of("procedures").is_none());
    }
}
