//! The ways of all procedures on one model, with what each lets through of a caution: how much older it gets, or that it counts no more.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::flow::carry;
use crate::flow::facts::Facts;
use crate::flow::idle::{Caution, Wrong};
use crate::flow::must::Program;
use crate::flow::net::{Change, NetWay, Node, Role};
use crate::flow::reach;
use crate::text::id::Id;

/// Steps and seconds by which a caution gets older.
type Cost = (u32, u32);

pub struct Ways<'p, 'l> {
    program: &'p Program<'l>,
    procedures: &'p [usize],
    /// By procedure: its first place, if it takes part. Its steps follow each other.
    first: BTreeMap<usize, usize>,
    /// By procedure and outcome: the place between an ending and whoever carried the procedure out.
    exits: BTreeMap<(usize, Id), usize>,
    /// By place: the edges that lead there.
    before: Vec<Vec<Edge>>,
    /// Steps that can be reached from their procedure's own start, by procedure.
    reached: BTreeMap<usize, Vec<bool>>,
    /// Steps at which something is not as it must be, as procedure and step.
    refused: BTreeSet<(usize, usize)>,
    /// Exits into procedures of which nothing is known.
    open_ended: BTreeSet<usize>,
    voids: Voids,
    through: RefCell<FxHashMap<(usize, usize), Rc<Through>>>,
}

/// A way: from a step (or the exit of a procedure that it carried out) by a way of that step; by none to the exit of the own procedure.
#[derive(Clone, Copy)]
struct Edge {
    from: usize,
    procedure: usize,
    node: usize,
    way: Option<usize>,
    /// It begins at an exit: the step was carried out before.
    back: bool,
}

/// By condition and hazard: whether clearing, or setting, the one voids the caution for the other.
struct Voids {
    cleared: Vec<Vec<bool>>,
    set: Vec<Vec<bool>>,
}

/// What carrying a procedure out does to a caution: how old it is where its hazard is met inside, and at each ending. Only what is least.
#[derive(Default)]
struct Through {
    met: Vec<Cost>,
    ends: BTreeMap<Id, Vec<Cost>>,
}

/// Somewhere in a procedure that is carried out.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Spot {
    At(usize),
    Met,
    End(Id),
}

impl<'p, 'l> Ways<'p, 'l> {
    pub fn new(program: &'p Program<'l>, procedures: &'p [usize], wrong: &Wrong<'_>) -> Self {
        let mut places = 0;
        let mut first = BTreeMap::new();
        let mut exits = BTreeMap::new();
        for number in procedures {
            let net = program.net(*number);
            first.insert(*number, places);
            places += net.nodes.len();
            for outcome in net.nodes.iter().filter_map(|node| node.outcome.as_ref()).filter(|_| net.is_task) {
                exits.entry((*number, outcome.clone())).or_insert_with(|| {
                    places += 1;
                    places - 1
                });
            }
        }
        let reached = |number: &usize| (*number, reach::reachable(&program.successors(*number), program.net(*number).start));
        let refused = wrong.refused.iter().filter_map(|(procedure, step)| {
            let number = program.number(procedure)?;
            Some((number, program.library.procedures[number].steps.iter().position(|known| known.id == *step)?))
        });
        let mut ways = Self {
            program,
            procedures,
            first,
            exits,
            before: vec![Vec::new(); places],
            reached: procedures.iter().map(reached).collect(),
            refused: refused.collect(),
            open_ended: BTreeSet::new(),
            voids: Voids::new(&program.facts),
            through: RefCell::default(),
        };
        procedures.iter().for_each(|number| ways.connect(*number));
        ways.open_ends(wrong.broken);
        ways
    }

