//! The pieces that the schemas are put together from.

use serde_json::{Map, Value, json};

/// A mapping of the schema, in this order.
pub fn map<const N: usize>(entries: [(&str, Value); N]) -> Map<String, Value> {
    entries.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()
}

/// A mapping with these keys and no others. `describe` says what a key may hold; those of `required` must hold something.
pub fn mapping(keys: &[&str], required: &[&str], describe: impl Fn(&str) -> Option<Value>) -> Map<String, Value> {
    let property = |key: &&str| {
        let value = describe(key).unwrap_or_else(|| json!({}));
        ((*key).to_owned(), if required.contains(key) { value } else { optional(value) })
    };
    let properties: Map<String, Value> = keys.iter().map(property).collect();
    map([
        ("type", json!("object")),
        ("properties", Value::Object(properties)),
        ("required", json!(required)),
        ("additionalProperties", json!(false)),
    ])
}

/// A value with what it is for in words.
pub fn said(words: &str, value: Value) -> Option<Value> {
    let mut said = map([("description", json!(words))]);
    match value {
        Value::Object(value) => said.extend(value),
        other => said.extend(map([("const", other)])),
    }
    Some(Value::Object(said))
}

/// The same, or nothing at all: an empty value is a missing one. An empty text in quotes is one too.
pub fn optional(mut value: Value) -> Value {
    let Some(schema) = value.as_object_mut() else { return value };
    match schema.get_mut("type") {
        Some(Value::Array(types)) => types.push(json!("null")),
        Some(kind) => *kind = json!([kind.take(), "null"]),
        None => {}
    }
    if let Some(Value::Array(words)) = schema.get_mut("enum") {
        words.push(Value::Null);
    }
    if let Some(Value::String(pattern)) = schema.get_mut("pattern") {
        *pattern = format!("^\\s*$|{pattern}");
    }
    value
}

/// Holds if a mapping has the key with something in it.
pub fn present(key: &str) -> Value {
    let something = json!({ "type": ["string", "number", "boolean", "array", "object"], "pattern": "\\S" });
    json!({ "required": [key], "properties": { key: something } })
}

/// Holds if a mapping lacks the key, or has nothing in it.
pub fn absent(key: &str) -> Value {
    json!({ "properties": { key: { "type": ["null", "string"], "pattern": "^\\s*$" } } })
}

/// Several that must all hold.
pub fn both(one: &Value, other: &Value) -> Value {
    json!({ "allOf": [one, other] })
}

pub fn when(this: &Value, then: &Value, otherwise: &Value) -> Value {
    json!({ "if": this, "then": then, "else": otherwise })
}

/// Either key needs the other.
pub fn together(one: &str, other: &str) -> Value {
    when(&present(one), &present(other), &absent(other))
}

/// A mapping from ids, which are declared here, to something.
pub fn declared(value: Value) -> Value {
    json!({ "type": "object", "propertyNames": super::value::declared_id(), "additionalProperties": value })
}

/// A list of at least `least` of something.
pub fn list(value: Value, least: usize) -> Value {
    if least == 0 { json!({ "type": "array", "items": value }) } else { json!({ "type": "array", "items": value, "minItems": least }) }
}
