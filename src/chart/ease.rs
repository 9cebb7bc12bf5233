//! Takes out small jogs: where a line misses being straight by a few units only because gaps are full, the gaps give way a little.

use std::collections::BTreeSet;

use crate::chart::space::gap;
use crate::chart::weave::Fabric;

/// The widest jog that is taken out, and how much a gap may give way in all. Less than any gap less the distance at which lines look like one.
const EASE: i64 = 6;
const PASSES: usize = 3;

/// Moves straight runs of cells sideways by at most [`EASE`] where that costs less bending than it saves.
pub fn ease(fabric: &Fabric, columns: &mut [i64]) {
    let ladder = Ladder::new(fabric);
    for _ in 0..PASSES {
        let mut moved = false;
        for link in &fabric.links {
            let jog = columns[link.lower] - columns[link.upper];
            if jog == 0 || jog.abs() > EASE {
                continue;
            }
            for (cell, other, by) in [(link.lower, link.upper, -jog), (link.upper, link.lower, jog)] {
                let run = ladder.straight_run(cell, columns);
                if !run.contains(&other)
                    && ladder.has_room(&run, by, columns)
                    && ladder.cost(&run, by, columns) < ladder.cost(&run, 0, columns)
                {
                    run.iter().for_each(|cell| columns[*cell] += by);
                    moved = true;
                    break;
                }
            }
        }
        if !moved {
            break;
        }
    }
}

struct Ladder<'a> {
    fabric: &'a Fabric,
    places: Vec<usize>,
    /// Links at each cell, as (other cell, weight).
    near: Vec<Vec<(usize, i64)>>,
}

impl<'a> Ladder<'a> {
    fn new(fabric: &'a Fabric) -> Self {
        let mut places = vec![0; fabric.cells.len()];
        for row in &fabric.rows {
            for (place, cell) in row.iter().enumerate() {
                places[*cell] = place;
            }
        }
        let mut near = vec![Vec::new(); fabric.cells.len()];
        for link in &fabric.links {
            near[link.upper].push((link.lower, link.weight));
            near[link.lower].push((link.upper, link.weight));
        }
        Self { fabric, places, near }
    }

    /// A cell and all that stand straight above and below it.
    fn straight_run(&self, cell: usize, columns: &[i64]) -> BTreeSet<usize> {
        let mut run = BTreeSet::from([cell]);
        let mut open = vec![cell];
        while let Some(cell) = open.pop() {
            for (other, _) in &self.near[cell] {
                if columns[*other] == columns[cell] && run.insert(*other) {
                    open.push(*other);
                }
            }
        }
        run
    }

    fn has_room(&self, run: &BTreeSet<usize>, by: i64, columns: &[i64]) -> bool {
        let at = |cell: usize| columns[cell] + if run.contains(&cell) { by } else { 0 };
        run.iter().all(|cell| {
            let row = &self.fabric.rows[self.fabric.cells[*cell].row];
            let place = self.places[*cell];
            let apart = |left: usize, right: usize| at(right) - at(left) >= gap(&self.fabric.cells[left], &self.fabric.cells[right]) - EASE;
            let before = place.checked_sub(1).and_then(|place| row.get(place));
            before.is_none_or(|left| apart(*left, *cell)) && row.get(place + 1).is_none_or(|right| apart(*cell, *right))
        })
    }

    /// The bending of all lines at a run that is moved.
    fn cost(&self, run: &BTreeSet<usize>, by: i64, columns: &[i64]) -> i64 {
        let links = run.iter().flat_map(|cell| self.near[*cell].iter().map(move |(other, weight)| (*cell, *other, *weight)));
        links
            .filter(|(_, other, _)| !run.contains(other))
            .map(|(cell, other, weight)| weight * (columns[cell] + by - columns[other]).abs())
            .sum()
    }
}
