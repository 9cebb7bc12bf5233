//! Every exposure of a procedure, over all groups of models that it is for.

use std::cell::RefCell;
use std::collections::BTreeSet;

/// Where a setter comes in the list: the procedure's own first, then by procedure, step and way.
type Order = (bool, usize, usize, Option<usize>);

use num_bigint::BigUint;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::flow::carry::{self, Fault};
use crate::flow::coverage::setters::{Origin, Setters};
use crate::flow::coverage::ways::{self, Counted};
use crate::flow::coverage::worst::{self, Wanted};
use crate::flow::coverage::{Cover, Exposure, Held, Setter};
use crate::flow::must::Program;
use crate::flow::net::{Exposed, Role};
use crate::flow::proof::Programs;
use crate::flow::state::{Age, State};
use crate::model::catalogue::Person;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::text::id::Id;

/// What is known of the procedure on one group of models.
struct OnGroup<'p, 'l> {
    program: &'p Program<'l>,
    models: Vec<Id>,
    number: usize,
    states: Vec<Option<State>>,
    counted: Vec<Counted>,
    /// By step and condition.
    origins: Vec<Option<Vec<BTreeSet<Origin>>>>,
}

/// An exposure with what is wrong with it.
#[derive(Default)]
struct Judged {
    age: Option<Age>,
    person: Option<Person>,
    faults: BTreeSet<Fault>,
}

impl Programs<'_> {
    /// Makes every procedure that is judged ready for each group of its models, so that callers are known.
    pub(super) fn make_ready(&self) {
        if self.ready.replace(true) {
            return;
        }
        for procedure in self.library.procedures.iter().filter(|procedure| !self.left_out.contains(&procedure.id)) {
            for (program, _) in self.groups(procedure) {
                if let Some(number) = program.number(&procedure.id) {
                    program.counted.contexts.borrow_mut().root(program, number);
                }
            }
        }
    }

    pub(super) fn exposures(&self, procedure: &Procedure) -> Vec<Exposure> {
        let groups: Vec<OnGroup<'_, '_>> =
            self.groups(procedure).into_iter().filter_map(|(program, models)| OnGroup::new(program, models, procedure)).collect();
        let Some(first) = groups.first() else { return Vec::new() };
        let net = first.program.net(first.number);
        let mut exposures = Vec::new();
        let mut wanted = Vec::new();
        for (number, node) in net.nodes.iter().enumerate().filter(|(_, node)| node.role != Role::ByModel) {
            for exposed in &node.exposed {
                let exposure = self.exposure(procedure, &groups, number, exposed);
                wanted.push((exposures.len(), exposed.hazard, Wanted::new(first.program, number, exposed.hazard, &exposure.cover)));
                exposures.push(exposure);
            }
        }
        wanted.retain(|(exposure, ..)| exposures[*exposure].reachable);
        let programs: Vec<&Program<'_>> = groups.iter().map(|group| group.program).collect();
        let (places, wanted): (Vec<(usize, usize)>, Vec<Wanted>) =
            wanted.into_iter().map(|(exposure, hazard, wanted)| ((exposure, hazard), wanted)).unzip();
        for ((exposure, hazard), found) in places.into_iter().zip(worst::find(&programs, first.number, &wanted, None)) {
            let Some(found) = found else { continue };
            match (&mut exposures[exposure].cover, found.shown_at(hazard)) {
                (Cover::Before { at, .. }, Some(shown)) => *at = shown,
                (Cover::OutOfDate { at }, shown) => *at = shown,
                _ => {}
            }
            exposures[exposure].worst = Some(found.witness());
        }
        exposures
    }

    fn exposure(&self, procedure: &Procedure, groups: &[OnGroup<'_, '_>], number: usize, exposed: &Exposed) -> Exposure {
        let step = &procedure.steps[number];
        let hazard = &self.library.catalogue.hazards[exposed.hazard];
        let reached: Vec<&OnGroup<'_, '_>> = groups.iter().filter(|group| group.states[number].is_some()).collect();
        let mut judged = Judged::default();
        for group in &reached {
            judged.add(group, number, exposed.hazard);
        }
        let most = reached.iter().map(|group| &group.counted[number]).max_by_key(|counted| counted.ways.clone());
        let on: BTreeSet<&Id> = reached.iter().flat_map(|group| &group.models).collect();
        let everywhere = reached.len() == groups.len();
        let models = self.library.equipment.models.iter().map(|model| &model.id).filter(|model| !everywhere && on.contains(model));
        let facts = &groups[0].program.facts.hazards[exposed.hazard];
        Exposure {
            step: step.id.clone(),
            hazard: hazard.id.clone(),
            parts: self.parts(step, &hazard.id),
            declared: step.exposes.iter().any(|named| named.value == hazard.id),
            models: models.cloned().collect(),
            reachable: !reached.is_empty(),
            cover: cover(judged.age, groups[0].program.net(groups[0].number).nodes[number].cautions.contains(&exposed.hazard), &step.id),
            person: judged.person.unwrap_or(procedure.person),
            least: facts.least,
            least_waived: exposed.least_waived,
            conditions: facts.requires.iter().map(|condition| self.held(procedure, &reached, number, *condition)).collect(),
            requires_waived: exposed.requires_waived,
            proven: !reached.is_empty() && judged.faults.is_empty(),
            ways: most.map_or(BigUint::ZERO, |counted| counted.ways.clone()).to_string(),
            loops: reached.iter().any(|group| group.counted[number].loops),
            worst: None,
        }
    }

    fn parts(&self, step: &Step, hazard: &Id) -> Vec<Id> {
        let brings = |part: &&Id| {
            let part = self.library.catalogue.part(part);
            part.is_some_and(|part| part.hazards.iter().any(|named| named.value == *hazard))
        };
        let mut parts: Vec<Id> = Vec::new();
        for part in step.touches.iter().map(|part| &part.value).filter(brings) {
            if !parts.contains(part) {
                parts.push(part.clone());
            }
        }
        parts
    }

    fn held(&self, procedure: &Procedure, reached: &[&OnGroup<'_, '_>], number: usize, condition: usize) -> Held {
        let mut held = Held {
            condition: self.library.catalogue.conditions[condition].id.clone(),
            holds: !reached.is_empty(),
            set_by: Vec::new(),
            from_start: false,
        };
        let mut setters: Vec<(Order, Setter)> = Vec::new();
        for group in reached {
            held.holds &= group.holds(number, condition);
            let Some(origins) = &group.origins[number] else { continue };
            for origin in &origins[condition] {
                let Some((callee, node, way)) = *origin else {
                    held.from_start = true;
                    continue;
                };
                let setter = group.setter(callee, node, way);
                if !setters.iter().any(|(_, known)| *known == setter) {
                    setters.push(((setter.procedure != procedure.id, callee, node, way), setter));
                }
            }
        }
        setters.sort();
        held.set_by = setters.into_iter().map(|(_, setter)| setter).collect();
        held
    }
}

