//! A measurement: unit, range, readings, and how the value is sorted into ways.

use rust_decimal::Decimal;

use crate::model::step::{Measurement, Reading, Sorting};
use crate::read::fields::Fields;
use crate::read::scope::Scope;
use crate::read::way;
use crate::read::yaml::Node;
use crate::text::id::Id;
use crate::text::place::{At, Place};

pub const READING_KEYS: [&str; 5] = ["ask", "unit", "from", "to", "whole"];

pub fn measurement(scope: &mut Scope<'_>, fields: Fields<'_>, text: At<String>) -> Measurement {
    let unit = fields.required(scope, "unit").and_then(|node| scope.unit(node));
    let from = fields.required_decimal(scope, "from");
    let to = fields.required_decimal(scope, "to");
    let sorting = sorting(scope, fields);
    // With limits, a range that is upside down holds none of them, which is a finding of its own.
    let judged_by_limits = matches!(&sorting, Sorting::Bands(bands) if bands.iter().any(|band| band.limit.is_some()));
    if !judged_by_limits {
        check_range(scope, from.as_ref(), to.as_ref());
    }
    let (readings, formula) = computed(scope, fields);
    let unsure = fields.id(scope, "unsure");
    Measurement { text, unit, from, to, sorting, readings, formula, unsure }
}

fn sorting(scope: &mut Scope<'_>, fields: Fields<'_>) -> Sorting {
    match (fields.get("bands"), fields.get("match")) {
        (Some((_, node)), None) => Sorting::Bands(way::bands(scope, node)),
        (None, Some((key, node))) => {
            way::matching(scope, node, key.at).map_or(Sorting::Missing, |matching| Sorting::Match(Box::new(matching)))
        }
        (Some((bands, _)), Some((matching, _))) => {
            let later = if bands.at.start > matching.at.start { bands.at } else { matching.at };
            scope.wrong(later, "a measurement has both `bands` and `match`", "keep one of the two");
            Sorting::Missing
        }
        (None, None) => {
            scope.missing(fields.at, "bands", "add `bands`, or `match` with a table of the model");
            Sorting::Missing
        }
    }
}

/// `readings` and `formula`, which need each other.
fn computed(scope: &mut Scope<'_>, fields: Fields<'_>) -> (Vec<Reading>, Option<At<String>>) {
    let formula = fields.text(scope, "formula");
    let readings = match fields.node("readings") {
        Some(node) => {
            let entries = scope.entries(node, "from the name of a reading to what is read");
            entries.iter().filter_map(|(name, node)| reading(scope, name, node)).collect()
        }
        None => Vec::new(),
    };
    if fields.node("readings").is_some() && formula.is_none() {
        scope.missing(fields.at, "formula", "say how the value is computed from the readings");
    }
    if fields.node("readings").is_none() && formula.is_some() {
        scope.missing(fields.at, "readings", "name the readings that the formula computes with");
    }
    (readings, formula)
}

fn reading(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> Option<Reading> {
    let id: Id = scope.declared(name);
    let fields = Fields::open(scope, node, name.at, &READING_KEYS)?;
    let ask = fields.required_text(scope, "ask");
    let unit = fields.node("unit").and_then(|node| scope.unit(node));
    let from = fields.required_decimal(scope, "from");
    let to = fields.required_decimal(scope, "to");
    check_range(scope, from.as_ref(), to.as_ref());
    Some(Reading { id, at: name.at, ask, unit, from, to, whole: fields.boolean(scope, "whole") })
}

fn check_range(scope: &mut Scope<'_>, from: Option<&At<Decimal>>, to: Option<&At<Decimal>>) {
    if let (Some(from), Some(to)) = (from, to)
        && to.value < from.value
    {
        let at: Place = to.at;
        scope.wrong(at, format!("`to` ({}) is below `from` ({})", to.value, from.value), "write the smaller number as `from`");
    }
}
