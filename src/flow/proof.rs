//! Everything the analysis has to say about one procedure, over all the models it is for.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{WayKind, Witness, WitnessEntry};
use crate::flow::carry::Fault;
use crate::flow::loops;
use crate::flow::must::Program;
use crate::flow::net::{Net, Waived};
use crate::flow::reach;
use crate::flow::state::State;
use crate::flow::witness::{self, Goal, Hop};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{LimitValue, Sorting, Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;

/// A library made ready for each of its models.
pub struct Programs<'a> {
    pub library: &'a Library,
    /// One for each model in the order of `equipment.yaml`, and last one for "no model".
    pub(super) list: Vec<Program<'a>>,
    /// Whether the catalogue itself differs from model to model (a `takes` that is a figure).
    facts_differ: bool,
    /// Whether a procedure chooses by model, once known.
    dependent: RefCell<BTreeMap<Id, bool>>,
    /// Procedures that are not judged, for what [`Programs::coverage`] says of the procedures that carry out others.
    pub(super) left_out: BTreeSet<Id>,
    /// Whether every procedure has been made ready for it.
    pub(super) ready: Cell<bool>,
}

/// Something seen at a step (by number).
#[derive(Clone, Debug)]
pub struct Seen {
    pub node: usize,
    /// The models it holds for; empty if it holds for all.
    pub models: Vec<Id>,
    pub witness: Option<Witness>,
    /// What the witness does with limits, if anything.
    pub remark: Option<Remark>,
}

/// What the analysis does not count, and the way that is shown therefore does: in two words, and in a sentence.
#[derive(Clone, Debug)]
pub struct Remark {
    pub short: &'static str,
    pub long: String,
}

/// A fault, with the conditions that do not hold where that is the fault.
#[derive(Clone, Debug)]
pub struct SeenFault {
    pub fault: Fault,
    pub missing: Vec<usize>,
    pub seen: Seen,
}

/// What was found about one procedure. Nothing in it means: proved.
#[derive(Clone, Debug, Default)]
pub struct Proof {
    /// Steps that no way leads to, on any model.
    pub unreachable: Vec<usize>,
    /// Steps from which no ending can be reached.
    pub trapped: Vec<Seen>,
    /// First steps of circles that no limit ends.
    pub unbounded: Vec<Seen>,
    /// Limited steps that are in no circle.
    pub idle_limits: Vec<usize>,
    pub faults: Vec<SeenFault>,
}

impl<'a> Programs<'a> {
    pub fn new(library: &'a Library, waived: &'a Waived) -> Self {
        let models = library.equipment.models.iter().map(Some).chain([None]);
        let list: Vec<Program<'a>> = models.map(|model| Program::new(library, waived, model)).collect();
        let facts_differ = list.iter().take(list.len() - 1).any(|program| program.facts != list[0].facts);
        Self { library, list, facts_differ, dependent: RefCell::default(), left_out: BTreeSet::new(), ready: Cell::new(false) }
    }

    /// Outcomes that a procedure can end with, on any model it is for.
    pub fn outcomes(&self, procedure: &Procedure) -> BTreeSet<Id> {
        let programs = self.programs_of(procedure);
        programs.iter().filter_map(|program| program.number(&procedure.id).map(|number| program.outcomes(number))).flatten().collect()
    }

