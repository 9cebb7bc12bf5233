//! Columns fast: cells are aligned with a middle neighbour into blocks, blocks are packed (after Brandes, Köpf 2001). Packing is by longest
//! path over the blocks, which the published erratum (Brandes, Walter, Zink 2020) does not touch. Of four directions the one that bends least is kept: a
//! mean of them would bend long lines by a little everywhere.

use crate::chart::space::gap;
use crate::chart::weave::{Fabric, Kind};

/// A column for each cell that keeps all gaps.
pub fn columns(fabric: &Fabric) -> Vec<i64> {
    let ladder = Ladder::new(fabric);
    let mut layouts: Vec<Vec<i64>> = Vec::new();
    for from_above in [true, false] {
        for from_left in [true, false] {
            layouts.push(ladder.layout(from_above, from_left));
        }
    }
    let bending =
        |layout: &Vec<i64>| -> i64 { fabric.links.iter().map(|link| link.weight * (layout[link.upper] - layout[link.lower]).abs()).sum() };
    layouts.into_iter().min_by_key(bending).unwrap_or_default()
}

struct Ladder<'a> {
    fabric: &'a Fabric,
    places: Vec<usize>,
    above: Vec<Vec<usize>>,
    below: Vec<Vec<usize>>,
}

impl<'a> Ladder<'a> {
    fn new(fabric: &'a Fabric) -> Self {
        let count = fabric.cells.len();
        let mut places = vec![0; count];
        for row in &fabric.rows {
            for (place, cell) in row.iter().enumerate() {
                places[*cell] = place;
            }
        }
        let (mut above, mut below) = (vec![Vec::new(); count], vec![Vec::new(); count]);
        for link in &fabric.links {
            below[link.upper].push(link.lower);
            above[link.lower].push(link.upper);
        }
        for near in above.iter_mut().chain(&mut below) {
            near.sort_unstable_by_key(|cell| places[*cell]);
        }
        Self { fabric, places, above, below }
    }

    fn layout(&self, from_above: bool, from_left: bool) -> Vec<i64> {
        let root = self.blocks(from_above, from_left);
        let columns = self.pack(&root, from_left);
        columns.into_iter().map(|column| if from_left { column } else { -column }).collect()
    }

    /// The block of each cell, named by the cell it began with.
    fn blocks(&self, from_above: bool, from_left: bool) -> Vec<usize> {
        let count = self.fabric.cells.len();
        let mut root: Vec<usize> = (0..count).collect();
        let mut taken = vec![false; count];
        let rows = self.fabric.rows.len();
        for step in 0..rows {
            let row = &self.fabric.rows[if from_above { step } else { rows - 1 - step }];
            // Threads claim their neighbour first, so that long lines stay straight; what they claim bounds the others.
            let mut claims: Vec<(usize, usize)> = Vec::new();
            for threads in [true, false] {
                for turn in 0..row.len() {
                    let cell = row[if from_left { turn } else { row.len() - 1 - turn }];
                    let near = if from_above { &self.above[cell] } else { &self.below[cell] };
                    let straight = self.is_thread(cell) && near.iter().any(|other| self.is_thread(*other));
                    if straight == threads {
                        self.claim(cell, near, threads, from_left, &mut taken, &mut claims);
                    }
                }
            }
            for (cell, other) in claims {
                root[cell] = root[other];
            }
        }
        root
    }

    fn claim(&self, cell: usize, near: &[usize], thread: bool, from_left: bool, taken: &mut [bool], claims: &mut Vec<(usize, usize)>) {
        let half = near.len() / 2;
        let mut middle: Vec<usize> = match near.len() {
            0 => Vec::new(),
            _ if thread => near.iter().copied().filter(|other| self.is_thread(*other)).collect(),
            odd if odd % 2 == 1 => vec![near[half]],
            _ => vec![near[half - 1], near[half]],
        };
        if !from_left {
            middle.reverse();
        }
        let place = self.places[cell];
        let free = |other: usize, taken: &[bool], claims: &[(usize, usize)]| {
            !taken[other] && claims.iter().all(|(a, b)| (self.places[*a] < place) == (self.places[*b] < self.places[other]))
        };
        if let Some(other) = middle.into_iter().find(|other| free(*other, taken, claims)) {
            taken[other] = true;
            claims.push((cell, other));
        }
    }

    fn is_thread(&self, cell: usize) -> bool {
        matches!(self.fabric.cells[cell].kind, Kind::Thread(_) | Kind::Lane(_))
    }

    /// Longest path over the blocks, then each block as far back to its followers as it can go.
    fn pack(&self, root: &[usize], from_left: bool) -> Vec<i64> {
        let count = root.len();
        let mut next: Vec<Vec<(usize, i64)>> = vec![Vec::new(); count];
        let mut waiting = vec![0usize; count];
        for row in &self.fabric.rows {
            for pair in row.windows(2) {
                let gap = gap(&self.fabric.cells[pair[0]], &self.fabric.cells[pair[1]]);
                let (a, b) = if from_left { (pair[0], pair[1]) } else { (pair[1], pair[0]) };
                next[root[a]].push((root[b], gap));
                waiting[root[b]] += 1;
            }
        }
        let mut column = vec![0i64; count];
        let mut queue: Vec<usize> = (0..count).filter(|cell| root[*cell] == *cell && waiting[*cell] == 0).collect();
        let mut done = 0;
        while let Some(&block) = queue.get(done) {
            done += 1;
            for &(other, gap) in &next[block] {
                column[other] = column[other].max(column[block] + gap);
                waiting[other] -= 1;
                if waiting[other] == 0 {
                    queue.push(other);
                }
            }
        }
        for &block in queue.iter().rev() {
            if let Some(most) = next[block].iter().map(|(other, gap)| column[*other] - gap).min() {
                column[block] = column[block].max(most);
            }
        }
        (0..count).map(|cell| column[root[cell]]).collect()
    }
}
