//! The column of each cell. Least weighted bending of all links (network simplex on the auxiliary graph, Gansner and others 1993), beginning
//! from the fast alignment of [`align`]; for very large drawings the alignment alone.

use crate::chart::align;
use crate::chart::ease;
use crate::chart::simplex::{self, Arc};
use crate::chart::space::gap;
use crate::chart::weave::Fabric;

/// Over so many cells the alignment alone is used: it is fast and draws such flows about three times as wide.
const FINE: usize = 8_000;

/// A column (the axis) for each cell; the left edge of the leftmost cell may be at any number.
pub fn columns(fabric: &Fabric) -> Vec<i32> {
    let rough = align::columns(fabric);
    let mut fine = if fabric.cells.len() > FINE { rough } else { straighten(fabric, &rough) };
    ease::ease(fabric, &mut fine);
    fine.into_iter().map(|column| i32::try_from(column).unwrap_or(i32::MAX / 4)).collect()
}

fn straighten(fabric: &Fabric, rough: &[i64]) -> Vec<i64> {
    let count = fabric.cells.len();
    let lowest = rough.iter().min().copied().unwrap_or(0);
    // Node 0 is the root, then the cells, then one node for each link, left of both its ends.
    let mut first = vec![0];
    first.extend(rough.iter().map(|column| column - lowest));
    let mut arcs = Vec::new();
    for row in &fabric.rows {
        arcs.extend(row.first().map(|cell| Arc { tail: 0, head: cell + 1, weight: 0, min: 0 }));
        for pair in row.windows(2) {
            let min = gap(&fabric.cells[pair[0]], &fabric.cells[pair[1]]);
            arcs.push(Arc { tail: pair[0] + 1, head: pair[1] + 1, weight: 0, min });
        }
    }
    for (index, link) in fabric.links.iter().enumerate() {
        let node = count + 1 + index;
        first.push(first[link.upper + 1].min(first[link.lower + 1]));
        for end in [link.upper, link.lower] {
            arcs.push(Arc { tail: node, head: end + 1, weight: link.weight, min: 0 });
        }
    }
    let nodes = count + 1 + fabric.links.len();
    let columns = simplex::ranks(nodes, &arcs, Some(first), 40 * nodes);
    columns.get(1..=count).map(<[i64]>::to_vec).unwrap_or_default()
}
