//! A step: which of the five kinds it is, and what its keys say.

use crate::finding::rule::KEY_MISSING;
use crate::model::catalogue::Person;
use crate::model::procedure::Denial;
use crate::model::step::{Action, ByModel, CarryOut, Question, Step, StepKind};
use crate::read::fields::Fields;
use crate::read::measurement::measurement;
use crate::read::scope::{Scope, quoted};
use crate::read::value::is_empty;
use crate::read::way::{self, PERSONS};
use crate::read::yaml::{Mapping, Node};
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::seconds;

/// The kinds of step a key may stand on.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Kinds(u8);

impl Kinds {
    pub fn share(self, other: Kinds) -> bool {
        self.0 & other.0 != 0
    }
}

pub const ASK: Kinds = Kinds(1);
pub const MEASURE: Kinds = Kinds(2);
pub const DO: Kinds = Kinds(4);
pub const CARRY_OUT: Kinds = Kinds(8);
pub const BY_MODEL: Kinds = Kinds(16);
/// The kinds that somebody carries out with the hands.
const HANDS: Kinds = Kinds(7);

/// The five keys that tell the kind, with what a step of that kind is called.
pub const KIND_KEYS: [(&str, Kinds, &str); 5] = [
    ("ask", ASK, "a question"),
    ("measure", MEASURE, "a measurement"),
    ("do", DO, "an action"),
    ("carry-out", CARRY_OUT, "another procedure"),
    ("by-model", BY_MODEL, "a choice by model"),
];

/// Every key of steps and where it belongs.
pub const KEYS: [(&str, Kinds); 38] = [
    ("ask", ASK),
    ("measure", MEASURE),
    ("do", DO),
    ("carry-out", CARRY_OUT),
    ("by-model", BY_MODEL),
    ("answers", ASK),
    ("unsure", Kinds(1 | 2)),
    ("unit", MEASURE),
    ("from", MEASURE),
    ("to", MEASURE),
    ("bands", MEASURE),
    ("match", MEASURE),
    ("readings", MEASURE),
    ("formula", MEASURE),
    ("then", DO),
    ("outcome", DO),
    ("refer-to", DO),
    ("wait", DO),
    ("wait-for", DO),
    ("sets", DO),
    ("clears", DO),
    ("outcomes", CARRY_OUT),
    ("name", CARRY_OUT),
    ("minutes", HANDS),
    ("cost", HANDS),
    ("cautions", HANDS),
    ("touches", HANDS),
    ("exposes", HANDS),
    ("requires", HANDS),
    ("least", HANDS),
    ("stage", HANDS),
    ("picture", HANDS),
    ("words-of", HANDS),
    ("not-touching", Kinds(7 | 8)),
    ("not-changing", Kinds(7 | 8)),
    ("cures", Kinds(4 | 8)),
    ("at-most", Kinds(7 | 8)),
    ("otherwise", Kinds(7 | 8)),
];

/// The longest wait, in seconds.
const LONGEST_WAIT: u32 = 4 * 3600;

/// Reads one entry of `steps`. The scope's step is set by the caller.
pub fn step(scope: &mut Scope<'_>, key: &At<String>, node: &Node) -> Step {
    let id = scope.declared(key);
    let mut step = blank(id, key.at);
    if let Some(fields) = Fields::open_freely(scope, node, key.at) {
        let (kind, kinds) = kind(scope, fields);
        step.kind = kind;
        // A key of another kind is a finding and says nothing more.
        let own = own_keys(fields, kinds);
        common(scope, fields.over(&own), &mut step);
    }
    step
}

fn blank(id: Id, at: Place) -> Step {
    Step {
        id,
        at,
        kind: StepKind::Unclear(Vec::new()),
        seconds: None,
        cost: None,
        cautions: Vec::new(),
        touches: Vec::new(),
        exposes: Vec::new(),
        not_touching: Vec::new(),
        not_changing: Vec::new(),
        requires: Vec::new(),
        least: None,
        stage: None,
        picture: None,
        words_of: None,
        cures: Vec::new(),
        at_most: None,
        otherwise: None,
    }
}

/// What the step has of the keys that belong on its kind.
fn own_keys(fields: Fields<'_>, kinds: Kinds) -> Mapping {
    let belongs = |name: &str| KEYS.iter().any(|(key, on)| *key == name && on.share(kinds));
    Mapping { entries: fields.entries().iter().filter(|(key, _)| belongs(&key.value)).cloned().collect() }
}

/// The kind, and the kinds whose keys may stand on the step.
fn kind(scope: &mut Scope<'_>, fields: Fields<'_>) -> (StepKind, Kinds) {
    let found: Vec<_> = KIND_KEYS.iter().filter_map(|(key, kind, called)| Some((fields.get(key)?, *kind, *called))).collect();
    let [((key, node), kind, called)] = found.as_slice() else {
        check_keys(scope, fields, Kinds(31), "");
        let mut keys: Vec<_> = found.iter().map(|((key, _), ..)| (*key).clone()).collect();
        keys.sort_by_key(|key| key.at.start);
        return (StepKind::Unclear(keys), Kinds(31));
    };
    check_keys(scope, fields, *kind, called);
    let read = match key.value.as_str() {
        "ask" => StepKind::Ask(Question {
            text: own_text(scope, node),
            answers: fields.node("answers").map(|node| way::answers(scope, node)).unwrap_or_default(),
            unsure: fields.id(scope, "unsure"),
        }),
        "measure" => {
            let text = own_text(scope, node);
            StepKind::Measure(Box::new(measurement(scope, fields, text)))
        }
        "do" => StepKind::Do(action(scope, fields, node)),
        "carry-out" => StepKind::CarryOut(CarryOut {
            procedure: scope.id(node).unwrap_or_else(|| At::new(Id::new(""), node.at)),
            name: fields.text(scope, "name"),
            outcomes: fields.node("outcomes").map(|node| way::named_ways(scope, node, "from outcome to step")).unwrap_or_default(),
        }),
        _ => StepKind::ByModel(by_model(scope, node)),
    };
    (read, *kind)
}

