//! `safety.yaml`: conditions, hazards, parts.

use rust_decimal::Decimal;

use crate::model::catalogue::{Catalogue, CautionWithin, Condition, Hazard, Part, Person, ShownBy, Takes};
use crate::read::document;
use crate::read::fields::Fields;
use crate::read::file::after_mark;
use crate::read::scope::{Scope, quoted};
use crate::read::way::PERSONS;
use crate::read::yaml::Node;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::seconds;
use crate::text::signs::is_code;

pub const KEYS: [&str; 4] = ["conditions", "hazards", "parts", "caution-within"];
pub const CONDITION_KEYS: [&str; 8] = ["name", "clears", "words", "tried-out", "after", "takes", "shown-by", "must-clear"];
pub const HAZARD_KEYS: [&str; 14] = [
    "name",
    "kind",
    "place",
    "signal-word",
    "sign",
    "nature",
    "consequence",
    "avoid",
    "spoken",
    "requires",
    "returns-with",
    "least",
    "words",
    "no-control-because",
];
pub const PART_KEYS: [&str; 3] = ["name", "hazards", "words"];
pub const SHOWN_BY_KEYS: [&str; 3] = ["unit", "from", "up-to"];
pub const CAUTION_WITHIN_KEYS: [&str; 2] = ["steps", "minutes"];

pub fn catalogue(scope: &mut Scope<'_>) -> Catalogue {
    let mut catalogue = Catalogue { at: Some(scope.top()), ..Catalogue::default() };
    let Some(node) = document::mapping(scope, after_mark(scope.text), "the safety catalogue") else {
        catalogue.unreadable = true;
        return catalogue;
    };
    let Some(fields) = Fields::open(scope, &node, scope.top(), &KEYS) else {
        return catalogue;
    };
    if let Some(node) = fields.node("conditions") {
        let entries = scope.entries(node, "from a condition's id to its keys");
        catalogue.conditions = entries.iter().map(|(name, node)| condition(scope, name, node)).collect();
    }
    if let Some(node) = fields.node("hazards") {
        let entries = scope.entries(node, "from a hazard's id to its keys");
        catalogue.hazards = entries.iter().map(|(name, node)| hazard(scope, name, node)).collect();
    }
    if let Some(node) = fields.node("parts") {
        let entries = scope.entries(node, "from a part's id to its keys");
        catalogue.parts = entries.iter().map(|(name, node)| part(scope, name, node)).collect();
    }
    if let Some((key, node)) = fields.get("caution-within") {
        catalogue.caution_within = caution_within(scope, key.at, node);
    }
    catalogue
}

