//! `equipment.yaml` and `stages.yaml`: the machine models and the stages of imaging.

use std::collections::BTreeMap;

use crate::finding::Finding;
use crate::finding::rule::DUPLICATE_KEY;
use crate::model::equipment::{Equipment, Model, Stage};
use crate::read::document;
use crate::read::fields::Fields;
use crate::read::file::after_mark;
use crate::read::scope::{Scope, quoted};
use crate::read::value::is_empty;
use crate::read::yaml::Node;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::Quantity;

pub const KEYS: [&str; 1] = ["models"];
pub const MODEL_KEYS: [&str; 3] = ["name", "figures", "repeats"];
pub const STAGES_KEYS: [&str; 1] = ["stages"];
pub const STAGE_KEYS: [&str; 4] = ["id", "name", "does", "faults"];

pub fn equipment(scope: &mut Scope<'_>) -> Equipment {
    let mut equipment = Equipment { at: Some(scope.top()), ..Equipment::default() };
    let Some(node) = document::mapping(scope, after_mark(scope.text), "the list of equipment") else {
        equipment.unreadable = true;
        return equipment;
    };
    if let Some(fields) = Fields::open(scope, &node, scope.top(), &KEYS)
        && let Some(node) = fields.node("models")
    {
        let entries = scope.entries(node, "from a model's id to its keys");
        equipment.models = entries.iter().map(|(name, node)| model(scope, name, node)).collect();
    }
    equipment
}

fn model(scope: &mut Scope<'_>, name: &At<String>, node: &Node) -> Model {
    let mut model = Model { id: scope.declared(name), at: name.at, name: None, figures: Vec::new(), repeats: Vec::new() };
    if let Some(fields) = Fields::open(scope, node, name.at, &MODEL_KEYS) {
        model.name = fields.text(scope, "name");
        model.figures = quantities(scope, fields, "figures");
        model.repeats = quantities(scope, fields, "repeats");
    }
    model
}

fn quantities(scope: &mut Scope<'_>, fields: Fields<'_>, key: &str) -> Vec<(At<Id>, At<Quantity>)> {
    let Some(node) = fields.node(key) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for (name, node) in scope.entries(node, "from a name to a number with its unit") {
        let id = scope.declared(name);
        if is_empty(node) {
            scope.wrong(node.at, format!("{} has no value", quoted(&name.value)), "write a number with its unit, or take the entry out");
        } else if let Some(quantity) = scope.quantity(node) {
            list.push((At::new(id, name.at), quantity));
        }
    }
    list
}

pub fn stages(scope: &mut Scope<'_>) -> Vec<Stage> {
    let Some(node) = document::mapping(scope, after_mark(scope.text), "the list of stages") else {
        return Vec::new();
    };
    let mut stages = Vec::new();
    let mut seen: BTreeMap<Id, Place> = BTreeMap::new();
    if let Some(fields) = Fields::open(scope, &node, scope.top(), &STAGES_KEYS)
        && let Some(node) = fields.node("stages")
    {
        for item in scope.list(node, "stages") {
            stages.extend(stage(scope, item, &mut seen));
        }
    }
    stages
}

fn stage(scope: &mut Scope<'_>, node: &Node, seen: &mut BTreeMap<Id, Place>) -> Option<Stage> {
    let fields = Fields::open(scope, node, node.at, &STAGE_KEYS)?;
    let id = fields.required(scope, "id").and_then(|node| scope.word(node));
    let name = fields.text(scope, "name");
    let does = fields.text(scope, "does");
    let faults = fields.texts(scope, "faults");
    let id_at = id?;
    let id = scope.declared(&id_at);
    if let Some(first) = seen.get(&id) {
        let finding = Finding::new(&DUPLICATE_KEY, id_at.at, format!("the stage {} is there twice", quoted(id.as_str())));
        let help = format!("keep one of them; the first is on line {}", first.line);
        scope.report(finding.subject(id.as_str()).help(help).also(*first, "first here"));
        return None;
    }
    seen.insert(id.clone(), id_at.at);
    Some(Stage { id, at: id_at.at, name, does, faults })
}
