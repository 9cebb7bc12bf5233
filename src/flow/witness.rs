//! The shortest path that shows a fault, answer by answer.
//!
//! A breadth-first search over pairs of step and state, where only the facts that decide the fault are kept ([`Kept`]). Procedures that are carried
//! out are searched once for each state they are entered in, and their shortest paths to each outcome put in the caller's place (Knuth 1977:
//! shortest derivations), so that deep nesting costs no more than its parts. Paths of one length are taken in the order of the file.

use std::cell::RefCell;
use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::rc::Rc;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::finding::WayKind;
use crate::flow::carry::{self, Fault};
use crate::flow::must::{Calls, Program};
use crate::flow::net::{Net, Node, Role};
use crate::flow::state::{Age, Kept, State};
use crate::text::id::Id;

/// A step on a path, and the number of the way taken on from it (`None` at the end of a procedure and of the path).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hop {
    pub procedure: usize,
    pub node: usize,
    pub way: Option<usize>,
}

/// What a path must lead to.
#[derive(Clone, Copy, Debug)]
pub enum Goal {
    /// The step, however it is reached.
    Step(usize),
    /// The step, with that fault.
    Fault(usize, Fault),
    /// The step, the hazard's caution on arrival exactly so many steps ago, or seconds, or both.
    Age { node: usize, hazard: usize, steps: Option<u32>, seconds: Option<u32> },
}

impl Goal {
    fn node(self) -> usize {
        match self {
            Goal::Step(node) | Goal::Fault(node, _) | Goal::Age { node, .. } => node,
        }
    }
}

/// A caution that the search takes as not there: procedure, step, hazard, by number.
pub type LeftOut = (usize, usize, usize);

/// The shortest path from a procedure's own start to the goal, the goal's step last.
pub fn shortest(program: &Program<'_>, procedure: usize, goal: Goal) -> Option<Vec<Hop>> {
    shortest_each(program, procedure, &[goal], None).pop().flatten()
}

/// The shortest path to each of several goals, in one search. All that turn on a caution must turn on that of the same hazard.
pub fn shortest_each(program: &Program<'_>, procedure: usize, goals: &[Goal], left_out: Option<LeftOut>) -> Vec<Option<Vec<Hop>>> {
    let altered = left_out.map(|(procedure, number, hazard)| {
        let mut node = program.net(procedure).nodes[number].clone();
        node.cautions.retain(|caution| *caution != hazard);
        (procedure, number, node)
    });
    let search = Search { program, kept: kept(program, goals), altered, calls: RefCell::default() };
    let mut start = program.start(procedure);
    start.keep(&search.kept);
    search.run(procedure, start, Some(goals)).0
}

fn kept(program: &Program<'_>, goals: &[Goal]) -> Kept {
    let facts = &program.facts;
    let mut kept = Kept::nothing(facts);
    for goal in goals {
        match goal {
            Goal::Step(_) => {}
            Goal::Age { hazard, .. } => kept.hazard = Some(*hazard),
            Goal::Fault(_, fault) => match *fault {
                Fault::CautionMissing(hazard) | Fault::CautionOutOfDate(hazard) => kept.hazard = Some(hazard),
                Fault::Uncontrolled(hazard) => {
                    facts.hazards[hazard].requires.iter().for_each(|condition| kept.conditions[*condition] = true);
                }
                Fault::NotMet(condition) | Fault::LeftBehind(condition) => kept.conditions[condition] = true,
                Fault::TooShort(_) | Fault::NotTriedOut(_) => {}
                Fault::FixedUnchecked => kept.cure = true,
                Fault::BeyondHazard(_) | Fault::BeyondPerson(_) => kept.person = true,
            },
        }
    }
    kept.close(facts)
}

/// An outcome, what is known then, and the path to it, the carried-out procedure's ending last.
struct Exit {
    outcome: Id,
    state: State,
    path: Vec<Hop>,
}

struct Search<'p, 'l> {
    program: &'p Program<'l>,
    kept: Kept,
    /// A step that is another one for this search: procedure, number, step.
    altered: Option<(usize, usize, Node)>,
    calls: Calls<Exit>,
}

/// A place the search has come to. Its path stands in the [`Trail`].
struct Place {
    node: usize,
    state: State,
    trail: usize,
}

/// All paths of a search, as a tree of hops: entry 0 is the empty path.
struct Trail {
    hops: Vec<(usize, Hop, usize)>,
}

impl Search<'_, '_> {
    /// With goals: the path to each. Without: every exit, shortest path first.
    fn run(&self, procedure: usize, entry: State, goals: Option<&[Goal]>) -> (Vec<Option<Vec<Hop>>>, Vec<Exit>) {
        let net = self.program.net(procedure);
        let nothing = Hop { procedure, node: 0, way: None };
        let mut trail = Trail { hops: vec![(0, nothing, 0)] };
        let mut open: BTreeMap<usize, Vec<Place>> = BTreeMap::new();
        let mut visited: FxHashMap<usize, FxHashSet<State>> = FxHashMap::default();
        let mut exits: Vec<Exit> = Vec::new();
        let goals = goals.unwrap_or_default();
        let mut found: Vec<Option<Vec<Hop>>> = vec![None; goals.len()];
        let mut wanted: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (number, goal) in goals.iter().enumerate() {
            wanted.entry(goal.node()).or_default().push(number);
        }
        if let Some(start) = net.start {
            open.entry(0).or_default().push(Place { node: start, state: entry, trail: 0 });
        }
        while let Some((_, mut level)) = open.pop_first() {
            level.sort_by(|a, b| trail.order(a.trail, b.trail));
            for place in level {
                let seen: &mut FxHashSet<State> = visited.entry(place.node).or_default();
                if seen.contains(&place.state) {
                    continue;
                }
                seen.insert(place.state.clone());
                if let Some(here) = wanted.get_mut(&place.node) {
                    here.retain(|number| {
                        let reached = self.reached(procedure, net, &place, goals[*number]);
                        if reached {
                            let mut path = trail.path(place.trail);
                            path.push(Hop { procedure, node: place.node, way: None });
                            found[*number] = Some(path);
                        }
                        !reached
                    });
                    if here.is_empty() {
                        wanted.remove(&place.node);
                    }
                    if wanted.is_empty() {
                        return (found, exits);
                    }
                }
                self.expand(procedure, net, &place, &mut trail, &mut open, &mut exits);
            }
        }
        (found, exits)
    }