impl<'p, 'l> OnGroup<'p, 'l> {
    fn new(program: &'p Program<'l>, models: Vec<Id>, procedure: &Procedure) -> Option<Self> {
        let number = program.number(&procedure.id)?;
        let states = program.arrivals(number, program.start(number)).states;
        let mut wanted = vec![false; program.facts.conditions.len()];
        for exposed in program.net(number).nodes.iter().flat_map(|node| &node.exposed) {
            program.facts.hazards[exposed.hazard].requires.iter().for_each(|condition| wanted[*condition] = true);
        }
        let root = program.counted.contexts.borrow_mut().root(program, number);
        let contexts = program.counted.contexts.borrow();
        let setters = Setters { program, contexts: &contexts, wanted, ends: RefCell::new(FxHashMap::default()) };
        let origins = setters.arrivals(root).0;
        Some(Self { program, models, number, states, counted: ways::count(program, number), origins })
    }

    /// Now and after what the step itself changes.
    fn holds(&self, number: usize, condition: usize) -> bool {
        let facts = &self.program.facts;
        let node = &self.program.net(self.number).nodes[number];
        let holds = |state: &State| state.holds(facts, condition) && carry::afterwards(facts, node, state).holds(facts, condition);
        self.states[number].as_ref().is_some_and(holds)
    }

    fn setter(&self, procedure: usize, node: usize, way: Option<usize>) -> Setter {
        let net = self.program.net(procedure);
        let node = &net.nodes[node];
        let named = |way: usize| node.ways.get(way).map(|way| (way.kind, way.text.clone()));
        let way: Option<(WayKind, Option<String>)> = way.and_then(named);
        Setter { procedure: net.procedure.clone(), step: node.step.clone(), way }
    }
}

impl Judged {
    fn add(&mut self, group: &OnGroup<'_, '_>, number: usize, hazard: usize) {
        let net = group.program.net(group.number);
        let Some(state) = &group.states[number] else { return };
        let age = state.ages[hazard];
        self.age = Some(self.age.map_or(age, |known| known.join(age)));
        self.person = Some(self.person.map_or(state.person, |known| known.min(state.person)));
        let ours = |fault: &Fault| match fault {
            Fault::CautionMissing(of) | Fault::CautionOutOfDate(of) | Fault::Uncontrolled(of) | Fault::BeyondHazard(of) => *of == hazard,
            _ => false,
        };
        self.faults.extend(group.program.faults(net, &net.nodes[number], state).into_iter().filter(ours));
    }
}

/// What an age means; `step` stands in for where it was shown until the way is known.
fn cover(age: Option<Age>, here: bool, step: &Id) -> Cover {
    match age {
        _ if here => Cover::Here,
        Some(Age::Shown { steps, seconds }) => Cover::Before { steps, seconds, at: (step.clone(), step.clone()) },
        Some(Age::Over) => Cover::OutOfDate { at: None },
        Some(Age::Never) | None => Cover::Missing,
    }
}
