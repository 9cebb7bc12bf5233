//! The forward analysis: what is known on arrival at each step on all paths, by a fixed point (Kildall 1973), procedures that are carried out
//! included as if their steps stood in the caller's place.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::flow::carry::{self, Demand, Fault};
use crate::flow::coverage::Known;
use crate::flow::facts::Facts;
use crate::flow::net::{self, Net, Node, Role, Waived};
use crate::flow::reach;
use crate::flow::state::State;
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::text::id::Id;

/// All procedures of a library made ready for one model (or for none, in a library without equipment).
pub struct Program<'a> {
    pub library: &'a Library,
    waived: &'a Waived,
    pub model: Option<&'a Model>,
    pub facts: Facts,
    numbers: BTreeMap<&'a Id, usize>,
    nets: Vec<OnceCell<Net>>,
    /// Outcomes a procedure can end with, once known.
    outcomes: RefCell<BTreeMap<usize, BTreeSet<Id>>>,
    calls: Calls<Exit>,
    /// What [`super::coverage`] has counted already.
    pub(super) counted: Known,
}

/// Procedures carried out, by number and the state they were entered in, with every way they ended.
pub(super) type Calls<E> = RefCell<FxHashMap<(usize, State), Rc<Vec<E>>>>;

/// An outcome a procedure can end with, and what is known then.
pub type Exit = (Id, State);

/// What is known on arrival at each step; `None` for a step that no way leads to.
pub struct Arrivals {
    pub states: Vec<Option<State>>,
    pub exits: Vec<Exit>,
}

impl<'a> Program<'a> {
    pub fn new(library: &'a Library, waived: &'a Waived, model: Option<&'a Model>) -> Self {
        Self {
            library,
            waived,
            model,
            facts: Facts::new(&library.catalogue, model),
            numbers: library.procedures.iter().enumerate().map(|(number, procedure)| (&procedure.id, number)).collect(),
            nets: library.procedures.iter().map(|_| OnceCell::new()).collect(),
            outcomes: RefCell::default(),
            calls: RefCell::default(),
            counted: Known::default(),
        }
    }

    pub fn number(&self, procedure: &Id) -> Option<usize> {
        self.numbers.get(procedure).copied()
    }

    pub fn net(&self, number: usize) -> &Net {
        self.nets[number].get_or_init(|| net::net(self.library, self.waived, &self.library.procedures[number], &self.facts, self.model))
    }

    /// The outcomes of a procedure's reachable endings on this model. Whatever is broken in it leads nowhere; a circle of procedures adds nothing.
    pub fn outcomes(&self, number: usize) -> BTreeSet<Id> {
        if let Some(known) = self.outcomes.borrow().get(&number) {
            return known.clone();
        }
        self.outcomes.borrow_mut().insert(number, BTreeSet::new());
        let net = self.net(number);
        let reached = reach::reachable(&self.successors(number), net.start);
        let found: BTreeSet<Id> =
            net.nodes.iter().zip(&reached).filter(|(_, reached)| **reached).filter_map(|(node, _)| node.outcome.clone()).collect();
        self.outcomes.borrow_mut().insert(number, found.clone());
        found
    }

    /// The steps each step can lead to, by number, in the order of its ways.
    pub fn successors(&self, number: usize) -> Vec<Vec<usize>> {
        let net = self.net(number);
        let targets = |node: &Node| {
            let ends = match &node.role {
                Role::CarryOut(callee) => self.number(callee).map(|callee| self.outcomes(callee)),
                Role::Plain | Role::ByModel => None,
            };
            let possible = |text: &Option<String>| match (&ends, text) {
                (Some(ends), Some(text)) => ends.contains(text.as_str()),
                _ => false,
            };
            node.ways.iter().filter(|way| way.kind != WayKind::Outcome || possible(&way.text)).map(|way| way.target).collect()
        };
        net.nodes.iter().map(targets).collect()
    }