    fn programs_of(&self, procedure: &Procedure) -> Vec<&Program<'a>> {
        let models = self.library.models_of(procedure);
        let ours: Vec<&Program<'a>> =
            self.list.iter().filter(|program| program.model.is_some_and(|model| models.contains(&&model.id))).collect();
        if ours.is_empty() { self.list.last().into_iter().collect() } else { ours }
    }

    /// The models of a procedure, grouped by how they choose: one program for each group, with its models.
    pub fn groups(&self, procedure: &Procedure) -> Vec<(&Program<'a>, Vec<Id>)> {
        let mut groups: Vec<(&Program<'a>, Vec<Id>)> = Vec::new();
        let depends = self.facts_differ || self.depends(procedure);
        let closure = if depends { self.closure(procedure) } else { BTreeSet::new() };
        for program in self.programs_of(procedure) {
            let model = program.model.map(|model| model.id.clone());
            let alike = |known: &&Program<'a>| {
                !depends || (known.facts == program.facts && closure.iter().all(|number| known.net(*number) == program.net(*number)))
            };
            match groups.iter_mut().find(|(known, _)| alike(known)) {
                Some((_, models)) => models.extend(model),
                None => groups.push((program, model.into_iter().collect())),
            }
        }
        groups
    }

    /// Whether a step of the procedure, or of one it carries out, chooses by model.
    pub(super) fn depends(&self, procedure: &Procedure) -> bool {
        if let Some(known) = self.dependent.borrow().get(&procedure.id) {
            return *known;
        }
        self.dependent.borrow_mut().insert(procedure.id.clone(), false);
        let callees = procedure.callees().filter_map(|id| self.library.procedure(id));
        let depends = procedure.steps.iter().any(depends_on_model) || callees.into_iter().any(|callee| self.depends(callee));
        self.dependent.borrow_mut().insert(procedure.id.clone(), depends);
        depends
    }

    /// The procedure and all it carries out, by number.
    pub(super) fn closure(&self, procedure: &Procedure) -> BTreeSet<usize> {
        let number = |id: &Id| self.list.first().and_then(|program| program.number(id));
        let mut open: Vec<usize> = number(&procedure.id).into_iter().collect();
        let mut found = BTreeSet::new();
        while let Some(next) = open.pop() {
            if found.insert(next) {
                open.extend(self.library.procedures[next].callees().filter_map(number));
            }
        }
        found
    }

    /// Judges one procedure. It, and all it carries out, must be whole: no broken references.
    pub fn prove(&self, procedure: &Procedure) -> Proof {
        let Some(number) = self.list[0].number(&procedure.id) else { return Proof::default() };
        let groups = self.groups(procedure);
        let mut gathered = Gathered::default();
        for (index, (program, _)) in groups.iter().enumerate() {
            gathered.add(index, program, number);
        }
        let every = groups.len();
        let spot = |node: usize, on: &BTreeSet<usize>, goal: Goal| {
            let found = on.iter().filter_map(|index| groups.get(*index));
            let witnesses = found.filter_map(|(program, _)| witness::shortest(program, number, goal).map(|path| (*program, path)));
            let shortest = witnesses.min_by(|(one, path), (other, longer)| {
                path.len().cmp(&longer.len()).then_with(|| written(one, path).cmp(&written(other, longer)))
            });
            let on_these: BTreeSet<&Id> = on.iter().filter_map(|index| groups.get(*index)).flat_map(|(_, models)| models).collect();
            let models = self.library.equipment.models.iter().map(|model| &model.id).filter(|model| on_these.contains(model)).cloned();
            Seen {
                node,
                models: if on.len() == every { Vec::new() } else { models.collect() },
                remark: shortest.as_ref().and_then(|(program, path)| remark(program, path)),
                witness: shortest.map(|(program, path)| entries(program, &path)),
            }
        };
        gathered.proof(&spot, every)
    }
}

/// What was seen on each group of models, by group number.
#[derive(Default)]
struct Gathered {
    /// By step: the groups on which it cannot be reached.
    unreachable: BTreeMap<usize, usize>,
    trapped: BTreeMap<usize, BTreeSet<usize>>,
    unbounded: BTreeMap<usize, BTreeSet<usize>>,
    idle: BTreeMap<usize, usize>,
    faults: BTreeMap<(usize, Fault), (BTreeSet<usize>, BTreeSet<usize>)>,
}

impl Gathered {
    fn add(&mut self, group: usize, program: &Program<'_>, number: usize) {
        let net = program.net(number);
        let successors = program.successors(number);
        let reached = reach::reachable(&successors, net.start);
        let endings = (0..net.nodes.len()).filter(|node| net.nodes[*node].outcome.is_some() || net.nodes[*node].no_way_for_model);
        let ends = reach::reachable(&reach::reversed(&successors), endings);
        for node in 0..net.nodes.len() {
            if !reached[node] {
                *self.unreachable.entry(node).or_default() += 1;
            } else if !ends[node] {
                self.trapped.entry(node).or_default().insert(group);
            }
        }
        for circle in loops::circles(&bounded(net, &successors), &reached) {
            if ends[circle[0]] {
                self.unbounded.entry(circle[0]).or_default().insert(group);
            }
        }
        // A loop that no way leads to is a loop all the same: that it cannot be reached is another finding.
        let turning: BTreeSet<usize> = loops::circles(&successors, &vec![true; net.nodes.len()]).into_iter().flatten().collect();
        for node in (0..net.nodes.len()).filter(|node| net.nodes[*node].limit.is_some() && !turning.contains(node)) {
            *self.idle.entry(node).or_default() += 1;
        }
        let arrivals = program.arrivals(number, program.start(number));
        for (node, state) in arrivals.states.iter().enumerate() {
            let Some(state) = state else { continue };
            for fault in program.faults(net, &net.nodes[node], state) {
                let seen = self.faults.entry((node, fault)).or_default();
                seen.0.insert(group);
                seen.1.extend(missing(program, state, fault));
            }
        }
    }

    fn proof(self, spot: &impl Fn(usize, &BTreeSet<usize>, Goal) -> Seen, every: usize) -> Proof {
        let on_all = |seen: BTreeMap<usize, usize>| seen.into_iter().filter(|(_, count)| *count == every).map(|(node, _)| node).collect();
        let spots = |seen: BTreeMap<usize, BTreeSet<usize>>| seen.iter().map(|(node, on)| spot(*node, on, Goal::Step(*node))).collect();
        let missing: BTreeSet<(usize, usize)> = self
            .faults
            .keys()
            .filter_map(|(node, fault)| match fault {
                Fault::CautionMissing(hazard) => Some((*node, *hazard)),
                _ => None,
            })
            .collect();
        // At most one of "missing" and "out of date" for a step and hazard, whatever the models.
        let counts =
            |(node, fault): &(usize, Fault)| !matches!(fault, Fault::CautionOutOfDate(hazard) if missing.contains(&(*node, *hazard)));
        let faults = self.faults.iter().filter(|(key, _)| counts(key)).map(|((node, fault), (on, missing))| SeenFault {
            fault: *fault,
            missing: missing.iter().copied().collect(),
            seen: spot(*node, on, Goal::Fault(*node, *fault)),
        });
        let faults = faults.collect();
        Proof {
            unreachable: on_all(self.unreachable),
            trapped: spots(self.trapped),
            unbounded: spots(self.unbounded),
            idle_limits: on_all(self.idle),
            faults,
        }
    }
}

