//! A certificate beside each published procedure, `procedures/ID.certificate.json`: what the proof claims to be known at each step, and the flow
//! that it claims it of. With it the proof can be checked without finding it again, by a small program that shares nothing with ours: each way on
//! from a step must not lead to more than is claimed where it leads, and what a step demands must hold in what is claimed there
//! (`tests/outside/certificate.py` does so).
//!
//! Schema `stepward/certificate/1`, compact, keys sorted:
//!
//! - `procedure`, `revision`, `edition`: of the page that it stands beside; `edition` is that of the data in the page, a digest of all of it.
//! - `flow`: those data without what is only read (`flow_data`), key by key the same.
//! - `referred`: the procedures referred to: whom they are `for`, and their `models`.
//! - `claims`: one entry for each group of models that choose alike, its `models` and its `contexts`. Context 0 is the procedure from its own start.
//! - A context: the `procedure`, the state on `entry`, on arrival at each of its `steps` that a way leads to, and at its `exits` by outcome; `calls`
//!   gives for a carry-out step the number of the context in which the procedure carried out is entered.
//! - A state: `ages` of cautions, a pair of steps and seconds or `over`, absent for never; `waited`, the seconds surely waited for a condition with
//!   `takes`, absent for none (it holds at what it takes); `holds`, the other conditions that surely hold; `mayWaited` and `mayHold`, the same on the
//!   path with most; `person`, `checked`, `uncheckedCure`.

use serde_json::{Map, Value, json};

use crate::flow::contexts::{Context, contexts};
use crate::flow::deep::{deeply, deeply_each};
use crate::flow::facts::Facts;
use crate::flow::must::Program;
use crate::flow::net::Waived;
use crate::flow::proof::Programs;
use crate::flow::state::{Age, State};
use crate::model::catalogue::Catalogue;
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::StepKind;
use crate::render::flow_data::flow_data;
use crate::text::id::Id;

const SCHEMA: &str = "stepward/certificate/1";
/// Fewer procedures are not worth a thread.
const PART: usize = 8;

/// Hands path and bytes of each certificate of a library that passed the gate, so that all its waivers hold, to `put`.
///
/// # Errors
/// One that `put` returned.
pub fn each<E: Send>(library: &Library, put: &(impl Fn(String, Vec<u8>) -> Result<(), E> + Sync)) -> Result<(), E> {
    let followed: Vec<&Procedure> = library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn).collect();
    let waived = waived(library);
    // What a part makes ready it keeps to itself; a large part makes little ready twice.
    let parts: Vec<&[&Procedure]> = followed.chunks(followed.len().div_ceil(rayon::current_num_threads()).max(PART)).collect();
    let written = |part: usize| {
        let programs = Programs::new(library, &waived);
        parts[part].iter().try_for_each(|procedure| put(path(procedure), bytes(&programs, procedure)))
    };
    deeply_each(parts.len(), written).into_iter().collect()
}

/// Of one procedure of such a library. `None` if it is withdrawn.
pub fn one(library: &Library, procedure: &Procedure) -> Option<Vec<u8>> {
    let followed = procedure.status != Status::Withdrawn;
    followed.then(|| deeply(|| bytes(&Programs::new(library, &waived(library)), procedure)))
}

fn bytes(programs: &Programs<'_>, procedure: &Procedure) -> Vec<u8> {
    certificate(programs, procedure).to_string().into_bytes()
}

fn waived(library: &Library) -> Waived {
    let mut waived = Waived::default();
    for procedure in &library.procedures {
        for waiver in &procedure.waivers {
            if let (Some(step), Some(hazard), Some(of)) = (&waiver.step, &waiver.hazard, &waiver.of) {
                waived.add(&procedure.id, step, hazard, of.value);
            }
        }
    }
    waived
}

/// Where it stands in the site.
pub fn path(procedure: &Procedure) -> String {
    format!("procedures/{}.certificate.json", procedure.id)
}

/// The certificate of a procedure in which, and in whatever it carries out, nothing is broken. Says what the proof found, good or bad.
pub fn certificate(programs: &Programs<'_>, procedure: &Procedure) -> Value {
    let library = programs.library;
    let mut data = flow_data(library, procedure);
    let met: Vec<String> =
        data["hazards"].as_array().into_iter().flatten().filter_map(|hazard| hazard["id"].as_str().map(str::to_owned)).collect();
    let claims: Vec<Value> = programs.groups(procedure).iter().map(|(program, models)| claim(program, procedure, models, &met)).collect();
    let mut whole = json!({
        "schema": SCHEMA,
        "procedure": procedure.id.as_str(),
        "revision": procedure.revision.as_ref().map(|revision| revision.value),
        "edition": data["edition"].take(),
        "referred": referred(library, procedure),
    });
    // What is large is put at its key: `json!` would copy it.
    whole["flow"] = flow(data);
    whole["claims"] = claims.into();
    whole.sort_all_objects();
    whole
}

/// Keys of the data in the page that decide what is safe, from the top down; what stands below none of them is only read.
const FLOW: [&str; 6] = ["cautionWithin", "conditions", "hazards", "models", "procedure", "procedures"];
const CONDITION: [&str; 7] = ["id", "clears", "after", "takes", "shownBy", "triedOut", "mustClear"];
const HAZARD: [&str; 4] = ["id", "requires", "returnsWith", "least"];
const MODEL: [&str; 2] = ["id", "figures"];
const PROCEDURE: [&str; 7] = ["id", "kind", "for", "requires", "models", "start", "steps"];
const STEP: [&str; 17] = [
    "id", "kind", "seconds", "cautions", "exposes", "requires", "least", "wait", "waitFor", "clears", "sets", "cures", "atMost", "outcome",
    "callee", "referTo", "ways",
];