    fn connect(&mut self, procedure: usize) {
        let program = self.program;
        let first = self.first[&procedure];
        for (number, node) in program.net(procedure).nodes.iter().enumerate() {
            let callee = self.callee(node);
            let edge = |from: usize, way: Option<usize>, back: bool| Edge { from, procedure, node: number, way, back };
            for (index, way) in node.ways.iter().enumerate() {
                self.before[first + way.target].push(edge(first + number, Some(index), false));
                let exit = callee.zip(way.text.as_ref()).filter(|_| way.kind == WayKind::Outcome);
                let exit = exit.and_then(|(callee, outcome)| self.exits.get(&(callee, Id::new(outcome))));
                if let Some(exit) = exit.filter(|_| self.reached[&procedure][number]) {
                    self.before[first + way.target].push(edge(*exit, Some(index), true));
                    if self.refused.contains(&(procedure, number)) {
                        self.open_ended.insert(*exit);
                    }
                }
            }
            let exit = node.outcome.as_ref().and_then(|outcome| self.exits.get(&(procedure, outcome.clone())));
            if let Some(exit) = exit {
                self.before[*exit].push(edge(first + number, None, false));
            }
        }
    }

    /// Tasks that a procedure which is not judged carries out. A withdrawn one is carried out by nobody any more.
    fn open_ends(&mut self, broken: &BTreeSet<Id>) {
        let callers = self.program.library.procedures.iter().filter(|caller| broken.contains(&caller.id) && !caller.is_withdrawn());
        let callees: BTreeSet<usize> = callers.flat_map(|caller| caller.callees()).filter_map(|id| self.program.number(id)).collect();
        self.open_ended.extend(self.exits.iter().filter(|((procedure, _), _)| callees.contains(procedure)).map(|(_, place)| *place));
    }

    /// Adds the cautions that are shown at steps that can be reached, and those of them that something depends on.
    pub fn judge(&self, shown: &mut BTreeSet<Caution>, used: &mut BTreeSet<Caution>) {
        let mut undecided: BTreeMap<usize, Vec<Caution>> = BTreeMap::new();
        for procedure in self.procedures.iter().copied() {
            for (number, node) in self.program.net(procedure).nodes.iter().enumerate().filter(|(node, _)| self.reached[&procedure][*node]) {
                for hazard in node.cautions.iter().copied() {
                    let caution = Caution { procedure, node: number, hazard };
                    shown.insert(caution);
                    if self.meets(procedure, number, hazard) {
                        used.insert(caution);
                    } else if !used.contains(&caution) {
                        undecided.entry(hazard).or_default().push(caution);
                    }
                }
            }
        }
        for (hazard, cautions) in undecided {
            let away = self.away(hazard);
            used.extend(cautions.into_iter().filter(|caution| self.leads(caution, &away)));
        }
    }

    /// Whether a way leads from the step of a caution to its hazard in time.
    fn leads(&self, caution: &Caution, away: &FxHashMap<usize, Vec<Cost>>) -> bool {
        let Caution { procedure, node: number, hazard } = *caution;
        let node = &self.program.net(procedure).nodes[number];
        let voided = |changes: &[Change]| self.is_void(procedure, number, changes, hazard);
        if voided(&node.changes) {
            return false;
        }
        let cost = (1, carry::duration(&self.program.facts, node));
        let carried_on =
            |way: &&NetWay| !matches!(way.kind, WayKind::Otherwise | WayKind::Model | WayKind::Outcome) && !voided(&way.changes);
        let steps = node.ways.iter().filter(carried_on).map(|way| self.first[&procedure] + way.target);
        let exit = node.outcome.as_ref().and_then(|outcome| self.exits.get(&(procedure, outcome.clone())).copied());
        let mut targets = steps.chain(exit);
        targets.any(|target| away.get(&target).is_some_and(|costs| costs.iter().any(|further| self.in_time(plus(cost, *further)))))
    }

    /// By place: what the hazard is away at the least, on arrival there. A search by nearness (Dijkstra 1959), backwards from where it is met, fewest steps
    /// first; a place has an entry more for each way that takes more steps and less time.
    fn away(&self, hazard: usize) -> FxHashMap<usize, Vec<Cost>> {
        let mut found: FxHashMap<usize, Vec<Cost>> = FxHashMap::default();
        let mut open: BinaryHeap<Reverse<(Cost, usize)>> = self.meetings(hazard).into_iter().map(Reverse).collect();
        while let Some(Reverse((cost, place))) = open.pop() {
            if !is_less(found.entry(place).or_default(), cost) {
                continue;
            }
            for edge in &self.before[place] {
                self.pass(edge, hazard, &mut |more| {
                    let cost = plus(cost, more);
                    if self.in_time(cost) {
                        open.push(Reverse((cost, edge.from)));
                    }
                });
            }
        }
        found
    }

