//! Which steps lead where, without facts: every question is answered by walking from each step anew.

use std::collections::{BTreeMap, BTreeSet};

use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::model::step::{Sorting, Step, StepKind};
use stepward::text::id::Id;

/// Steps that one step leads to.
type Edges<'a> = BTreeMap<&'a Id, BTreeSet<&'a Id>>;

/// The outcomes that a procedure can end with, on any of the models that it is for.
pub fn ends(library: &Library, procedure: &Procedure) -> BTreeSet<Id> {
    models(library, procedure).into_iter().flat_map(|model| ends_on(library, procedure, model)).collect()
}

/// The outcomes that a procedure can end with on one model: the ways that a caller can really go there.
pub fn ends_on(library: &Library, procedure: &Procedure, model: Option<&Id>) -> BTreeSet<Id> {
    let edges = edges(library, procedure, model, false);
    let steps = reached(&edges, start(procedure), true);
    steps.into_iter().filter_map(|step| procedure.step(step)?.outcome()).map(|outcome| outcome.value.clone()).collect()
}

/// The models that a procedure is for; `None` in a library without models.
pub fn models<'a>(library: &'a Library, procedure: &Procedure) -> Vec<Option<&'a Id>> {
    let own = library.models_of(procedure);
    if own.is_empty() { vec![None] } else { own.into_iter().map(Some).collect() }
}

/// Rule and step of what is wrong on one model with the flow alone. A step that cannot be reached on this one is among them.
pub fn judge<'a>(library: &'a Library, procedure: &'a Procedure, model: Option<&Id>) -> BTreeSet<(&'static str, &'a Id)> {
    let full = edges(library, procedure, model, false);
    let limited = edges(library, procedure, model, true);
    let reached_steps = reached(&full, start(procedure), true);
    let trapped: BTreeSet<&Id> = reached_steps
        .iter()
        .copied()
        .filter(|step| reached(&full, step, true).iter().all(|there| procedure.step(there).and_then(Step::outcome).is_none()))
        .collect();
    let mut found = BTreeSet::new();
    for step in &procedure.steps {
        let id = &step.id;
        if !reached_steps.contains(id) {
            found.insert(("step-unreachable", id));
        } else if trapped.contains(id) {
            found.insert(("no-way-out", id));
        } else if first_of_circle(procedure, &limited, id, &reached_steps) {
            found.insert(("loop-unbounded", id));
        }
        if step.at_most.is_some() && !reached(&full, id, false).contains(id) {
            found.insert(("limit-idle", id));
        }
    }
    found
}

/// Whether a step is the first in the file of those that lead to it and to which it leads.
fn first_of_circle(procedure: &Procedure, edges: &Edges<'_>, id: &Id, among: &BTreeSet<&Id>) -> bool {
    let from_here = reached(edges, id, false);
    let first = procedure
        .steps
        .iter()
        .find(|other| among.contains(&other.id) && from_here.contains(&other.id) && reached(edges, &other.id, false).contains(id));
    first.is_some_and(|first| first.id == *id)
}

pub fn start(procedure: &Procedure) -> &Id {
    &procedure.start_step().expect("a start").id
}

/// The steps that a step leads to, in any number of ways; itself too if `with_itself`, else only along a circle.
fn reached<'a>(edges: &Edges<'a>, from: &Id, with_itself: bool) -> BTreeSet<&'a Id> {
    let mut open: Vec<&'a Id> = if with_itself {
        edges.get_key_value(from).map(|(id, _)| *id).into_iter().collect()
    } else {
        edges[from].iter().copied().collect()
    };
    let mut found = BTreeSet::new();
    while let Some(step) = open.pop() {
        if found.insert(step) {
            open.extend(edges[step].iter().copied());
        }
    }
    found
}

fn edges<'a>(library: &'a Library, procedure: &'a Procedure, model: Option<&Id>, only_otherwise: bool) -> Edges<'a> {
    procedure.steps.iter().map(|step| (&step.id, targets(library, step, model, only_otherwise))).collect()
}

fn targets<'a>(library: &'a Library, step: &'a Step, model: Option<&Id>, only_otherwise: bool) -> BTreeSet<&'a Id> {
    let mut to: BTreeSet<&Id> = step.otherwise.iter().map(|to| &to.value).collect();
    if only_otherwise && step.at_most.is_some() {
        return to;
    }
    match &step.kind {
        StepKind::Ask(question) => {
            to.extend(question.answers.iter().filter_map(|answer| answer.then.as_ref()).chain(&question.unsure).map(|to| &to.value));
        }
        StepKind::Measure(measurement) => {
            to.extend(measurement.unsure.iter().map(|to| &to.value));
            match &measurement.sorting {
                Sorting::Bands(bands) => to.extend(bands.iter().filter_map(|band| band.then.as_ref()).map(|to| &to.value)),
                Sorting::Match(table) => {
                    let ways = table.parts.iter().chain(&table.several).chain(&table.none);
                    to.extend(ways.filter_map(|way| way.then.as_ref()).map(|to| &to.value));
                }
                Sorting::Missing => {}
            }
        }
        StepKind::Do(action) => to.extend(action.then.iter().map(|to| &to.value)),
        StepKind::CarryOut(call) => {
            let possible = ends_on(library, library.procedure(&call.procedure.value).expect("a known procedure"), model);
            let ways = call.outcomes.iter().filter(|way| possible.contains(&way.name.value));
            to.extend(ways.filter_map(|way| way.then.as_ref()).map(|to| &to.value));
        }
        StepKind::ByModel(choice) => {
            let own = choice.ways.iter().find(|(name, _)| Some(&name.value) == model).map(|(_, to)| to);
            to.extend(own.or(choice.others.as_ref()).map(|to| &to.value));
        }
        StepKind::Unclear(_) => {}
    }
    to
}