fn flow(data: Value) -> Value {
    let mut flow = only(data, &FLOW);
    for (name, keys) in [("conditions", &CONDITION[..]), ("hazards", &HAZARD), ("models", &MODEL)] {
        let all = flow[name].as_array_mut().into_iter().flatten();
        all.for_each(|one| *one = only(one.take(), keys));
    }
    of_each(&mut flow["procedures"], |procedure| {
        let mut kept = only(procedure, &PROCEDURE);
        of_each(&mut kept["steps"], step);
        kept
    });
    flow
}

fn step(mut step: Value) -> Value {
    let (measure, refer_to) = (step["measure"].take(), step["referTo"].take());
    let mut kept = only(step, &STEP);
    kept["measure"] = if measure.is_null() { Value::Null } else { only(measure, &["unit", "from", "to"]) };
    if !refer_to.is_null() {
        kept["referTo"] = only(refer_to, &["id"]);
    }
    kept
}

/// These keys of a map, each of them there.
fn only(value: Value, keys: &[&str]) -> Value {
    let Value::Object(mut map) = value else { return only(Value::Object(Map::new()), keys) };
    map.retain(|key, _| keys.contains(&key.as_str()));
    for key in keys {
        if !map.contains_key(*key) {
            map.insert((*key).to_owned(), Value::Null);
        }
    }
    map.into()
}

fn of_each(map: &mut Value, change: impl Fn(Value) -> Value) {
    map.as_object_mut().into_iter().flatten().for_each(|(_, value)| *value = change(value.take()));
}

/// What the flow's endings refer to, in the procedure and in all that it carries out.
fn referred(library: &Library, procedure: &Procedure) -> Value {
    let mut found = Map::new();
    let mut open = vec![procedure];
    let mut seen: Vec<&Id> = Vec::new();
    while let Some(next) = open.pop().filter(|next| !seen.contains(&&next.id)) {
        seen.push(&next.id);
        open.extend(next.callees().filter_map(|id| library.procedure(id)).filter(|callee| !seen.contains(&&callee.id)));
        for step in &next.steps {
            let StepKind::Do(action) = &step.kind else { continue };
            let Some(target) = action.refer_to.as_ref().and_then(|id| library.procedure(id)) else { continue };
            let models: Vec<&str> = library.models_of(target).into_iter().map(Id::as_str).collect();
            found.insert(target.id.to_string(), json!({ "for": target.person.as_str(), "models": models }));
        }
    }
    found.into()
}

fn claim(program: &Program<'_>, procedure: &Procedure, models: &[Id], met: &[String]) -> Value {
    let Some(number) = program.number(&procedure.id) else { return Value::Null };
    let catalogue = &program.library.catalogue;
    let said = Saying { catalogue, facts: &program.facts, met };
    let contexts: Vec<Value> = contexts(program, number).iter().map(|context| said.context(program, context)).collect();
    json!({ "models": models.iter().map(Id::as_str).collect::<Vec<_>>(), "contexts": contexts })
}

struct Saying<'a> {
    catalogue: &'a Catalogue,
    facts: &'a Facts,
    /// Hazards that the flow meets: no other counts here.
    met: &'a [String],
}

impl Saying<'_> {
    fn context(&self, program: &Program<'_>, context: &Context) -> Value {
        let net = program.net(context.procedure);
        let id = |node: usize| net.nodes[node].step.to_string();
        let states = context.arrivals.states.iter().enumerate();
        let steps = states.filter_map(|(node, state)| Some((id(node), self.state(state.as_ref()?)))).collect::<Map<String, Value>>();
        let exits = context.arrivals.exits.iter().map(|(outcome, state)| (outcome.to_string(), self.state(state)));
        let calls = context.calls.iter().map(|(node, called)| (id(*node), Value::from(*called)));
        json!({
            "procedure": net.procedure.as_str(),
            "entry": self.state(&context.entry),
            "steps": steps,
            "exits": exits.collect::<Map<String, Value>>(),
            "calls": calls.collect::<Map<String, Value>>(),
        })
    }

    fn state(&self, state: &State) -> Value {
        let mut ages = Map::new();
        for (hazard, age) in
            self.catalogue.hazards.iter().zip(&state.ages).filter(|(hazard, _)| self.met.iter().any(|met| met == hazard.id.as_str()))
        {
            match age {
                Age::Shown { steps, seconds } => drop(ages.insert(hazard.id.to_string(), json!([steps, seconds]))),
                Age::Over => drop(ages.insert(hazard.id.to_string(), Value::from("over"))),
                Age::Never => {}
            }
        }
        let (waited, holds) = self.levels(|condition| state.waited(condition));
        let (may_waited, may_hold) = self.levels(|condition| state.waited_at_most(condition));
        json!({
            "ages": ages, "waited": waited, "holds": holds, "mayWaited": may_waited, "mayHold": may_hold,
            "person": state.person.as_str(), "checked": state.checked, "uncheckedCure": state.unchecked_cure,
        })
    }

    /// Seconds of the conditions that take time, and those of the others that hold.
    fn levels(&self, level: impl Fn(usize) -> u32) -> (Map<String, Value>, Vec<&str>) {
        let (mut seconds, mut holding) = (Map::new(), Vec::new());
        for (number, condition) in self.catalogue.conditions.iter().enumerate().filter(|(number, _)| level(*number) > 0) {
            if self.facts.conditions[number].takes_time {
                seconds.insert(condition.id.to_string(), Value::from(level(number)));
            } else {
                holding.push(condition.id.as_str());
            }
        }
        holding.sort_unstable();
        (seconds, holding)
    }
}
