//! "What if this caution were not shown": counted again only where it can matter.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::finding::Witness;
use crate::flow::carry::Fault;
use crate::flow::coverage::Shown;
use crate::flow::coverage::ages::{Change, Solved};
use crate::flow::coverage::worst::{self, Wanted};
use crate::flow::must::Program;
use crate::flow::net::Role;
use crate::flow::proof::Programs;
use crate::flow::state::Age;
use crate::flow::witness::Goal;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

impl Programs<'_> {
    pub(super) fn shown(&self, procedure: &Procedure) -> Vec<Shown> {
        let Some(number) = self.list[0].number(&procedure.id) else { return Vec::new() };
        let mut shown = Vec::new();
        for (step, node) in self.list[0].net(number).nodes.iter().enumerate() {
            for hazard in &node.cautions {
                shown.push(Shown {
                    step: node.step.clone(),
                    hazard: self.library.catalogue.hazards[*hazard].id.clone(),
                    uncovers: self.uncovers(number, step, *hazard),
                });
            }
        }
        shown
    }

    fn uncovers(&self, number: usize, step: usize, hazard: usize) -> Vec<(Id, Id, Witness)> {
        let mut changed: BTreeMap<usize, BTreeMap<usize, Rc<Solved>>> = BTreeMap::new();
        for (place, program) in self.list.iter().enumerate() {
            for (root, solved) in program.counted.contexts.borrow_mut().without(program, number, step, hazard) {
                changed.entry(root).or_default().insert(place, solved);
            }
        }
        let mut found = Vec::new();
        let own = changed.remove(&number).map(|solved| (number, solved));
        for (root, solved) in own.into_iter().chain(changed) {
            self.new_failures(root, &solved, (number, step, hazard), &mut found);
        }
        found
    }

    /// The exposures of a procedure that fail, or fail worse, once it is counted as in `changed` (by place of the program).
    fn new_failures(
        &self,
        root: usize,
        changed: &BTreeMap<usize, Rc<Solved>>,
        left_out: (usize, usize, usize),
        found: &mut Vec<(Id, Id, Witness)>,
    ) {
        let procedure = &self.library.procedures[root];
        let (left_procedure, left_step, hazard) = left_out;
        let without = Change::Without { procedure: left_procedure, step: left_step };
        let groups: Vec<(&Program<'_>, Rc<Solved>, Rc<Solved>)> = self
            .list
            .iter()
            .enumerate()
            .filter(|(_, program)| program.counted.contexts.borrow().is_root(root))
            .map(|(place, program)| {
                let before = as_written(program, root, hazard);
                let after = changed.get(&place).map_or_else(|| Rc::clone(&before), Rc::clone);
                (program, before, after)
            })
            .collect();
        let mut steps = Vec::new();
        for (step, node) in self.list[0].net(root).nodes.iter().enumerate() {
            if node.role == Role::ByModel || !node.exposed.iter().any(|exposed| exposed.hazard == hazard) {
                continue;
            }
            let worst = |change: Change<'_>, after: bool| {
                let shows = |program: &Program<'_>| change.shows(program, root, step, hazard);
                let solved = groups.iter().map(|(program, old, new)| (*program, if after { new } else { old }));
                solved.filter_map(|(program, solved)| failure(program, solved, step, shows(program))).max()
            };
            if let (before, Some(after)) = (worst(Change::Nothing, false), worst(without, true))
                && before < Some(after)
            {
                let fault = if after == Age::Never { Fault::CautionMissing(hazard) } else { Fault::CautionOutOfDate(hazard) };
                steps.push((step, Wanted { goals: vec![Goal::Fault(step, fault)], hazard: Some(hazard) }));
            }
        }
        let programs: Vec<&Program<'_>> = groups.iter().map(|(program, ..)| *program).collect();
        let (steps, wanted): (Vec<usize>, Vec<Wanted>) = steps.into_iter().unzip();
        for (step, way) in steps.into_iter().zip(worst::find(&programs, root, &wanted, Some(left_out))) {
            found.push((procedure.id.clone(), procedure.steps[step].id.clone(), way.map_or_else(Vec::new, |way| way.witness())));
        }
    }
}

/// The procedure from its own start.
pub fn as_written(program: &Program<'_>, procedure: usize, hazard: usize) -> Rc<Solved> {
    let mut contexts = program.counted.contexts.borrow_mut();
    let root = contexts.root(program, procedure);
    contexts.as_written(program, root, hazard)
}

/// How a step fails that exposes to the hazard, if it does: `Over` or `Never`.
pub fn failure(program: &Program<'_>, solved: &Solved, step: usize, shows: bool) -> Option<Age> {
    let age = solved.arrivals[step].age(&program.facts, Age::Never)?;
    (!shows && matches!(age, Age::Over | Age::Never)).then_some(age)
}
