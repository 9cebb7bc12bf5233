//! What the proof knew of each exposure, step and ending of a procedure, to be held against what it knows now.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use crate::finding::WayKind;
use crate::flow::carry::Fault;
use crate::flow::facts::Facts;
use crate::flow::must::Program;
use crate::flow::net::{Role, Waived};
use crate::flow::state::{Age, State};
use crate::model::catalogue::Person;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// One exposure, over all models.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Exposure {
    pub reachable: bool,
    /// Why it is not proven, in trade words; proven if empty.
    pub lacks: BTreeSet<&'static str>,
    /// The steps that showed the caution last, on some path: procedure, step.
    pub shown_at: BTreeSet<(Id, Id)>,
}

/// What is known of one procedure.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// By step and hazard.
    pub exposures: BTreeMap<(Id, Id), Exposure>,
    /// By step: conditions that surely hold on arrival, on every model. Only steps that are reached.
    pub held: BTreeMap<Id, BTreeSet<Id>>,
    /// By outcome.
    pub ends: BTreeMap<Id, End>,
}

/// How a procedure leaves things when it ends with one outcome, over all models.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct End {
    /// Conditions that surely hold although nothing but what it requires held before.
    pub sets: BTreeSet<Id>,
    /// Conditions that surely hold if all held before.
    pub keeps: BTreeSet<Id>,
    /// Conditions that may hold although nothing but what it requires held before.
    pub may: BTreeSet<Id>,
    /// Hazards whose caution still counts if it was shown just before.
    pub cautions: BTreeSet<Id>,
    /// The person at the machine if that was the one it is for.
    pub person: Person,
    pub checked: bool,
    pub unchecked_cure: bool,
}

/// A library made ready for each of its models.
pub struct Programs<'a> {
    library: &'a Library,
    list: Vec<Program<'a>>,
    shown: RefCell<BTreeMap<(usize, usize, usize), Shown>>,
}

/// Steps that showed a caution last: procedure, step, by number.
type Steps = BTreeSet<(usize, usize)>;

/// Stands for whatever showed the caution before the procedure began.
const BEFORE: (usize, usize) = (usize::MAX, 0);

#[derive(Clone, Debug, Default)]
struct Shown {
    /// By step, on arrival.
    at: Vec<Steps>,
    /// By outcome.
    ends: BTreeMap<Id, Steps>,
}

impl<'a> Programs<'a> {
    pub fn new(library: &'a Library, waived: &'a Waived) -> Self {
        let models = library.equipment.models.iter().map(Some).chain([None]);
        Self { library, list: models.map(|model| Program::new(library, waived, model)).collect(), shown: RefCell::default() }
    }

    /// The programs of the models a procedure is for, by number; the one for no model if there are none.
    fn of(&self, procedure: &Procedure) -> Vec<usize> {
        let models = self.library.models_of(procedure);
        let ours = |program: &Program<'_>| program.model.is_some_and(|model| models.contains(&&model.id));
        let ours: Vec<usize> = self.list.iter().enumerate().filter(|(_, program)| ours(program)).map(|(number, _)| number).collect();
        if ours.is_empty() { self.list.len().checked_sub(1).into_iter().collect() } else { ours }
    }

    /// The procedure, and all it carries out, must be whole.
    pub fn known(&self, procedure: &Procedure) -> Known {
        let mut known = Known::default();
        for index in self.of(procedure) {
            let program = &self.list[index];
            let Some(number) = program.number(&procedure.id) else { continue };
            self.gather(index, number, &mut known);
            for (outcome, end) in ends(program, number) {
                match known.ends.get_mut(&outcome) {
                    Some(before) => before.join(&end),
                    None => drop(known.ends.insert(outcome, end)),
                }
            }
        }
        known
    }

    fn gather(&self, index: usize, number: usize, known: &mut Known) {
        let program = &self.list[index];
        let (net, catalogue) = (program.net(number), &self.library.catalogue);
        let arrivals = program.arrivals(number, program.start(number));
        for (place, (node, state)) in net.nodes.iter().zip(&arrivals.states).enumerate() {
            if let Some(state) = state {
                let now: BTreeSet<Id> = holding(&program.facts, state, catalogue.conditions.iter().map(|it| &it.id));
                known.held.entry(node.step.clone()).and_modify(|held| held.retain(|id| now.contains(id))).or_insert(now);
            }
            for exposed in &node.exposed {
                let Some(hazard) = catalogue.hazards.get(exposed.hazard) else { continue };
                let entry = known.exposures.entry((node.step.clone(), hazard.id.clone())).or_default();
                let Some(state) = state else { continue };
                entry.reachable = true;
                entry.lacks.extend(program.faults(net, node, state).iter().filter_map(|fault| lack(*fault, exposed.hazard)));
                if node.cautions.contains(&exposed.hazard) {
                    entry.shown_at.insert((net.procedure.clone(), node.step.clone()));
                } else {
                    entry.shown_at.extend(self.shown_at(index, number, exposed.hazard, place));
                }
            }
        }
    }

    fn shown_at(&self, index: usize, number: usize, hazard: usize, place: usize) -> BTreeSet<(Id, Id)> {
        let shown = self.shown(index, number, hazard);
        let named = |(procedure, node): &(usize, usize)| {
            let net = self.list[index].net(*procedure);
            net.nodes.get(*node).map(|node| (net.procedure.clone(), node.step.clone()))
        };
        shown.at.get(place).into_iter().flatten().filter(|it| **it != BEFORE).filter_map(named).collect()
    }