    /// The places at which the hazard is met on arrival, or in a procedure carried out from there.
    fn meetings(&self, hazard: usize) -> Vec<(Cost, usize)> {
        let mut found: Vec<(Cost, usize)> = self.open_ended.iter().map(|exit| ((0, 0), *exit)).collect();
        for procedure in self.procedures.iter().copied() {
            for (number, node) in self.program.net(procedure).nodes.iter().enumerate() {
                let place = self.first[&procedure] + number;
                if self.meets(procedure, number, hazard) && !node.cautions.contains(&hazard) {
                    found.push(((0, 0), place));
                }
                if let Some(callee) = self.callee(node) {
                    found.extend(self.through(callee, hazard).met.iter().map(|cost| (plus((1, 0), *cost), place)));
                    found.extend(self.refused.contains(&(procedure, number)).then_some(((1, 0), place)));
                }
            }
        }
        found
    }

    /// How much older a caution gets on a way, told for each choice there is inside a procedure carried out; nothing if it does not count after it.
    fn pass(&self, edge: &Edge, hazard: usize, told: &mut dyn FnMut(Cost)) {
        let node = &self.program.net(edge.procedure).nodes[edge.node];
        let way = edge.way.map(|way| &node.ways[way]);
        let voided = |changes: &[Change]| self.is_void(edge.procedure, edge.node, changes, hazard);
        match way.map(|way| way.kind) {
            Some(WayKind::Otherwise | WayKind::Model) => told((0, 0)),
            _ if way.is_some_and(|way| voided(&way.changes)) => {}
            _ if edge.back => told((0, 0)),
            _ if node.cautions.contains(&hazard) || voided(&node.changes) => {}
            Some(WayKind::Outcome) => {
                let through = self.callee(node).map(|callee| self.through(callee, hazard));
                let ends = through.as_ref().zip(way.and_then(|way| way.text.as_deref())).and_then(|(through, text)| through.ends.get(text));
                ends.into_iter().flatten().for_each(|cost| told(plus((1, 0), *cost)));
            }
            _ => told((1, carry::duration(&self.program.facts, node))),
        }
    }

    /// From the start of a procedure that is carried out: to the hazard, and to each ending.
    fn through(&self, procedure: usize, hazard: usize) -> Rc<Through> {
        let key = (procedure, hazard);
        if let Some(known) = self.through.borrow().get(&key) {
            return Rc::clone(known);
        }
        let net = self.program.net(procedure);
        let mut found: FxHashMap<Spot, Vec<Cost>> = FxHashMap::default();
        let mut open: BinaryHeap<Reverse<(Cost, Spot)>> = net.start.into_iter().map(|start| Reverse(((0, 0), Spot::At(start)))).collect();
        while let Some(Reverse((cost, spot))) = open.pop() {
            if !is_less(found.entry(spot.clone()).or_default(), cost) {
                continue;
            }
            let Spot::At(number) = spot else { continue };
            self.onward(procedure, number, hazard, &mut |spot, more| {
                let cost = plus(cost, more);
                if self.in_time(cost) {
                    open.push(Reverse((cost, spot)));
                }
            });
        }
        let mut through = Through::default();
        for (spot, costs) in found {
            match spot {
                Spot::Met => through.met = costs,
                Spot::End(outcome) => drop(through.ends.insert(outcome, costs)),
                Spot::At(_) => {}
            }
        }
        let through = Rc::new(through);
        self.through.borrow_mut().insert(key, Rc::clone(&through));
        through
    }