    /// What the procedure carried out demands of its caller.
    pub fn demand(&self, node: &Node) -> Demand<'_> {
        match &node.role {
            Role::CarryOut(callee) => self.number(callee).map_or_else(Demand::default, |callee| {
                let net = self.net(callee);
                Demand { requires: &net.requires, person: Some(net.person) }
            }),
            Role::Plain | Role::ByModel => Demand::default(),
        }
    }

    /// The state in which a procedure begins by itself.
    pub fn start(&self, number: usize) -> State {
        let net = self.net(number);
        State::start(&self.facts, &net.requires, net.person)
    }

    /// The fixed point over all paths of a procedure entered in a state.
    pub fn arrivals(&self, number: usize, entry: State) -> Arrivals {
        let net = self.net(number);
        let mut states: Vec<Option<State>> = vec![None; net.nodes.len()];
        let mut exits: BTreeMap<Id, State> = BTreeMap::new();
        let mut open = BTreeSet::new();
        if let Some(start) = net.start {
            states[start] = Some(entry);
            open.insert(start);
        }
        while let Some(node) = open.pop_first() {
            let Some(arrival) = states[node].clone() else { continue };
            for (target, state) in self.onward(&net.nodes[node], &arrival) {
                match target {
                    Onward::Step(next) => {
                        if meet(&mut states[next], state) {
                            open.insert(next);
                        }
                    }
                    Onward::End(outcome) => match exits.get_mut(&outcome) {
                        Some(known) => {
                            known.join(&state);
                        }
                        None => {
                            exits.insert(outcome, state);
                        }
                    },
                }
            }
        }
        Arrivals { states, exits: exits.into_iter().collect() }
    }

    /// Where a step leads from an arrival, and in what state.
    fn onward(&self, node: &Node, arrival: &State) -> Vec<(Onward, State)> {
        let mut found = Vec::new();
        let after = self.after(node, arrival, &mut Vec::new());
        for way in &node.ways {
            match way.kind {
                WayKind::Otherwise | WayKind::Model => found.push((Onward::Step(way.target), arrival.clone())),
                WayKind::Outcome => {
                    for (_, exit) in after.exits.iter().filter(|(outcome, _)| Some(outcome.as_str()) == way.text.as_deref()) {
                        found.push((Onward::Step(way.target), self.return_by(node, way, exit.clone())));
                    }
                }
                WayKind::Answer | WayKind::Band | WayKind::Part | WayKind::Unsure | WayKind::Next => {
                    found.push((Onward::Step(way.target), self.leave_by(node, way, after.state.clone(), &mut Vec::new())));
                }
            }
        }
        if let Some(outcome) = &node.outcome {
            let mut state = after.state;
            state.grow(&self.facts, carry::duration(&self.facts, node));
            found.push((Onward::End(outcome.clone()), state));
        }
        found
    }

    /// The state after steps 1 to 5 at a node, and, for a carry-out, what comes back from the procedure carried out.
    fn after(&self, node: &Node, arrival: &State, faults: &mut Vec<Fault>) -> After {
        let mut state = arrival.clone();
        if node.role == Role::ByModel {
            return After { state, exits: Rc::default() };
        }
        carry::step(&self.facts, node, self.demand(node), &mut state, faults);
        let exits = self.entered(node, &state).map_or_else(Rc::default, |(callee, entry)| self.call(callee, entry));
        After { state, exits }
    }

    /// The procedure that a carry-out enters, and in what state: one step of no minutes after the step's own.
    fn entered(&self, node: &Node, after: &State) -> Option<(usize, State)> {
        let Role::CarryOut(callee) = &node.role else { return None };
        let mut entry = after.clone();
        entry.grow(&self.facts, 0);
        Some((self.number(callee)?, entry))
    }

    /// The same, from the state in which the step is reached.
    pub fn entry(&self, node: &Node, arrival: &State) -> Option<(usize, State)> {
        let mut state = arrival.clone();
        carry::step(&self.facts, node, self.demand(node), &mut state, &mut Vec::new());
        self.entered(node, &state)
    }

    /// A carry-out step's way on, once the procedure carried out has ended: its own cures, then the way.
    pub fn return_by(&self, node: &Node, way: &net::NetWay, mut exit: State) -> State {
        if node.cures {
            exit.cure();
        }
        carry::way(&self.facts, way, &mut exit, &mut Vec::new());
        exit
    }

    /// A way on from a question, measurement or action: the way, then the time it took.
    pub fn leave_by(&self, node: &Node, way: &net::NetWay, mut state: State, faults: &mut Vec<Fault>) -> State {
        carry::way(&self.facts, way, &mut state, faults);
        state.grow(&self.facts, carry::duration(&self.facts, node));
        state
    }

    fn call(&self, callee: usize, entry: State) -> Rc<Vec<Exit>> {
        let key = (callee, entry);
        if let Some(known) = self.calls.borrow().get(&key) {
            return Rc::clone(known);
        }
        let exits = Rc::new(self.arrivals(callee, key.1.clone()).exits);
        self.calls.borrow_mut().insert(key, Rc::clone(&exits));
        exits
    }

    /// The faults that show at a step when it is reached in a state, its ways included.
    pub fn faults(&self, net: &Net, node: &Node, arrival: &State) -> BTreeSet<Fault> {
        let mut faults = Vec::new();
        if node.role == Role::ByModel {
            return BTreeSet::new();
        }
        let mut state = arrival.clone();
        carry::step(&self.facts, node, self.demand(node), &mut state, &mut faults);
        for way in node.ways.iter().filter(|way| !matches!(way.kind, WayKind::Otherwise | WayKind::Outcome | WayKind::Model)) {
            carry::way(&self.facts, way, &mut state.clone(), &mut faults);
        }
        if node.outcome.is_some() && !net.is_task {
            carry::ending(&self.facts, node, &state, &mut faults);
        }
        faults.into_iter().collect()
    }
}

struct After {
    state: State,
    exits: Rc<Vec<Exit>>,
}

enum Onward {
    Step(usize),
    End(Id),
}

fn meet(known: &mut Option<State>, state: State) -> bool {
    match known {
        Some(known) => known.join(&state),
        None => {
            *known = Some(state);
            true
        }
    }
}