    fn node<'n>(&'n self, procedure: usize, net: &'n Net, number: usize) -> &'n Node {
        match &self.altered {
            Some((in_procedure, altered, node)) if (*in_procedure, *altered) == (procedure, number) => node,
            _ => &net.nodes[number],
        }
    }

    fn reached(&self, procedure: usize, net: &Net, place: &Place, goal: Goal) -> bool {
        match goal {
            Goal::Step(_) => true,
            Goal::Fault(number, fault) => self.program.faults(net, self.node(procedure, net, number), &place.state).contains(&fault),
            Goal::Age { hazard, steps, seconds, .. } => {
                let is = |wanted: Option<u32>, age: u32| wanted.is_none_or(|wanted| wanted == age);
                matches!(place.state.ages[hazard], Age::Shown { steps: s, seconds: t } if is(steps, s) && is(seconds, t))
            }
        }
    }

    fn expand(
        &self,
        procedure: usize,
        net: &Net,
        place: &Place,
        trail: &mut Trail,
        open: &mut BTreeMap<usize, Vec<Place>>,
        exits: &mut Vec<Exit>,
    ) {
        let node = self.node(procedure, net, place.node);
        let mut state = place.state.clone();
        if node.role != Role::ByModel {
            carry::step(&self.program.facts, node, self.program.demand(node), &mut state, &mut Vec::new());
        }
        let mut push = |trail: &Trail, target: usize, mut state: State, end: usize| {
            state.keep(&self.kept);
            open.entry(trail.hops[end].2).or_default().push(Place { node: target, state, trail: end });
        };
        for (number, way) in node.ways.iter().enumerate() {
            let hop = Hop { procedure, node: place.node, way: Some(number) };
            match way.kind {
                WayKind::Otherwise | WayKind::Model => {
                    let end = trail.add(place.trail, hop);
                    push(trail, way.target, place.state.clone(), end);
                }
                WayKind::Outcome => {
                    for exit in self.call(node, &state).iter().filter(|exit| Some(exit.outcome.as_str()) == way.text.as_deref()) {
                        let mut end = trail.add(place.trail, hop);
                        for hop in &exit.path {
                            end = trail.add(end, *hop);
                        }
                        push(trail, way.target, self.program.return_by(node, way, exit.state.clone()), end);
                    }
                }
                WayKind::Answer | WayKind::Band | WayKind::Part | WayKind::Unsure | WayKind::Next => {
                    let end = trail.add(place.trail, hop);
                    push(trail, way.target, self.program.leave_by(node, way, state.clone(), &mut Vec::new()), end);
                }
            }
        }
        if let Some(outcome) = &node.outcome {
            state.grow(&self.program.facts, carry::duration(&self.program.facts, node));
            state.keep(&self.kept);
            if !exits.iter().any(|exit| exit.outcome == *outcome && exit.state == state) {
                let end = trail.add(place.trail, Hop { procedure, node: place.node, way: None });
                exits.push(Exit { outcome: outcome.clone(), state, path: trail.path(end) });
            }
        }
    }

    fn call(&self, node: &Node, state: &State) -> Rc<Vec<Exit>> {
        let Role::CarryOut(callee) = &node.role else { return Rc::default() };
        let Some(callee) = self.program.number(callee) else { return Rc::default() };
        let mut entry = state.clone();
        entry.grow(&self.program.facts, 0);
        entry.keep(&self.kept);
        let key = (callee, entry);
        if let Some(known) = self.calls.borrow().get(&key) {
            return Rc::clone(known);
        }
        let exits = Rc::new(self.run(callee, key.1.clone(), None).1);
        self.calls.borrow_mut().insert(key, Rc::clone(&exits));
        exits
    }
}

impl Trail {
    /// A path longer by one hop; gives its entry.
    fn add(&mut self, path: usize, hop: Hop) -> usize {
        let length = self.hops[path].2 + 1;
        self.hops.push((path, hop, length));
        self.hops.len() - 1
    }

    fn path(&self, mut end: usize) -> Vec<Hop> {
        let mut hops = Vec::new();
        while end != 0 {
            hops.push(self.hops[end].1);
            end = self.hops[end].0;
        }
        hops.reverse();
        hops
    }

    /// Which of two paths of one length stands first in the file: by the first way in which they differ.
    fn order(&self, mut left: usize, mut right: usize) -> Ordering {
        let mut order = Ordering::Equal;
        while left != right {
            let ((before_left, hop_left, _), (before_right, hop_right, _)) = (self.hops[left], self.hops[right]);
            order = hop_left.cmp(&hop_right).then(order);
            (left, right) = (before_left, before_right);
        }
        order
    }
}
