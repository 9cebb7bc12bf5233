//! Which step or way last set a condition, on some path: reaching definitions over the flow, procedures carried out entered with the caller's facts.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::flow::carry;
use crate::flow::coverage::contexts::{Context, Contexts, Link};
use crate::flow::must::Program;
use crate::flow::net::{Change, Node};
use crate::flow::state::State;
use crate::text::id::Id;

/// Procedure, step and way, by number; `None`: it held when the procedure began.
pub type Origin = Option<(usize, usize, Option<usize>)>;

/// By condition.
type Origins = Vec<BTreeSet<Origin>>;

pub struct Setters<'p, 'l> {
    pub program: &'p Program<'l>,
    pub contexts: &'p Contexts,
    /// The conditions that are asked for; of others nothing is kept.
    pub wanted: Vec<bool>,
    pub ends: RefCell<FxHashMap<usize, Rc<BTreeMap<Id, Origins>>>>,
}

impl Setters<'_, '_> {
    /// On arrival at each step of a context, and at its endings.
    pub fn arrivals(&self, context: usize) -> (Vec<Option<Origins>>, BTreeMap<Id, Origins>) {
        let context = &self.contexts.list[context];
        let net = self.program.net(context.procedure);
        let mut arrivals: Vec<Option<Origins>> = vec![None; net.nodes.len()];
        let mut ends: BTreeMap<Id, Origins> = BTreeMap::new();
        let mut open = BTreeSet::new();
        if let Some((start, state)) = net.start.and_then(|start| Some((start, context.states[start].as_ref()?))) {
            let held = |condition: usize| self.wanted[condition] && state.may_hold(&self.program.facts, condition);
            let at_start = (0..self.wanted.len()).map(|condition| held(condition).then_some(None).into_iter().collect());
            arrivals[start] = Some(at_start.collect());
            open.insert(start);
        }
        while let Some(node) = open.pop_first() {
            let (Some(origins), Some(state)) = (arrivals[node].clone(), context.states[node].as_ref()) else { continue };
            for (target, origins) in self.onward(context, node, state, &origins, &mut ends) {
                if meet(&mut arrivals[target], origins) {
                    open.insert(target);
                }
            }
        }
        (arrivals, ends)
    }

    fn ends(&self, context: usize) -> Rc<BTreeMap<Id, Origins>> {
        if let Some(known) = self.ends.borrow().get(&context) {
            return Rc::clone(known);
        }
        let ends = Rc::new(self.arrivals(context).1);
        self.ends.borrow_mut().insert(context, Rc::clone(&ends));
        ends
    }

    fn onward(
        &self,
        context: &Context,
        number: usize,
        arrival: &State,
        origins: &Origins,
        ends: &mut BTreeMap<Id, Origins>,
    ) -> Vec<(usize, Origins)> {
        let node = &self.program.net(context.procedure).nodes[number];
        let (mut state, mut after) = (arrival.clone(), origins.clone());
        self.step(node, (context.procedure, number), &mut state, &mut after);
        let mut found = Vec::new();
        for link in &context.links[number] {
            match link {
                Link::Stay { target } => found.push((*target, origins.clone())),
                Link::Call { target, context, outcome } => {
                    if let Some(inside) = self.ends(*context).get(outcome) {
                        found.push((*target, through(inside, &after)));
                    }
                }
                Link::End { outcome, .. } => {
                    let mut known = ends.remove(outcome);
                    meet(&mut known, after.clone());
                    ends.extend(known.map(|known| (outcome.clone(), known)));
                }
                // Below, by way: what a way sets is told apart.
                Link::Leave { .. } => {}
            }
        }
        for (place, way) in node.ways.iter().enumerate() {
            if !matches!(way.kind, WayKind::Otherwise | WayKind::Model | WayKind::Outcome) {
                let (mut state, mut after) = (state.clone(), after.clone());
                self.changes(&way.changes, (context.procedure, number, Some(place)), &mut state, &mut after);
                found.push((way.target, after));
            }
        }
        found
    }

    fn step(&self, node: &Node, (procedure, number): (usize, usize), state: &mut State, origins: &mut Origins) {
        let facts = &self.program.facts;
        let before = state.clone();
        carry::wait(facts, node, state, &mut Vec::new());
        let origin = Some((procedure, number, None));
        let waits = node.wait > 0 || node.wait_for.is_some();
        for (condition, setters) in origins.iter_mut().enumerate() {
            let come = self.wanted[condition] && state.may_hold(facts, condition) && !before.holds(facts, condition);
            let begun = facts.conditions[condition].after.is_some_and(|after| before.may_hold(facts, after));
            if come && !before.may_hold(facts, condition) {
                *setters = [origin].into();
            } else if come && begun && waits {
                setters.insert(origin);
            }
        }
        self.changes(&node.changes, (procedure, number, None), state, origins);
    }

    fn changes(&self, changes: &[Change], by: (usize, usize, Option<usize>), state: &mut State, origins: &mut Origins) {
        let facts = &self.program.facts;
        for change in changes {
            let before = state.clone();
            carry::change(facts, std::slice::from_ref(change), state, &mut Vec::new());
            if let Change::Set(condition) | Change::SetUntried(condition) = *change
                && self.wanted[condition]
            {
                let after = facts.conditions[condition].after;
                if after.is_none_or(|after| before.holds(facts, after)) {
                    origins[condition].clear();
                }
                if after.is_none_or(|after| before.may_hold(facts, after)) {
                    origins[condition].insert(Some(by));
                }
            }
            for (condition, origins) in origins.iter_mut().enumerate() {
                if !state.may_hold(facts, condition) {
                    origins.clear();
                }
            }
        }
    }
}

/// What comes out of a procedure carried out: what it set, or what held before where it left that alone.
fn through(inside: &Origins, before: &Origins) -> Origins {
    let joined = inside.iter().zip(before).map(|(inside, before)| {
        let own = inside.iter().filter(|origin| origin.is_some()).copied();
        let kept = before.iter().filter(|_| inside.contains(&None)).copied();
        own.chain(kept).collect()
    });
    joined.collect()
}

fn meet(known: &mut Option<Origins>, more: Origins) -> bool {
    let Some(known) = known else {
        *known = Some(more);
        return true;
    };
    let mut changed = false;
    for (known, more) in known.iter_mut().zip(more) {
        for origin in more {
            changed |= known.insert(origin);
        }
    }
    changed
}
