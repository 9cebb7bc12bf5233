//! Cautions that nothing depends on: no way leads from the step that shows one to its hazard while it still counts.
//!
//! A caution counts until it is shown again, until something makes it void, and for so many steps and minutes; a way may lead through procedures that are
//! carried out, and from the ending of a task on into every procedure that carries it out. For each hazard one search goes backwards from wherever it
//! is met, over all procedures at once, and gives each step what it is away at the least ([`ways`]). So the work grows with steps times hazards, not
//! with pairs of steps.

mod ways;

use std::collections::BTreeSet;

use crate::flow::idle::ways::Ways;
use crate::flow::must::Program;
use crate::flow::proof::Programs;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// A caution at a step: procedure, step and hazard by number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Caution {
    pub procedure: usize,
    pub node: usize,
    pub hazard: usize,
}

/// What is known to be wrong elsewhere, and where ways are therefore not followed: nothing is called idle for it.
pub struct Wrong<'a> {
    /// Procedures whose paths are not judged. Somebody may come out of a task into one of them; what is met there nobody knows.
    pub broken: &'a BTreeSet<Id>,
    /// Procedures and steps where a condition that is needed does not hold: what is set there, or in the procedure carried out, may not be.
    pub refused: BTreeSet<(Id, Id)>,
}

impl Programs<'_> {
    /// The cautions that are idle on every model on which their step can be reached.
    pub fn idle_cautions(&self, wrong: &Wrong<'_>) -> BTreeSet<Caution> {
        let mut shown = BTreeSet::new();
        let mut used = BTreeSet::new();
        let mut seen: Vec<(&Program<'_>, Vec<usize>)> = Vec::new();
        for program in &self.list {
            let here = self.taking_part(program, wrong.broken);
            if here.is_empty() || seen.iter().any(|(other, there)| *there == here && self.alike(program, other, &here)) {
                continue;
            }
            let ways = Ways::new(program, &here, wrong);
            ways.judge(&mut shown, &mut used);
            seen.push((program, here));
        }
        shown.difference(&used).copied().collect()
    }

    /// The procedures that are for the program's model, by number; those for no known model in the program without one.
    fn taking_part(&self, program: &Program<'_>, broken: &BTreeSet<Id>) -> Vec<usize> {
        let is_for = |procedure: &Procedure| {
            let models = self.library.models_of(procedure);
            program.model.map_or(models.is_empty(), |model| models.contains(&&model.id))
        };
        let whole = self.library.procedures.iter().enumerate().filter(|(_, procedure)| !broken.contains(&procedure.id));
        whole.filter(|(_, procedure)| is_for(procedure)).map(|(number, _)| number).collect()
    }

    fn alike(&self, one: &Program<'_>, other: &Program<'_>, procedures: &[usize]) -> bool {
        let choosing = procedures.iter().filter(|number| self.depends(&self.library.procedures[**number]));
        one.facts == other.facts && choosing.into_iter().all(|number| one.net(*number) == other.net(*number))
    }
}
