//! Which hazards somebody meets at a step, and in a procedure with everything it carries out.

use std::collections::BTreeSet;

use crate::model::catalogue::{Hazard, Person};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;

/// A hazard of a procedure and the steps that meet it or show its caution.
pub struct Met<'a> {
    pub hazard: &'a Hazard,
    pub at: Vec<(&'a Procedure, &'a Step)>,
}

/// The hazards a step exposes to: its own and those of the parts it touches, each once, most severe first, then as in the catalogue.
pub fn exposed<'a>(library: &'a Library, step: &Step) -> Vec<&'a Hazard> {
    let ids: BTreeSet<&Id> = library.catalogue.exposed(step).into_iter().map(|hazard| &hazard.id).collect();
    in_order(library, &ids)
}

/// The cautions of a step: by signal word, those of one word in the order of the catalogue, as the follower shows them.
pub fn cautions<'a>(library: &'a Library, step: &Step) -> Vec<&'a Hazard> {
    in_order(library, &step.cautions.iter().map(|id| &id.value).collect())
}

/// Every hazard that the flow can meet, procedures it carries out included.
pub fn met<'a>(library: &'a Library, procedure: &'a Procedure) -> Vec<Met<'a>> {
    let all = carried_out(library, procedure);
    let steps: Vec<(&Procedure, &Step)> = all.iter().flat_map(|one| one.steps.iter().map(move |step| (*one, step))).collect();
    let touching = |step: &Step, id: &Id| {
        step.cautions.iter().any(|caution| caution.value == *id) || exposed(library, step).iter().any(|hazard| hazard.id == *id)
    };
    let ids: BTreeSet<&Id> = steps
        .iter()
        .flat_map(|(_, step)| exposed(library, step).into_iter().chain(cautions(library, step)))
        .map(|hazard| &hazard.id)
        .collect();
    in_order(library, &ids)
        .into_iter()
        .map(|hazard| Met { hazard, at: steps.iter().filter(|(_, step)| touching(step, &hazard.id)).copied().collect() })
        .collect()
}

/// The procedure itself, then all it carries out, each once, in the order of first mention.
pub fn carried_out<'a>(library: &'a Library, procedure: &'a Procedure) -> Vec<&'a Procedure> {
    let mut found = vec![procedure];
    let mut next = 0;
    while let Some(one) = found.get(next).copied() {
        next += 1;
        for step in &one.steps {
            if let StepKind::CarryOut(carry_out) = &step.kind
                && let Some(callee) = library.procedure(&carry_out.procedure)
                && !found.iter().any(|known| known.id == callee.id)
            {
                found.push(callee);
            }
        }
    }
    found
}

/// The least qualified person who may do a step: as it says, and as every hazard it exposes to says; `None` if neither says.
pub fn least(library: &Library, step: &Step) -> Option<Person> {
    let hazards = exposed(library, step).into_iter().filter_map(|hazard| hazard.least.as_ref().map(|person| person.value));
    hazards.chain(step.least.as_ref().map(|person| person.value)).max()
}

fn in_order<'a>(library: &'a Library, ids: &BTreeSet<&Id>) -> Vec<&'a Hazard> {
    let mut found: Vec<&Hazard> = library.catalogue.hazards.iter().filter(|hazard| ids.contains(&hazard.id)).collect();
    found.sort_by_key(|hazard| (hazard.signal().is_none(), hazard.signal()));
    found
}