    /// Which steps showed a hazard's caution last, on some path (reaching definitions), procedures carried out in their caller's place.
    fn shown(&self, index: usize, number: usize, hazard: usize) -> Shown {
        if let Some(known) = self.shown.borrow().get(&(index, number, hazard)) {
            return known.clone();
        }
        self.shown.borrow_mut().insert((index, number, hazard), Shown::default());
        let program = &self.list[index];
        let net = program.net(number);
        let mut shown = Shown { at: vec![Steps::new(); net.nodes.len()], ends: BTreeMap::new() };
        let mut reached = vec![false; net.nodes.len()];
        let mut open: BTreeSet<usize> = net.start.into_iter().collect();
        if let Some(start) = net.start {
            shown.at[start].insert(BEFORE);
            reached[start] = true;
        }
        while let Some(place) = open.pop_first() {
            let node = &net.nodes[place];
            let arrival = shown.at[place].clone();
            let after = if node.cautions.contains(&hazard) { Steps::from([(number, place)]) } else { arrival.clone() };
            let inside = match &node.role {
                Role::CarryOut(callee) => program.number(callee).map(|callee| self.shown(index, callee, hazard).ends).unwrap_or_default(),
                Role::Plain | Role::ByModel => BTreeMap::new(),
            };
            for way in &node.ways {
                let onward = match way.kind {
                    WayKind::Otherwise | WayKind::Model => arrival.clone(),
                    WayKind::Outcome => match way.text.as_deref().and_then(|text| inside.get(text)) {
                        Some(ended) => through(ended, &after),
                        None => continue,
                    },
                    WayKind::Answer | WayKind::Band | WayKind::Part | WayKind::Unsure | WayKind::Next => after.clone(),
                };
                let before = shown.at[way.target].len();
                shown.at[way.target].extend(onward);
                if shown.at[way.target].len() > before || !std::mem::replace(&mut reached[way.target], true) {
                    open.insert(way.target);
                }
            }
            if let Some(outcome) = &node.outcome {
                shown.ends.entry(outcome.clone()).or_default().extend(after);
            }
        }
        self.shown.borrow_mut().insert((index, number, hazard), shown.clone());
        shown
    }
}

/// What a carried-out procedure left, in its caller's place.
fn through(ended: &Steps, before: &Steps) -> Steps {
    let own = ended.iter().copied().filter(|it| *it != BEFORE);
    if ended.contains(&BEFORE) { own.chain(before.iter().copied()).collect() } else { own.collect() }
}

fn holding<'a>(facts: &Facts, state: &State, ids: impl Iterator<Item = &'a Id>) -> BTreeSet<Id> {
    ids.filter(|id| facts.condition(id).is_some_and(|number| state.holds(facts, number))).cloned().collect()
}

fn lack(fault: Fault, hazard: usize) -> Option<&'static str> {
    match fault {
        Fault::CautionMissing(it) if it == hazard => Some("some way does not show its caution"),
        Fault::CautionOutOfDate(it) if it == hazard => Some("its caution is out of date"),
        Fault::Uncontrolled(it) if it == hazard => Some("what it demands does not hold"),
        Fault::BeyondHazard(it) if it == hazard => Some("the person may not be qualified"),
        _ => None,
    }
}

/// How a procedure leaves things, entered with nothing and entered with everything.
fn ends(program: &Program<'_>, number: usize) -> Vec<(Id, End)> {
    let (facts, catalogue) = (&program.facts, &program.library.catalogue);
    let all: Vec<usize> = (0..facts.conditions.len()).collect();
    let mut full = State::start(facts, &all, program.net(number).person);
    (0..facts.hazards.len()).for_each(|hazard| full.show(hazard));
    let low = program.arrivals(number, program.start(number)).exits;
    let high = program.arrivals(number, full).exits;
    let ids = || catalogue.conditions.iter().map(|it| &it.id);
    let end = |(outcome, low): (Id, State)| {
        let high = high.iter().find(|(other, _)| *other == outcome).map_or(&low, |(_, state)| state);
        let counts = |number: &usize| matches!(high.ages.get(*number), Some(Age::Shown { .. }));
        let may = |id: &&Id| facts.condition(id).is_some_and(|number| low.may_hold(facts, number));
        let end = End {
            sets: holding(facts, &low, ids()),
            keeps: holding(facts, high, ids()),
            may: ids().filter(may).cloned().collect(),
            cautions: (0..facts.hazards.len()).filter(counts).filter_map(|it| catalogue.hazards.get(it)).map(|it| it.id.clone()).collect(),
            person: low.person,
            checked: low.checked,
            unchecked_cure: low.unchecked_cure,
        };
        (outcome, end)
    };
    low.into_iter().map(end).collect()
}

impl End {
    /// What is so on another model, too.
    fn join(&mut self, other: &End) {
        self.sets.retain(|id| other.sets.contains(id));
        self.keeps.retain(|id| other.keeps.contains(id));
        self.cautions.retain(|id| other.cautions.contains(id));
        self.may.extend(other.may.iter().cloned());
        self.person = self.person.min(other.person);
        self.checked &= other.checked;
        self.unchecked_cure |= other.unchecked_cure;
    }
}