fn condition(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> Condition {
    let mut condition = Condition {
        id: scope.declared(name),
        at: name.at,
        name: None,
        clears: Vec::new(),
        words: Vec::new(),
        tried_out: false,
        after: None,
        takes: None,
        shown_by: None,
        must_clear: false,
    };
    let Some(fields) = Fields::open(scope, node, name.at, &CONDITION_KEYS) else {
        return condition;
    };
    condition.name = fields.text(scope, "name");
    condition.clears = fields.ids(scope, "clears");
    condition.words = fields.texts(scope, "words");
    condition.tried_out = fields.boolean(scope, "tried-out");
    condition.after = fields.id(scope, "after");
    condition.takes = fields.node("takes").and_then(|node| takes(scope, node));
    condition.shown_by = fields.get("shown-by").and_then(|(key, node)| shown_by(scope, key.at, node));
    condition.must_clear = fields.boolean(scope, "must-clear");
    timed(scope, fields, &condition);
    condition
}

/// What a condition with `takes` needs and may not have.
fn timed(scope: &mut Scope<'_>, fields: Fields<'_>, condition: &Condition) {
    let Some((_, takes)) = fields.get("takes") else {
        return;
    };
    if condition.after.is_none() {
        scope.wrong(takes.at, "`takes` without `after`", "name with `after` the condition from which the time counts");
    }
    if let Some((key, _)) = fields.get("clears").filter(|_| !condition.clears.is_empty()) {
        scope.wrong(key.at, "a condition with `takes` has `clears`", "let another condition clear these: this one begins with time");
    }
    if let Some((key, _)) = fields.get("must-clear").filter(|_| condition.must_clear) {
        scope.wrong(key.at, "a condition with `takes` has `must-clear`", "put `must-clear` on the condition it comes after");
    }
}

/// A duration, or a figure of the model.
fn takes(scope: &mut Scope<'_>, node: &Node) -> Option<At<Takes>> {
    let scalar = scope.scalar(node, "a duration or a figure")?;
    let text = scalar.text.trim();
    if text.starts_with(|c: char| c.is_alphabetic()) {
        return Some(At::new(Takes::Figure(Id::new(text)), node.at));
    }
    let length = scope.duration(node)?;
    Some(At::new(Takes::Seconds(length.value), node.at))
}

fn shown_by(scope: &mut Scope<'_>, key: Place, node: &Node) -> Option<ShownBy> {
    let fields = Fields::open(scope, node, key, &SHOWN_BY_KEYS)?;
    let unit = fields.required(scope, "unit").and_then(|node| scope.unit(node));
    let from = fields.decimal(scope, "from");
    let up_to = fields.required_decimal(scope, "up-to");
    if let (Some(from), Some(up_to)) = (&from, &up_to)
        && up_to.value < from.value
    {
        let message = format!("`up-to` ({}) is below `from` ({})", up_to.value, from.value);
        scope.wrong(up_to.at, message, "write the smaller number as `from`");
    }
    Some(ShownBy { at: key, unit: unit?.value, from: from.map(|from| from.value), up_to: up_to?.value })
}

/// A sign's code (ISO 7010): the form is judged, not whether the register has it. One of another form is no sign.
fn sign(scope: &mut Scope<'_>, code: At<String>) -> Option<At<String>> {
    if is_code(&code.value) {
        return Some(code);
    }
    let message = format!("{} is no code of a safety sign", quoted(&code.value));
    scope.wrong(code.at, message, "write a letter of E, F, M, P, W and three digits, such as `W017` for a hot surface");
    None
}

fn hazard(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> Hazard {
    let id = scope.declared(name);
    let open = Fields::open(scope, node, name.at, &HAZARD_KEYS);
    let text = |scope: &mut Scope<'_>, key: &str| open.and_then(|fields| fields.text(scope, key));
    let word = |scope: &mut Scope<'_>, key: &str| open.and_then(|fields| fields.word(scope, key));
    let ids = |scope: &mut Scope<'_>, key: &str| open.map(|fields| fields.ids(scope, key)).unwrap_or_default();
    Hazard {
        id,
        at: name.at,
        name: text(scope, "name"),
        kind: text(scope, "kind"),
        where_at: text(scope, "place"),
        signal_word: word(scope, "signal-word"),
        sign: word(scope, "sign").and_then(|code| sign(scope, code)),
        nature: text(scope, "nature"),
        consequence: text(scope, "consequence"),
        avoid: text(scope, "avoid"),
        spoken: text(scope, "spoken"),
        requires: ids(scope, "requires"),
        returns_with: ids(scope, "returns-with"),
        least: open.and_then(|fields| fields.choice(scope, "least", &PERSONS, Person::parse)),
        words: open.map(|fields| fields.texts(scope, "words")).unwrap_or_default(),
        no_control_because: text(scope, "no-control-because"),
    }
}

fn part(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> Part {
    let mut part = Part { id: scope.declared(name), at: name.at, name: None, hazards: Vec::new(), words: Vec::new() };
    if let Some(fields) = Fields::open(scope, node, name.at, &PART_KEYS) {
        part.name = fields.text(scope, "name");
        part.hazards = fields.ids(scope, "hazards");
        part.words = fields.texts(scope, "words");
    }
    part
}

/// How long a caution counts: at most six steps and fifteen minutes.
fn caution_within(scope: &mut Scope<'_>, key: Place, node: &Node) -> CautionWithin {
    let mut within = CautionWithin::default();
    let Some(fields) = Fields::open(scope, node, key, &CAUTION_WITHIN_KEYS) else {
        return within;
    };
    if let Some(steps) = fields.node("steps").and_then(|node| scope.whole(node, 0, within.steps)) {
        within.steps = steps.value;
    }
    if let Some(minutes) = fields.node("minutes").and_then(|node| scope.amount(node)) {
        let most = Decimal::from(within.seconds / 60);
        match seconds(minutes.value, "min").filter(|_| minutes.value <= most) {
            Some(length) => within.seconds = length,
            None => {
                let message = format!("{} minutes; a caution counts for at most {most}", quoted(&minutes.value.to_string()));
                scope.wrong(minutes.at, message, format!("write a number from 0 to {most}"));
            }
        }
    }
    within
}
