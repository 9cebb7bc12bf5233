//! The column of each cell. Least weighted bending of all links (network simplex on the auxiliary graph, Gansner and others 1993) over
//! [`blocks`](crate::chart::blocks), beginning from the
//! fast alignment of [`align`], bettered by [`relax`]; a very large drawing ends before the least is reached.

use crate::chart::align;
use crate::chart::blocks::Blocks;
use crate::chart::relax;
use crate::chart::simplex::{self, Arc};
use crate::chart::weave::Fabric;

/// Nodes that the simplex may visit, in all and for each of its own; so large drawings take little longer than it takes to read them.
const WORK: usize = 150_000;
const WORK_EACH: usize = 10;

/// A column (the axis) for each cell; the left edge of the leftmost cell may be at any number.
pub fn columns(fabric: &Fabric) -> Vec<i32> {
    let blocks = Blocks::new(fabric);
    let mut columns = align::columns(fabric, &blocks);
    relax::relax(&blocks, &mut columns);
    if blocks.links.iter().any(|(a, b, _)| columns[*a] != columns[*b]) {
        columns = straighten(&blocks, &columns);
    }
    blocks.of.iter().map(|block| i32::try_from(columns[*block]).unwrap_or(i32::MAX / 4)).collect()
}

fn straighten(blocks: &Blocks, rough: &[i64]) -> Vec<i64> {
    let count = blocks.count;
    let lowest = rough.iter().min().copied().unwrap_or(0);
    // Node 0 is the root, then the blocks, then one node for each link, left of both its ends.
    let mut first = vec![0];
    first.extend(rough.iter().map(|column| column - lowest));
    let mut arcs: Vec<Arc> =
        blocks.apart.iter().map(|(left, right, min)| Arc { tail: left + 1, head: right + 1, weight: 0, min: *min }).collect();
    let mut leftmost = vec![true; count];
    for (_, right, _) in &blocks.apart {
        leftmost[*right] = false;
    }
    arcs.extend((0..count).filter(|block| leftmost[*block]).map(|block| Arc { tail: 0, head: block + 1, weight: 0, min: 0 }));
    for (index, (a, b, weight)) in blocks.links.iter().enumerate() {
        let node = count + 1 + index;
        first.push(first[a + 1].min(first[b + 1]));
        arcs.extend([a, b].map(|end| Arc { tail: node, head: end + 1, weight: *weight, min: 0 }));
    }
    let nodes = count + 1 + blocks.links.len();
    let columns = simplex::ranks(nodes, &arcs, Some(first), WORK + WORK_EACH * nodes);
    columns.get(1..=count).map(<[i64]>::to_vec).unwrap_or_default()
}