/// The flow with, from each limited step, only its `otherwise` way.
fn bounded(net: &Net, successors: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let only_otherwise = |node: usize| net.nodes[node].ways.iter().filter(|way| way.kind == WayKind::Otherwise).map(|way| way.target);
    let ways = (0..net.nodes.len()).map(|node| match net.nodes[node].limit {
        Some(_) => only_otherwise(node).collect(),
        None => successors[node].clone(),
    });
    ways.collect()
}

/// The conditions a hazard requires that do not hold at the step.
fn missing(program: &Program<'_>, state: &State, fault: Fault) -> Vec<usize> {
    let Fault::Uncontrolled(hazard) = fault else { return Vec::new() };
    let required = &program.facts.hazards[hazard].requires;
    let absent: Vec<usize> = required.iter().copied().filter(|condition| !state.holds(&program.facts, *condition)).collect();
    if !absent.is_empty() {
        return absent;
    }
    // They hold on arrival: the step itself ends one of them.
    required.clone()
}

fn depends_on_model(step: &Step) -> bool {
    match &step.kind {
        StepKind::ByModel(_) => true,
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => {
                let figure = |value: &LimitValue| matches!(value, LimitValue::Figure(_));
                bands.iter().any(|band| band.limit.as_ref().is_some_and(|limit| figure(&limit.value.value)))
            }
            Sorting::Match(_) | Sorting::Missing => false,
        },
        StepKind::Ask(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::Unclear(_) => false,
    }
}

/// A path in the words of the flow.
pub(super) fn entries(program: &Program<'_>, path: &[Hop]) -> Witness {
    let last = path.len().saturating_sub(1);
    let entry = |(index, hop): (usize, &Hop)| {
        let net = program.net(hop.procedure);
        let node = &net.nodes[hop.node];
        let way = hop.way.and_then(|way| node.ways.get(way));
        let (kind, answer) = match way {
            Some(way) if way.kind == WayKind::Model => {
                let model = program.model.map_or_else(|| "others".to_owned(), |model| model.id.to_string());
                (Some(WayKind::Model), Some(model))
            }
            Some(way) => (Some(way.kind), way.text.clone()),
            // The ending of a procedure that was carried out: the caller goes on.
            None if index < last => (Some(WayKind::Next), None),
            None => (None, None),
        };
        WitnessEntry { procedure: net.procedure.clone(), step: node.step.clone(), way: kind, answer }
    };
    path.iter().enumerate().map(entry).collect()
}

/// Where the ways of a path stand in the file, to compare paths of different models: a `by-model` has one way on each, and not the same one.
pub(super) fn written(program: &Program<'_>, path: &[Hop]) -> Vec<(usize, usize, Option<usize>)> {
    let rank = |hop: &Hop| {
        let node = program.net(hop.procedure).nodes.get(hop.node)?;
        let step = program.library.procedures.get(hop.procedure)?.steps.get(hop.node)?;
        let (StepKind::ByModel(by_model), Some(_)) = (&step.kind, hop.way.and_then(|way| node.ways.get(way))) else { return hop.way };
        let named = by_model.ways.iter().find(|(name, _)| program.model.is_some_and(|model| model.id == name.value));
        let at = |id: &At<Id>| id.at.start as usize;
        named.map(|(name, _)| at(name)).or_else(|| by_model.others.as_ref().map(at))
    };
    path.iter().map(|hop| (hop.procedure, hop.node, rank(hop))).collect()
}

/// What the path does with limits, which the analysis does not count.
fn remark(program: &Program<'_>, path: &[Hop]) -> Option<Remark> {
    let mut passed: BTreeMap<(usize, usize), u32> = BTreeMap::new();
    for hop in path {
        let node = &program.net(hop.procedure).nodes[hop.node];
        let Some(limit) = node.limit else { continue };
        let passes = passed.entry((hop.procedure, hop.node)).or_default();
        let otherwise = hop.way.and_then(|way| node.ways.get(way)).is_some_and(|way| way.kind == WayKind::Otherwise);
        if otherwise && *passes < limit {
            let long = format!("this way leaves `{}` by `otherwise` before its limit is used up", node.step);
            return Some(Remark { short: "`otherwise` at once", long });
        }
        if !otherwise {
            *passes += 1;
        }
        if *passes > limit {
            let long = format!("this way passes `{}` oftener than `at-most` allows", node.step);
            return Some(Remark { short: "past `at-most`", long });
        }
    }
    None
}