    fn onward(&self, procedure: usize, number: usize, hazard: usize, told: &mut dyn FnMut(Spot, Cost)) {
        let node = &self.program.net(procedure).nodes[number];
        if self.meets(procedure, number, hazard) && !node.cautions.contains(&hazard) {
            told(Spot::Met, (0, 0));
        }
        if let Some(callee) = self.callee(node) {
            self.through(callee, hazard).met.iter().for_each(|cost| told(Spot::Met, plus((1, 0), *cost)));
            if self.refused.contains(&(procedure, number)) {
                told(Spot::Met, (1, 0));
            }
        }
        let edge = |way: Option<usize>| Edge { from: 0, procedure, node: number, way, back: false };
        for (index, way) in node.ways.iter().enumerate() {
            self.pass(&edge(Some(index)), hazard, &mut |cost| told(Spot::At(way.target), cost));
        }
        if let Some(outcome) = &node.outcome {
            self.pass(&edge(None), hazard, &mut |cost| told(Spot::End(outcome.clone()), cost));
        }
    }

    /// Whether somebody is exposed to the hazard at a step, or cannot be said not to be: a part that it touches has a hazard of unknown name.
    fn meets(&self, procedure: usize, number: usize, hazard: usize) -> bool {
        let step = &self.program.library.procedures[procedure].steps[number];
        let parts = step.touches.iter().filter_map(|part| self.program.library.catalogue.part(&part.value));
        let unknown = |hazard: &Id| self.program.facts.hazard(hazard).is_none();
        self.program.net(procedure).nodes[number].exposed.iter().any(|exposed| exposed.hazard == hazard)
            || parts.into_iter().any(|part| part.hazards.iter().any(|hazard| unknown(&hazard.value)))
    }

    fn callee(&self, node: &Node) -> Option<usize> {
        match &node.role {
            Role::CarryOut(callee) => self.program.number(callee),
            Role::Plain | Role::ByModel => None,
        }
    }

    /// Whether one of the changes voids the caution. What is set where a condition is lacking may not come about, which is a finding of its own.
    fn is_void(&self, procedure: usize, node: usize, changes: &[Change], hazard: usize) -> bool {
        changes.iter().any(|change| match *change {
            Change::Clear(condition) => self.voids.cleared[condition][hazard],
            Change::Set(condition) | Change::SetUntried(condition) => {
                let lacking = self.program.facts.conditions[condition].after.is_some() && self.refused.contains(&(procedure, node));
                self.voids.set[condition][hazard] && !lacking
            }
            Change::TooShort { .. } => false,
        })
    }

    fn in_time(&self, (steps, seconds): Cost) -> bool {
        steps <= self.program.facts.steps && seconds <= self.program.facts.seconds
    }
}

impl Voids {
    fn new(facts: &Facts) -> Self {
        let table = |mark: &dyn Fn(usize, &mut Vec<bool>)| {
            let row = |condition| {
                let mut row = vec![false; facts.hazards.len()];
                mark(condition, &mut row);
                row
            };
            (0..facts.conditions.len()).map(row).collect()
        };
        let clear = |condition: usize, row: &mut Vec<bool>| {
            let fallen = facts.conditions[condition].falls.iter().flat_map(|fallen| &facts.conditions[*fallen].required_by);
            fallen.for_each(|hazard| row[*hazard] = true);
        };
        let set = |condition: usize, row: &mut Vec<bool>| {
            facts.conditions[condition].clears.iter().for_each(|cleared| clear(*cleared, row));
            facts.conditions[condition].brings_back.iter().for_each(|hazard| row[*hazard] = true);
        };
        Self { cleared: table(&clear), set: table(&set) }
    }
}

fn plus(one: Cost, other: Cost) -> Cost {
    (one.0.saturating_add(other.0), one.1.saturating_add(other.1))
}

/// Adds what is less than everything known in one of its two figures. They come fewest steps first, so only the seconds can be less.
fn is_less(known: &mut Vec<Cost>, cost: Cost) -> bool {
    let less = known.last().is_none_or(|last| cost.1 < last.1);
    if less {
        known.push(cost);
    }
    less
}
