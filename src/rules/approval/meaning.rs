//! What a reviewer sees, as values: each function names every field of what it takes apart, so that a new one cannot be forgotten here.

pub mod catalogue;
pub mod procedure;
pub mod settings;

mod step;

use rust_decimal::Decimal;

use crate::text::digest::Value;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::Quantity;

fn words(text: Option<&At<String>>) -> Value {
    text.map(|text| Value::words(text)).unwrap_or_default()
}

/// A list in which the order is that of the author.
fn texts(texts: &[At<String>]) -> Value {
    some(texts.iter().map(|text| Value::words(text)))
}

fn id(id: Option<&At<Id>>) -> Value {
    id.map(|id| Value::text(id.as_str())).unwrap_or_default()
}

fn ids(ids: &[At<Id>]) -> Value {
    some(ids.iter().map(|id| Value::text(id.as_str())))
}

/// A list; an empty one is as good as none.
fn some(items: impl Iterator<Item = Value>) -> Value {
    let items: Vec<Value> = items.collect();
    if items.is_empty() { Value::Nothing } else { Value::List(items) }
}

fn number(number: Option<&At<u32>>) -> Value {
    number.map(|number| Value::text(number.value.to_string())).unwrap_or_default()
}

fn decimal(number: Option<&Decimal>) -> Value {
    number.map(|number| Value::text(number.normalize().to_string())).unwrap_or_default()
}

fn flag(holds: bool) -> Value {
    if holds { Value::text("true") } else { Value::Nothing }
}

fn quantity(quantity: &Quantity) -> Value {
    Value::list([decimal(Some(&quantity.value)), Value::text(quantity.unit.as_str())])
}
