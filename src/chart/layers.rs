//! The row of each step: least total length of lines, each line that does not go back leading at least one row down.

use std::collections::BTreeMap;

use crate::chart::graph::Graph;
use crate::chart::simplex::{self, Arc};

/// Nodes that the simplex may visit, in all and for each of its own.
const WORK: usize = 500_000;
const WORK_EACH: usize = 100;

/// Rows from 0 at the top. `back` says for each edge whether it goes back up.
pub fn rows(graph: &Graph, back: &[bool]) -> Vec<usize> {
    let count = graph.nodes.len();
    let mut weights = BTreeMap::new();
    let mut entered = vec![false; count];
    for (edge, _) in graph.edges.iter().zip(back).filter(|(_, back)| !**back) {
        *weights.entry((edge.from, edge.to)).or_insert(0) += i64::from(edge.weight.max(1));
        entered[edge.to] = true;
    }
    // A root above everything keeps the graph connected; its arcs cost nothing.
    let mut arcs: Vec<Arc> =
        weights.into_iter().map(|((tail, head), weight)| Arc { tail: tail + 1, head: head + 1, weight, min: 1 }).collect();
    arcs.extend((0..count).filter(|node| !entered[*node]).map(|node| Arc { tail: 0, head: node + 1, weight: 0, min: 1 }));
    let ranks = simplex::ranks(count + 1, &arcs, None, WORK + WORK_EACH * count);
    let own = ranks.get(1..).unwrap_or(&[]);
    let top = own.iter().min().copied().unwrap_or(0);
    own.iter().map(|rank| usize::try_from(rank - top).unwrap_or(0)).collect()
}
