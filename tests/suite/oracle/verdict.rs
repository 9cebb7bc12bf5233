//! What the slow proof finds in a whole library.

use std::collections::{BTreeMap, BTreeSet};

use stepward::finding::Witness;
use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::model::step::StepKind;
use stepward::text::id::Id;

use crate::oracle::graph;
use crate::oracle::search;
use crate::oracle::world::World;

/// Rule, procedure, step, subject.
pub type Key = (&'static str, Id, Option<Id>, Option<String>);

/// For each finding the models on which it holds, each with the first of the shortest ways there, if a way shows it. No name: no models.
pub type Found = BTreeMap<Key, BTreeMap<Option<Id>, Option<Witness>>>;

pub struct Verdict {
    pub found: Found,
    pub not_analysed: BTreeSet<Id>,
}

/// `None` if a procedure has too many moments.
pub fn judge(library: &Library, today: &str) -> Option<Verdict> {
    let mut found = Found::new();
    let mut broken: BTreeSet<Id> = BTreeSet::new();
    // Callees first: a procedure is looked at once all that it carries out were.
    let mut open: Vec<&Procedure> = library.procedures.iter().collect();
    let mut done: BTreeSet<&Id> = BTreeSet::new();
    while !open.is_empty() {
        let (ready, later): (Vec<&Procedure>, Vec<&Procedure>) =
            open.into_iter().partition(|procedure| procedure.callees().all(|callee| done.contains(callee)));
        assert!(!ready.is_empty(), "procedures carry each other out in a circle");
        for procedure in ready {
            done.insert(&procedure.id);
            let unmapped = outcomes(library, procedure, &mut found);
            if unmapped || procedure.callees().any(|callee| broken.contains(callee)) {
                broken.insert(procedure.id.clone());
            } else {
                paths(library, procedure, today, &mut found)?;
            }
        }
        open = later;
    }
    Some(Verdict { found, not_analysed: broken })
}

/// Outcomes against what the procedures carried out can end with. True if one is not mapped.
fn outcomes(library: &Library, procedure: &Procedure, found: &mut Found) -> bool {
    let mut unmapped = false;
    for step in &procedure.steps {
        let StepKind::CarryOut(call) = &step.kind else { continue };
        let possible = graph::ends(library, library.procedure(&call.procedure.value).expect("a known procedure"));
        let mapped: BTreeSet<Id> = call.outcomes.iter().map(|way| way.name.value.clone()).collect();
        let all = || graph::models(library, procedure).into_iter().map(|model| (model.cloned(), None)).collect();
        for outcome in possible.difference(&mapped) {
            unmapped = true;
            found.insert(("outcome-unmapped", procedure.id.clone(), Some(step.id.clone()), Some(outcome.to_string())), all());
        }
        for outcome in mapped.difference(&possible) {
            found.insert(("outcome-impossible", procedure.id.clone(), Some(step.id.clone()), Some(outcome.to_string())), all());
        }
    }
    unmapped
}

fn paths(library: &Library, procedure: &Procedure, today: &str, found: &mut Found) -> Option<()> {
    let models = graph::models(library, procedure);
    let mut everywhere: BTreeMap<(&'static str, &Id), usize> = BTreeMap::new();
    for model in &models {
        let world = World::new(library, model.and_then(|id| library.equipment.model(id)), today);
        for ((step, rule, subject), witness) in search::failing(&world, procedure)? {
            let key = (rule, procedure.id.clone(), Some(step), subject);
            found.entry(key).or_default().insert(model.cloned(), Some(witness));
        }
        for (rule, step) in graph::judge(library, procedure, *model) {
            if matches!(rule, "step-unreachable" | "limit-idle") {
                *everywhere.entry((rule, step)).or_default() += 1;
            } else {
                found.entry((rule, procedure.id.clone(), Some(step.clone()), None)).or_default().insert(model.cloned(), None);
            }
        }
    }
    // These two are so only if they are on every model.
    for ((rule, step), count) in everywhere {
        if count == models.len() {
            let all = models.iter().map(|model| (model.cloned(), None)).collect();
            found.insert((rule, procedure.id.clone(), Some(step.clone()), None), all);
        }
    }
    // At most one of the two for a step and hazard, on whatever model.
    let missing: Vec<Key> = found.keys().filter(|key| key.0 == "caution-missing").cloned().collect();
    for (_, procedure, step, subject) in missing {
        found.remove(&("caution-out-of-date", procedure, step, subject));
    }
    Some(())
}
