//! The column of each cell. Least weighted bending of all links (network simplex on the auxiliary graph, Gansner and others 1993), beginning
//! from the fast alignment of [`align`]; for very large drawings the alignment alone.

use crate::chart::align;
use crate::chart::simplex::{self, Arc};
use crate::chart::weave::{Cell, Fabric, Kind};

/// Over so many cells the alignment alone is used.
const FINE: usize = 2_500;

const STEP_GAP: i32 = 32;
const LABEL_GAP: i32 = 12;
const LINE_GAP: i32 = 16;

/// A column (the axis) for each cell; the left edge of the leftmost cell may be at any number.
pub fn columns(fabric: &Fabric) -> Vec<i32> {
    let rough = align::columns(fabric);
    let fine = if fabric.cells.len() > FINE { rough } else { straighten(fabric, &rough) };
    fine.into_iter().map(|column| i32::try_from(column).unwrap_or(i32::MAX / 4)).collect()
}

/// The least distance between the axes of two neighbours in a row.
pub fn gap(left: &Cell, right: &Cell) -> i64 {
    let space = match (left.kind, right.kind) {
        (Kind::Step(_), Kind::Step(_)) => STEP_GAP,
        (Kind::Own(_), Kind::Own(_)) => LABEL_GAP,
        (Kind::Step(_) | Kind::Own(_) | Kind::Thread(_) | Kind::Lane(_), _) => LINE_GAP,
    };
    i64::from(left.right + space + right.left)
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
