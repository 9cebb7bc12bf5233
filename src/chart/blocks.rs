//! Long threads and lanes as one: what runs straight through many rows has one column. So the columns of a drawing are few, however long its lines.

use crate::chart::space::gap;
use crate::chart::weave::{Fabric, Kind};

/// The most cells of a block: straighter lines would make the drawing wide. In a drawing of many cells there is no such limit.
const RUN: usize = 4;
const MANY: usize = 30_000;

/// Cells in blocks that each stand in one column.
pub struct Blocks {
    /// The block of each cell.
    pub of: Vec<usize>,
    pub count: usize,
    /// For each cell the cell below it in its block.
    pub below: Vec<Option<usize>>,
    /// Neighbours in some row: left block, right block, least distance. Without circles, as no two blocks cross.
    pub apart: Vec<(usize, usize, i64)>,
    /// Lines between blocks: with their weight.
    pub links: Vec<(usize, usize, i64)>,
}

impl Blocks {
    pub fn new(fabric: &Fabric) -> Self {
        let mut below = runs(fabric);
        let most = if fabric.cells.len() > MANY { usize::MAX } else { RUN };
        let mut of = vec![usize::MAX; fabric.cells.len()];
        let mut count = 0;
        for cell in fabric.rows.iter().flatten() {
            if of[*cell] == usize::MAX {
                let mut here = Some(*cell);
                let mut length = 0;
                while let Some(cell) = here {
                    of[cell] = count;
                    length += 1;
                    if length == most {
                        below[cell] = None;
                    }
                    here = below[cell];
                }
                count += 1;
            }
        }
        let apart = merged(
            fabric.rows.iter().flat_map(|row| row.windows(2)).map(|pair| {
                let [left, right] = [pair[0], pair[1]];
                (of[left], of[right], gap(&fabric.cells[left], &fabric.cells[right]))
            }),
            i64::max,
        );
        let links =
            fabric.links.iter().map(|link| (of[link.upper], of[link.lower], link.weight)).filter(|(upper, lower, _)| upper != lower);
        let links = merged(links, |a, b| a + b);
        Self { of, count, below, apart, links }
    }
}

/// Pairs once each, in order.
fn merged(pairs: impl Iterator<Item = (usize, usize, i64)>, join: impl Fn(i64, i64) -> i64) -> Vec<(usize, usize, i64)> {
    let mut pairs: Vec<_> = pairs.collect();
    pairs.sort_unstable();
    pairs.dedup_by(|next, kept| {
        let same = (next.0, next.1) == (kept.0, kept.1);
        if same {
            kept.2 = join(kept.2, next.2);
        }
        same
    });
    pairs
}

/// For each cell of a thread or lane the next one down, where the two stand in one column. Of stretches that cross between two rows as many as
/// can be are kept: the longest rising sequence (Schensted 1961).
fn runs(fabric: &Fabric) -> Vec<Option<usize>> {
    let mut places = vec![0; fabric.cells.len()];
    for row in &fabric.rows {
        for (place, cell) in row.iter().enumerate() {
            places[*cell] = place;
        }
    }
    let mut stretches: Vec<(usize, usize, usize, usize)> = Vec::new();
    for link in &fabric.links {
        let (upper, lower) = (&fabric.cells[link.upper], &fabric.cells[link.lower]);
        if matches!(upper.kind, Kind::Thread(_) | Kind::Lane(_)) && upper.kind == lower.kind {
            stretches.push((upper.row, places[link.upper], link.upper, link.lower));
        }
    }
    stretches.sort_unstable();
    let mut below = vec![None; fabric.cells.len()];
    for row in stretches.chunk_by(|a, b| a.0 == b.0) {
        for kept in rising(row, &places) {
            let (_, _, upper, lower) = row[kept];
            below[upper] = Some(lower);
        }
    }
    below
}

/// Indices of a longest sequence of stretches whose lower places rise.
fn rising(row: &[(usize, usize, usize, usize)], places: &[usize]) -> Vec<usize> {
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(row.len());
    for (index, (_, _, _, lower)) in row.iter().enumerate() {
        let length = ends.partition_point(|end| places[row[*end].3] < places[*lower]);
        before.push(length.checked_sub(1).map(|last| ends[last]));
        ends.truncate(ends.len().max(length));
        if length == ends.len() {
            ends.push(index);
        } else {
            ends[length] = index;
        }
    }
    let mut kept = Vec::new();
    let mut here = ends.last().copied();
    while let Some(index) = here {
        kept.push(index);
        here = before[index];
    }
    kept
}
