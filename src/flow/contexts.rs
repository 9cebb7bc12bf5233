//! The fixed point spelled out: what is known at each step of a procedure, and at each step of what it carries out, once for each state that is
//! entered in. Whoever has all of it can check it step by step, without looking for a fixed point.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use crate::flow::must::{Arrivals, Program};
use crate::flow::state::State;

/// A procedure entered in one state.
pub struct Context {
    /// By number.
    pub procedure: usize,
    pub entry: State,
    pub arrivals: Arrivals,
    /// By carry-out step that a way leads to: the context in which it enters the procedure carried out.
    pub calls: BTreeMap<usize, usize>,
}

/// The procedure entered from its own start, and after it every context that it needs. Contexts of one procedure and one entry are one.
pub fn contexts(program: &Program<'_>, procedure: usize) -> Vec<Context> {
    let mut numbers = FxHashMap::from_iter([((procedure, program.start(procedure)), 0)]);
    let mut entered = vec![(procedure, program.start(procedure))];
    let mut found: Vec<Context> = Vec::new();
    while let Some((procedure, entry)) = entered.get(found.len()).cloned() {
        let arrivals = program.arrivals(procedure, entry.clone());
        let mut calls = BTreeMap::new();
        for (number, node) in program.net(procedure).nodes.iter().enumerate() {
            let Some(key) = arrivals.states[number].as_ref().and_then(|arrival| program.entry(node, arrival)) else { continue };
            let context = *numbers.entry(key.clone()).or_insert_with(|| {
                entered.push(key);
                entered.len() - 1
            });
            calls.insert(number, context);
        }
        found.push(Context { procedure, entry, arrivals, calls });
    }
    found
}
