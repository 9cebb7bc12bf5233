//! Columns fast: cells are aligned with a middle neighbour into pillars, pillars are packed (after Brandes, Köpf 2001). Packing is by longest
//! path over the pillars, which the published erratum (Brandes, Walter, Zink 2020) does not touch. Of four directions the one that bends least is kept: a
//! mean of them would bend long lines by a little everywhere.

use crate::chart::blocks::Blocks;
use crate::chart::weave::Fabric;

/// A column for each block that keeps all distances.
pub fn columns(fabric: &Fabric, blocks: &Blocks) -> Vec<i64> {
    let ladder = Ladder::new(fabric, blocks);
    let bending = |layout: &Vec<i64>| -> i64 { blocks.links.iter().map(|(a, b, weight)| weight * (layout[*a] - layout[*b]).abs()).sum() };
    let directions = [(true, true), (true, false), (false, true), (false, false)];
    let layouts = directions.map(|(from_above, from_left)| ladder.layout(from_above, from_left));
    layouts.into_iter().min_by_key(bending).unwrap_or_default()
}

struct Ladder<'a> {
    fabric: &'a Fabric,
    blocks: &'a Blocks,
    places: Vec<usize>,
    above: Vec<Vec<usize>>,
    below: Vec<Vec<usize>>,
    /// The cell above in a block.
    over: Vec<Option<usize>>,
}

impl<'a> Ladder<'a> {
    fn new(fabric: &'a Fabric, blocks: &'a Blocks) -> Self {
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
        let mut over = vec![None; count];
        for (cell, below) in blocks.below.iter().enumerate() {
            if let Some(below) = below {
                over[*below] = Some(cell);
            }
        }
        Self { fabric, blocks, places, above, below, over }
    }

    fn layout(&self, from_above: bool, from_left: bool) -> Vec<i64> {
        let pillars = self.pillars(from_above, from_left);
        let columns = self.pack(&pillars, from_left);
        columns.into_iter().map(|column| if from_left { column } else { -column }).collect()
    }

    /// The pillar of each block, named by one of its blocks.
    fn pillars(&self, from_above: bool, from_left: bool) -> Vec<usize> {
        let mut pillars = Pillars((0..self.blocks.count).collect());
        let rows = self.fabric.rows.len();
        for step in 1..rows {
            let row = if from_above { step } else { rows - 1 - step };
            let joined = self.claims(row, from_above, from_left);
            for (cell, other) in joined {
                pillars.join(self.blocks.of[cell], self.blocks.of[other]);
            }
        }
        (0..self.blocks.count).map(|block| pillars.of(block)).collect()
    }

    /// Which cells of a row stand under (over) which of the row before. Runs of blocks come first; what others claim keeps clear of them.
    fn claims(&self, row: usize, from_above: bool, from_left: bool) -> Vec<(usize, usize)> {
        let cells = &self.fabric.rows[row];
        let run = |cell: usize| if from_above { self.over[cell] } else { self.blocks.below[cell] };
        let turned = |place: usize, of: usize| if from_left { place } else { of - 1 - place };
        let before = if from_above { row - 1 } else { row + 1 };
        let width = self.fabric.rows[before].len();
        let place_of = |cell: usize| turned(self.places[cell], width);
        // For each turn the place of the next run from there on.
        let order: Vec<usize> = (0..cells.len()).map(|turn| cells[turned(turn, cells.len())]).collect();
        let mut limits = vec![width; order.len()];
        let mut limit = width;
        for (turn, cell) in order.iter().enumerate().rev() {
            limits[turn] = limit;
            limit = run(*cell).map_or(limit, place_of);
        }
        let mut claims = Vec::new();
        let mut least = 0;
        for (turn, cell) in order.iter().enumerate() {
            if let Some(other) = run(*cell) {
                least = place_of(other) + 1;
                continue;
            }
            let near = if from_above { &self.above[*cell] } else { &self.below[*cell] };
            let free = |other: &usize| {
                (least..limits[turn]).contains(&place_of(*other))
                    && if from_above { self.blocks.below[*other].is_none() } else { self.over[*other].is_none() }
            };
            if let Some(other) = middle(near, from_left).into_iter().flatten().find(free) {
                least = place_of(other) + 1;
                claims.push((*cell, other));
            }
        }
        claims
    }

    /// Longest path over the pillars, then each as far back to its followers as it can go.
    fn pack(&self, pillars: &[usize], from_left: bool) -> Vec<i64> {
        let count = pillars.len();
        let mut next: Vec<Vec<(usize, i64)>> = vec![Vec::new(); count];
        let mut waiting = vec![0usize; count];
        for (left, right, gap) in &self.blocks.apart {
            let (a, b) = if from_left { (*left, *right) } else { (*right, *left) };
            next[pillars[a]].push((pillars[b], *gap));
            waiting[pillars[b]] += 1;
        }
        let mut column = vec![0i64; count];
        let mut queue: Vec<usize> = (0..count).filter(|block| pillars[*block] == *block && waiting[*block] == 0).collect();
        let mut done = 0;
        while let Some(&pillar) = queue.get(done) {
            done += 1;
            for &(other, gap) in &next[pillar] {
                column[other] = column[other].max(column[pillar] + gap);
                waiting[other] -= 1;
                if waiting[other] == 0 {
                    queue.push(other);
                }
            }
        }
        for &pillar in queue.iter().rev() {
            if let Some(most) = next[pillar].iter().map(|(other, gap)| column[*other] - gap).min() {
                column[pillar] = column[pillar].max(most);
            }
        }
        pillars.iter().map(|pillar| column[*pillar]).collect()
    }
}

/// The middle neighbour, or both.
fn middle(near: &[usize], from_left: bool) -> [Option<usize>; 2] {
    let half = near.len() / 2;
    match near.len() {
        0 => [None, None],
        odd if odd % 2 == 1 => [Some(near[half]), None],
        _ if from_left => [Some(near[half - 1]), Some(near[half])],
        _ => [Some(near[half]), Some(near[half - 1])],
    }
}

/// Blocks in one pillar, by a forest (Tarjan 1975).
struct Pillars(Vec<usize>);

impl Pillars {
    fn of(&mut self, block: usize) -> usize {
        let mut root = block;
        while self.0[root] != root {
            self.0[root] = self.0[self.0[root]];
            root = self.0[root];
        }
        root
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b)] = a.min(b);
    }
}
