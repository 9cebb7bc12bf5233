//! The ways on from a step: answers, bands, parts of a table, outcomes; and which faults take them.

use rust_decimal::Decimal;

use crate::model::catalogue::Person;
use crate::model::step::{Answer, Band, Effects, Limit, LimitValue, Match, NamedWay, When};
use crate::read::fields::Fields;
use crate::read::scope::{Scope, quoted};
use crate::read::value::is_empty;
use crate::read::yaml::{Node, Value};
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::{Unit, decimal, split_number};

/// The three words for how qualified somebody is.
pub const PERSONS: [&str; 3] = ["ordinary", "instructed", "skilled"];

pub const MOST_BANDS: usize = 40;

pub const ANSWER_KEYS: [&str; 6] = ["answer", "then", "when", "sets", "clears", "person"];
pub const BAND_KEYS: [&str; 6] = ["below", "up-to", "then", "when", "sets", "clears"];
pub const MATCH_KEYS: [&str; 5] = ["table", "within", "parts", "several", "none"];
pub const WAY_KEYS: [&str; 2] = ["then", "when"];

pub fn answers(scope: &mut Scope<'_>, node: &Node) -> Vec<Answer> {
    let items = scope.list(node, "answers");
    items.iter().filter_map(|item| answer(scope, item)).collect()
}

fn answer(scope: &mut Scope<'_>, node: &Node) -> Option<Answer> {
    let fields = Fields::open(scope, node, node.at, &ANSWER_KEYS)?;
    Some(Answer {
        at: node.at,
        text: fields.required_text(scope, "answer"),
        then: fields.id(scope, "then"),
        effects: effects(scope, fields),
        person: fields.choice(scope, "person", &PERSONS, Person::parse),
        when: when(scope, fields.node("when")),
    })
}

/// The conditions that `clears` and `sets` name.
pub fn effects(scope: &mut Scope<'_>, fields: Fields<'_>) -> Effects {
    Effects { clears: fields.ids(scope, "clears"), sets: fields.ids(scope, "sets") }
}

pub fn bands(scope: &mut Scope<'_>, node: &Node) -> Vec<Band> {
    let items = scope.list(node, "bands");
    if matches!(&node.value, Value::List(_)) && !(1..=MOST_BANDS).contains(&items.len()) {
        let message = format!("{} bands; a measurement has 1 to {MOST_BANDS}", items.len());
        scope.wrong(node.at, message, "write at least one band; join bands that lead the same way");
    }
    items.iter().take(MOST_BANDS).filter_map(|item| band(scope, item)).collect()
}

fn band(scope: &mut Scope<'_>, node: &Node) -> Option<Band> {
    let fields = Fields::open(scope, node, node.at, &BAND_KEYS)?;
    let below = fields.get("below");
    let up_to = fields.get("up-to");
    if let (Some((first, _)), Some((second, _))) = (below, up_to) {
        let later = if first.at.start > second.at.start { first.at } else { second.at };
        scope.wrong(later, "a band has both `below` and `up-to`", "keep `below` (edge outside) or `up-to` (edge inside)");
    }
    let limit = match (below, up_to) {
        (Some((_, value)), _) => limit(scope, value, false),
        (None, Some((_, value))) => limit(scope, value, true),
        (None, None) => None,
    };
    let then = fields.id(scope, "then");
    Some(Band { at: node.at, limit, then, effects: effects(scope, fields), when: when(scope, fields.node("when")) })
}

/// A number, perhaps with a unit, or the name of a figure.
fn limit(scope: &mut Scope<'_>, node: &Node, inside: bool) -> Option<At<Limit>> {
    let scalar = scope.scalar(node, "a limit")?;
    let text = scalar.text.trim();
    if text.starts_with(|c: char| c.is_alphabetic()) {
        return Some(At::new(Limit { inside, value: LimitValue::Figure(Id::new(text)) }, node.at));
    }
    let (digits, unit) = split_number(text);
    // A unit after a space may be any text, which the rules compare; glued to the digits only a unit of the format is one (`1e3` is none).
    let apart = text.strip_prefix(digits).is_some_and(|rest| rest.starts_with(char::is_whitespace));
    let unit_fits = unit.is_empty() || apart || Unit::parse(unit).is_some();
    let quoted_number = !scalar.plain && unit.is_empty();
    match decimal(digits).filter(|_| unit_fits && !quoted_number) {
        Some(number) => {
            let value = LimitValue::Number(number, (!unit.is_empty()).then(|| unit.to_owned()));
            Some(At::new(Limit { inside, value }, node.at))
        }
        None => {
            let help = "write a plain number (`85`), one with the step's unit, or the name of a figure";
            scope.wrong(node.at, format!("{} is neither a number nor a figure", quoted(text)), help);
            None
        }
    }
}

