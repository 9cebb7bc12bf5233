//! A procedure file: its front matter and its body.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::finding::rule::{FRONT_MATTER_INVALID, FRONT_MATTER_MISSING, TOO_DEEP};
use crate::model::body::Body;
use crate::model::catalogue::Person;
use crate::model::procedure::{Fault, Kind, Procedure, Status, Waiver, WaiverOf};
use crate::model::step::Step;
use crate::read::body;
use crate::read::document;
use crate::read::fields::Fields;
use crate::read::front_matter::{self, Cut};
use crate::read::scope::{Scope, quoted};
use crate::read::step::{denials, step};
use crate::read::value::is_empty;
use crate::read::way::PERSONS;
use crate::read::yaml::{Node, Value};
use crate::text::id::Id;
use crate::text::place::At;

/// The most steps one procedure may have.
pub const MOST_STEPS: usize = 10_000;

pub const KEYS: [&str; 23] = [
    "title",
    "summary",
    "symptoms",
    "codes",
    "stages",
    "tools",
    "supplies",
    "kind",
    "equipment",
    "for",
    "status",
    "revision",
    "owner",
    "review-by",
    "replaced-by",
    "withdrawn-because",
    "requires",
    "outcomes",
    "not-touching",
    "faults",
    "waivers",
    "start",
    "steps",
];
pub const FAULT_KEYS: [&str; 3] = ["name", "weight", "comes-to"];
pub const WAIVER_KEYS: [&str; 6] = ["step", "hazard", "of", "reason", "by", "until"];

/// A procedure as it was read, and what is known of it for certain.
#[derive(Clone)]
pub struct Read {
    pub procedure: Arc<Procedure>,
    /// Its kind is written or left to the default, and not lost in a broken file.
    pub kind_known: bool,
}

/// A procedure of which nothing but its name is known. Its status counts as released: what may be published must not pass unjudged.
pub fn unknown(id: Id, scope: &Scope<'_>) -> Read {
    let mut procedure = blank(id, scope);
    procedure.status = Status::Released;
    Read { procedure: Arc::new(procedure), kind_known: false }
}

/// Reads one file. The scope knows the procedure's id.
pub fn procedure(scope: &mut Scope<'_>, id: Id) -> Read {
    let text = scope.text;
    let (yaml, body_start) = match front_matter::cut(text) {
        Cut::Found { yaml, body } => (yaml, body),
        Cut::None { body } => {
            let help = "begin the file with a line of `---`, the front matter, and another line of `---`";
            scope.say(&FRONT_MATTER_MISSING, scope.top(), "the file does not begin with front matter", help);
            let mut read = unknown(id, scope);
            Arc::make_mut(&mut read.procedure).body = body::body(scope, body, true);
            return read;
        }
        Cut::Unclosed { opening } => {
            let at = crate::read::lines::Lines::new(scope.file, text).place(opening);
            scope.say(&FRONT_MATTER_INVALID, at, "the front matter is not closed", "end it with a line of `---`");
            return unknown(id, scope);
        }
    };
    let parsed = document::mapping(scope, yaml, "the front matter");
    let mut read = match &parsed {
        Some(node) => {
            let mut procedure = blank(id, scope);
            let kind_known = front_matter(scope, node, &mut procedure);
            Read { procedure: Arc::new(procedure), kind_known }
        }
        None => unknown(id, scope),
    };
    Arc::make_mut(&mut read.procedure).body = body::body(scope, body_start, true);
    read
}

fn blank(id: Id, scope: &Scope<'_>) -> Procedure {
    Procedure {
        id,
        at: scope.top(),
        title: None,
        summary: None,
        symptoms: Vec::new(),
        codes: Vec::new(),
        stages: Vec::new(),
        tools: Vec::new(),
        supplies: Vec::new(),
        kind: Kind::default(),
        equipment: None,
        person: Person::default(),
        status: Status::default(),
        revision: None,
        owner: None,
        review_by: None,
        replaced_by: None,
        withdrawn_because: None,
        requires: Vec::new(),
        outcomes: None,
        not_touching: Vec::new(),
        faults: Vec::new(),
        waivers: Vec::new(),
        start: None,
        steps: Vec::new(),
        body: Body { file: scope.file, ..Body::default() },
    }
}