fn own_text(scope: &mut Scope<'_>, node: &Node) -> At<String> {
    scope.text(node).unwrap_or_else(|| At::new(String::new(), node.at))
}

/// Reports keys that no step has, and keys that belong on another kind.
fn check_keys(scope: &mut Scope<'_>, fields: Fields<'_>, kind: Kinds, called: &str) {
    let known: Vec<&str> = KEYS.iter().map(|(key, _)| *key).collect();
    let likely: Vec<&str> = KEYS.iter().filter(|(_, kinds)| kinds.share(kind)).map(|(key, _)| *key).collect();
    fields.report_unknown(scope, &known, &likely);
    for key in fields.keys() {
        let Some((name, kinds)) = KEYS.iter().find(|(name, _)| *name == key.value) else {
            continue;
        };
        // A kind key without a value is as good as absent: it does not make the step of two kinds, and says nothing wrong.
        let absent = KIND_KEYS.iter().any(|(kind_key, ..)| kind_key == name) && fields.get(name).is_none();
        if !kinds.share(kind) && !absent {
            let places: Vec<&str> = KIND_KEYS.iter().filter(|(_, one, _)| one.share(*kinds)).map(|(_, _, called)| *called).collect();
            let message = format!("the key {} does not belong on {called}", quoted(name));
            scope.wrong(key.at, message, format!("take it out; it belongs on {}", places.join(", ")));
        }
    }
}

fn action(scope: &mut Scope<'_>, fields: Fields<'_>, node: &Node) -> Action {
    let wait = fields.node("wait").and_then(|node| wait(scope, node));
    Action {
        text: own_text(scope, node),
        then: fields.id(scope, "then"),
        outcome: fields.id(scope, "outcome"),
        refer_to: fields.id(scope, "refer-to"),
        wait,
        wait_for: fields.id(scope, "wait-for"),
        effects: way::effects(scope, fields),
    }
}

fn wait(scope: &mut Scope<'_>, node: &Node) -> Option<At<u32>> {
    let wait = scope.duration(node)?;
    if wait.value > LONGEST_WAIT {
        scope.wrong(node.at, "a wait of over 4 hours", "wait at most `4 h`; end the visit and come back for more");
        return None;
    }
    Some(wait)
}

fn by_model(scope: &mut Scope<'_>, node: &Node) -> ByModel {
    let mut ways = Vec::new();
    let mut others = None;
    for (model, step) in scope.entries(node, "from model to step, with `others` for the rest") {
        if is_empty(step) {
            scope.say(&KEY_MISSING, model.at, format!("{} leads to no step", quoted(&model.value)), "name the step it goes on to");
        } else if let Some(step) = scope.id(step) {
            if model.value == "others" {
                others = Some(step);
            } else {
                ways.push((At::new(Id::new(&model.value), model.at), step));
            }
        }
    }
    ByModel { at: node.at, ways, others }
}

/// The keys that several kinds share.
fn common(scope: &mut Scope<'_>, fields: Fields<'_>, step: &mut Step) {
    step.seconds = fields.node("minutes").and_then(|node| minutes(scope, node));
    step.cost = fields.node("cost").and_then(|node| scope.amount(node));
    step.cautions = fields.ids(scope, "cautions");
    step.touches = fields.ids(scope, "touches");
    step.exposes = fields.ids(scope, "exposes");
    step.not_touching = denials(scope, fields, "not-touching");
    step.not_changing = denials(scope, fields, "not-changing");
    step.requires = fields.ids(scope, "requires");
    step.least = fields.choice(scope, "least", &PERSONS, Person::parse);
    step.stage = fields.id(scope, "stage");
    step.picture = fields.word(scope, "picture").filter(|path| crate::read::path::stays_inside(scope, path));
    step.words_of = fields.id(scope, "words-of");
    step.cures = fields.ids(scope, "cures");
    step.at_most = fields.node("at-most").and_then(|node| scope.whole(node, 1, 99));
    step.otherwise = fields.id(scope, "otherwise");
}

fn minutes(scope: &mut Scope<'_>, node: &Node) -> Option<At<u32>> {
    let minutes = scope.amount(node)?;
    let length = seconds(minutes.value, "min");
    if length.is_none() {
        scope.wrong(node.at, "`minutes` of over a year", "write the working time of this one step");
    }
    length.map(|length| At::new(length, node.at))
}

/// `not-touching` and `not-changing`: what the words name, and why that is no exposure.
pub fn denials(scope: &mut Scope<'_>, fields: Fields<'_>, key: &str) -> Vec<Denial> {
    let Some(node) = fields.node(key) else {
        return Vec::new();
    };
    let mut denials = Vec::new();
    for (of, reason) in scope.entries(node, "from what is named to the reason") {
        let text = if is_empty(reason) {
            scope.say(&KEY_MISSING, of.at, format!("{} has no reason", quoted(&of.value)), "write why; the review shows it");
            None
        } else {
            scope.text(reason)
        };
        let reason = text.unwrap_or_else(|| At::new(String::new(), reason.at));
        denials.push(Denial { of: At::new(Id::new(&of.value), of.at), reason });
    }
    denials
}