pub fn matching(scope: &mut Scope<'_>, node: &Node, key: crate::text::place::Place) -> Option<Match> {
    let fields = Fields::open(scope, node, key, &MATCH_KEYS)?;
    let table = fields.required(scope, "table").and_then(|node| scope.id(node));
    if let Some(table) = table.as_ref().filter(|table| table.value != "repeats") {
        scope.wrong(table.at, format!("{} is not a table of a model", quoted(table.as_str())), "write `repeats`, the only table there is");
    }
    let within = fields.required(scope, "within").and_then(|node| scope.amount(node));
    let parts = match fields.required(scope, "parts") {
        Some(node) => named_ways(scope, node, "from part to step"),
        None => Vec::new(),
    };
    let several = end_of_match(scope, fields, "several");
    let none = end_of_match(scope, fields, "none");
    Some(Match { at: key, table, within, parts, several, none })
}

fn end_of_match(scope: &mut Scope<'_>, fields: Fields<'_>, key: &str) -> Option<NamedWay> {
    fields.required(scope, key)?;
    let (name, node) = fields.get(key)?;
    Some(named_way(scope, name, node))
}

/// A mapping from names to ways on: a step, or `{ then, when }`.
pub fn named_ways(scope: &mut Scope<'_>, node: &Node, what: &str) -> Vec<NamedWay> {
    let entries = scope.entries(node, what);
    entries.iter().map(|(name, node)| named_way(scope, name, node)).collect()
}

fn named_way(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> NamedWay {
    let name_id = At::new(Id::new(&name.value), name.at);
    if is_empty(node) {
        return NamedWay { name: name_id, then: None, when: When::Unsaid };
    }
    if matches!(&node.value, Value::Scalar(_)) {
        return NamedWay { name: name_id, then: scope.id(node), when: When::Unsaid };
    }
    match Fields::open(scope, node, name.at, &WAY_KEYS) {
        Some(fields) => {
            let then = fields.id(scope, "then");
            NamedWay { name: name_id, then, when: when(scope, fields.node("when")) }
        }
        None => NamedWay { name: name_id, then: None, when: When::Unsaid },
    }
}

/// `rest`, a list of faults, or a mapping from fault to probability.
fn when(scope: &mut Scope<'_>, node: Option<&Node>) -> When {
    let Some(node) = node else {
        return When::Unsaid;
    };
    match &node.value {
        Value::Scalar(scalar) if scalar.text.trim() == "rest" => When::Rest(node.at),
        Value::Scalar(scalar) => {
            let message = format!("{} is neither `rest` nor a list of faults", quoted(&scalar.text));
            scope.wrong(node.at, message, "write `rest`, a list `[fault]`, or a mapping from fault to probability");
            When::Unsaid
        }
        Value::List(_) => When::Faults(scope.ids(node).into_iter().map(|fault| (fault, None)).collect()),
        Value::Map(mapping) => {
            let faults = mapping.entries.iter().map(|(fault, node)| (At::new(Id::new(&fault.value), fault.at), probability(scope, node)));
            When::Faults(faults.collect())
        }
    }
}

fn probability(scope: &mut Scope<'_>, node: &Node) -> Option<At<Decimal>> {
    let number = scope.decimal(node)?;
    if number.value < Decimal::ZERO || number.value > Decimal::ONE {
        let message = format!("the probability {} is not from 0 to 1", quoted(&number.value.to_string()));
        scope.wrong(node.at, message, "write a number from 0 to 1, such as `0.25`");
        return None;
    }
    Some(number)
}