/// Reads the keys; says whether the kind of procedure is known.
fn front_matter(scope: &mut Scope<'_>, node: &Node, procedure: &mut Procedure) -> bool {
    let Some(fields) = Fields::open(scope, node, scope.top(), &KEYS) else {
        return false;
    };
    for_readers(scope, fields, procedure);
    let kind_known = kind_and_status(scope, fields, procedure);
    release(scope, fields, procedure);
    procedure.person = fields.choice(scope, "for", &PERSONS, Person::parse).map_or(Person::Ordinary, |person| person.value);
    procedure.equipment = fields.node("equipment").and_then(|node| {
        let names = scope.ids(node);
        if matches!(&node.value, Value::List(items) if items.is_empty()) {
            scope.wrong(node.at, "`equipment` names no model", "name the models, or leave the key out for every model");
            return None;
        }
        Some(names)
    });
    procedure.not_touching = denials(scope, fields, "not-touching");
    procedure.faults = faults(scope, fields);
    procedure.waivers = waivers(scope, fields);
    procedure.start = fields.id(scope, "start");
    of_tasks(scope, fields, procedure, kind_known);
    procedure.steps = steps(scope, fields, procedure.status);
    kind_known
}

fn for_readers(scope: &mut Scope<'_>, fields: Fields<'_>, procedure: &mut Procedure) {
    procedure.title = fields.required_text(scope, "title");
    procedure.summary = fields.text(scope, "summary");
    procedure.symptoms = fields.texts(scope, "symptoms");
    procedure.codes = fields.texts(scope, "codes");
    procedure.stages = fields.ids(scope, "stages");
    procedure.tools = fields.texts(scope, "tools");
    procedure.supplies = fields.texts(scope, "supplies");
}

fn kind_and_status(scope: &mut Scope<'_>, fields: Fields<'_>, procedure: &mut Procedure) -> bool {
    let parse = |word: &str| match word {
        "fault-finding" => Some(Kind::FaultFinding),
        "task" => Some(Kind::Task),
        _ => None,
    };
    let kind = fields.choice(scope, "kind", &["fault-finding", "task"], parse);
    procedure.kind = kind.as_ref().map_or(Kind::FaultFinding, |kind| kind.value);
    let words = Status::ALL.map(Status::as_str);
    procedure.status = match fields.node("status") {
        None => Status::Draft,
        // A status nobody can read counts as released, so that the file is judged before anything is published.
        Some(node) => scope.choice(node, &words, Status::parse).map_or(Status::Released, |status| status.value),
    };
    kind.is_some() || fields.node("kind").is_none()
}

/// Revision, owner and dates; what a released or withdrawn file must say.
fn release(scope: &mut Scope<'_>, fields: Fields<'_>, procedure: &mut Procedure) {
    let written = fields.node("status").is_some_and(|node| matches!(&node.value, Value::Scalar(word) if word.text.trim() == "released"));
    let needed: &[&str] = match procedure.status {
        Status::Released if written => &["revision", "owner", "review-by"],
        Status::Withdrawn => &["replaced-by", "withdrawn-because"],
        Status::Draft | Status::InReview | Status::Released => &[],
    };
    for key in needed {
        if fields.node(key).is_none() {
            let status = procedure.status.as_str();
            scope.missing(fields.at, key, format!("a procedure with `status: {status}` needs {}", needed.join(", ")));
        }
    }
    procedure.revision = fields.node("revision").and_then(|node| scope.whole(node, 0, u32::MAX));
    procedure.owner = fields.text(scope, "owner");
    procedure.review_by = fields.date(scope, "review-by");
    procedure.replaced_by = fields.id(scope, "replaced-by");
    procedure.withdrawn_because = fields.text(scope, "withdrawn-because");
}

