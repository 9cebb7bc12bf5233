//! Every procedure with every set of facts it is entered with, made ready for counting the age of one hazard's caution at a time.
//!
//! Whether a step voids a caution depends on conditions alone, never on cautions. So the conditions are carried to their fixed point once for each
//! way in which a procedure is entered (a context), and what remains for each hazard is small: shown, grown or voided along each way ([`super::ages`]).

use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::flow::carry;
use crate::flow::coverage::ages::Solved;
use crate::flow::facts::Facts;
use crate::flow::must::Program;
use crate::flow::net::{Node, Role};
use crate::flow::state::{Age, State};
use crate::text::id::Id;

/// One procedure, entered in one state.
pub struct Context {
    pub procedure: usize,
    /// What is known on arrival at each step; the ages say nothing.
    pub states: Vec<Option<State>>,
    /// By step; none for a step that no way leads to.
    pub links: Vec<Vec<Link>>,
}

/// A way on, as far as ages go.
pub enum Link {
    /// The step is not carried out.
    Stay { target: usize },
    /// The step takes so many seconds; then cautions of these hazards no longer count.
    Leave { target: usize, seconds: u32, voids: Box<[usize]> },
    /// Through a procedure carried out, by its number among the contexts, if it ends so.
    Call { target: usize, context: usize, outcome: Id },
    /// An ending.
    End { outcome: Id, seconds: u32, voids: Box<[usize]> },
}

impl Link {
    /// The context of the procedure carried out.
    pub fn context(&self) -> Option<usize> {
        match self {
            Link::Call { context, .. } => Some(*context),
            Link::Stay { .. } | Link::Leave { .. } | Link::End { .. } => None,
        }
    }
}

/// All contexts on one model. What one carries out has a smaller number than itself.
#[derive(Default)]
pub struct Contexts {
    pub list: Vec<Context>,
    numbers: FxHashMap<(usize, State), usize>,
    /// By context: those that carry it out.
    pub callers: Vec<Vec<usize>>,
    /// By procedure.
    pub of: FxHashMap<usize, Vec<usize>>,
    /// The procedures that begin by themselves in a context: context, procedure.
    pub roots: FxHashMap<usize, usize>,
    /// The same the other way round.
    root_of: FxHashMap<usize, usize>,
    /// By context and hazard.
    pub solved: FxHashMap<(usize, usize), Rc<Solved>>,
}

impl Contexts {
    /// The context in which a procedure begins by itself.
    pub fn root(&mut self, program: &Program<'_>, procedure: usize) -> usize {
        if let Some(known) = self.root_of.get(&procedure) {
            return *known;
        }
        let context = self.context(program, procedure, program.start(procedure));
        self.roots.insert(context, procedure);
        self.root_of.insert(procedure, context);
        context
    }

    /// Whether the procedure is analysed by itself on this model: one of each group is.
    pub fn is_root(&self, procedure: usize) -> bool {
        self.root_of.contains_key(&procedure)
    }

    pub fn context(&mut self, program: &Program<'_>, procedure: usize, mut entry: State) -> usize {
        entry.ages.fill(Age::Never);
        let key = (procedure, entry);
        if let Some(known) = self.numbers.get(&key) {
            return *known;
        }
        let states = program.arrivals(procedure, key.1.clone()).states;
        let net = program.net(procedure);
        let mut links = Vec::new();
        let mut carried_out = Vec::new();
        for (node, state) in net.nodes.iter().zip(&states) {
            links.push(state.as_ref().map_or_else(Vec::new, |state| self.links(program, node, state, &mut carried_out)));
        }
        let number = self.list.len();
        self.list.push(Context { procedure, states, links });
        self.callers.push(Vec::new());
        carried_out.sort_unstable();
        carried_out.dedup();
        for callee in carried_out {
            self.callers[callee].push(number);
        }
        self.of.entry(procedure).or_default().push(number);
        self.numbers.insert(key, number);
        number
    }

    fn links(&mut self, program: &Program<'_>, node: &Node, arrival: &State, carried_out: &mut Vec<usize>) -> Vec<Link> {
        let facts = &program.facts;
        let callee = match &node.role {
            Role::CarryOut(callee) => program.number(callee),
            Role::Plain | Role::ByModel => None,
        };
        let context = callee.map(|callee| self.context(program, callee, entry(program, node, arrival)));
        carried_out.extend(context);
        let mut after = arrival.clone();
        after.ages.fill(Age::NOW);
        if node.role != Role::ByModel {
            carry::step(facts, node, program.demand(node), &mut after, &mut Vec::new());
        }
        let seconds = carry::duration(facts, node);
        let link = |way: &crate::flow::net::NetWay| match way.kind {
            WayKind::Otherwise | WayKind::Model => Some(Link::Stay { target: way.target }),
            WayKind::Outcome => Some(Link::Call { target: way.target, context: context?, outcome: Id::new(way.text.as_deref()?) }),
            WayKind::Answer | WayKind::Band | WayKind::Part | WayKind::Unsure | WayKind::Next => {
                let mut state = after.clone();
                carry::way(facts, way, &mut state, &mut Vec::new());
                Some(Link::Leave { target: way.target, seconds, voids: voids(facts, &state) })
            }
        };
        let mut links: Vec<Link> = node.ways.iter().filter_map(link).collect();
        if let Some(outcome) = &node.outcome {
            links.push(Link::End { outcome: outcome.clone(), seconds, voids: voids(facts, &after) });
        }
        links
    }
}

/// What is known when a procedure carried out begins, ages left aside.
pub fn entry(program: &Program<'_>, node: &Node, arrival: &State) -> State {
    let mut state = arrival.clone();
    carry::step(&program.facts, node, program.demand(node), &mut state, &mut Vec::new());
    state.ages.fill(Age::Never);
    state
}

fn voids(facts: &Facts, state: &State) -> Box<[usize]> {
    (0..facts.hazards.len()).filter(|hazard| state.ages[*hazard] == Age::Never).collect()
}