/// `requires` and `outcomes`, which only a task has.
fn of_tasks(scope: &mut Scope<'_>, fields: Fields<'_>, procedure: &mut Procedure, kind_known: bool) {
    if procedure.kind == Kind::FaultFinding && kind_known {
        for name in ["requires", "outcomes"] {
            if let Some((key, _)) = fields.get(name) {
                let message = format!("the key {} does not belong on fault finding", quoted(name));
                scope.wrong(key.at, message, "take it out, or write `kind: task`");
            }
        }
        return;
    }
    procedure.requires = fields.ids(scope, "requires");
    procedure.outcomes = fields.node("outcomes").map(|node| outcomes(scope, node));
}

fn outcomes(scope: &mut Scope<'_>, node: &Node) -> Vec<At<Id>> {
    let names = scope.ids(node);
    if matches!(&node.value, Value::List(items) if items.is_empty()) {
        scope.wrong(node.at, "`outcomes` names no outcome", "name the outcomes, or leave the key out for `done` and `not-done`");
    }
    for name in &names {
        scope.declared(&At::new(name.value.as_str().to_owned(), name.at));
    }
    names
}

fn faults(scope: &mut Scope<'_>, fields: Fields<'_>) -> Vec<Fault> {
    let Some(node) = fields.node("faults") else {
        return Vec::new();
    };
    let mut faults = Vec::new();
    for (name, node) in scope.entries(node, "from a fault's id to its `name` and `weight`") {
        let mut fault = Fault { id: scope.declared(name), at: name.at, name: None, weight: Decimal::ONE, comes_to: None };
        if let Some(fields) = Fields::open(scope, node, name.at, &FAULT_KEYS) {
            fault.name = fields.text(scope, "name");
            if let Some(weight) = fields.decimal(scope, "weight") {
                if weight.value > Decimal::ZERO {
                    fault.weight = weight.value;
                } else {
                    scope.wrong(
                        weight.at,
                        format!("the weight {} is not over 0", quoted(&weight.value.to_string())),
                        "write a number over 0",
                    );
                }
            }
            fault.comes_to = fields.id(scope, "comes-to");
        }
        faults.push(fault);
    }
    faults
}

fn waivers(scope: &mut Scope<'_>, fields: Fields<'_>) -> Vec<Waiver> {
    let Some(node) = fields.node("waivers") else {
        return Vec::new();
    };
    let parse = |word: &str| match word {
        "requires" => Some(WaiverOf::Requires),
        "least" => Some(WaiverOf::Least),
        _ => None,
    };
    let mut waivers = Vec::new();
    for item in scope.list(node, "waivers") {
        if let Some(fields) = Fields::open(scope, item, item.at, &WAIVER_KEYS) {
            waivers.push(Waiver {
                at: item.at,
                step: fields.id(scope, "step"),
                hazard: fields.id(scope, "hazard"),
                of: fields.choice(scope, "of", &["requires", "least"], parse),
                reason: fields.text(scope, "reason"),
                by: fields.text(scope, "by"),
                until: fields.date(scope, "until"),
            });
        }
    }
    waivers
}

fn steps(scope: &mut Scope<'_>, fields: Fields<'_>, status: Status) -> Vec<Step> {
    let withdrawn = status == Status::Withdrawn;
    let Some(node) = fields.node("steps") else {
        if !withdrawn {
            scope.missing(fields.at, "steps", "add the steps; a procedure without any leads nowhere");
        }
        return Vec::new();
    };
    let before = std::mem::take(&mut scope.findings);
    let entries = scope.entries(node, "from a step's id to its keys");
    if entries.is_empty() && !is_empty(node) && matches!(&node.value, Value::Map(_)) {
        scope.wrong(node.at, "`steps` holds no step", "add the steps; a procedure without any leads nowhere");
    }
    let mut steps = Vec::new();
    if let Some((key, _)) = entries.get(MOST_STEPS) {
        let finding = Finding::new(&TOO_DEEP, key.at, format!("a procedure of over {MOST_STEPS} steps"));
        scope.report(finding.help("divide it into several procedures"));
    } else {
        for (key, node) in entries {
            scope.step = Some(Id::new(&key.value));
            steps.push(step(scope, key, node));
            scope.step = None;
        }
    }
    // The steps of a withdrawn file are kept for its readers and not checked.
    let inside = std::mem::replace(&mut scope.findings, before);
    if !withdrawn {
        scope.findings.extend(inside);
    }
    steps
}
