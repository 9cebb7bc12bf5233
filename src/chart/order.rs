//! The order of each row, for few crossings: barycentre and median sweeps (Sugiyama, Tagawa, Toda 1981; Eades, Wormald 1994), then exchange
//! of neighbours, from several beginnings; the best is kept. Crossings are counted with an accumulator tree (Barth, Junger, Mutzel 2002).

use crate::chart::weave::Fabric;

const BEGINNINGS: usize = 6;
/// Over so many cells only the first two are tried.
const MANY: usize = 4_000;
const SWEEPS: usize = 24;
/// Sweeps without a gain before a beginning is given up.
const PATIENCE: usize = 6;

/// Sorts the rows of a fabric and gives the number of crossings between rows.
pub fn order(fabric: &mut Fabric) -> u64 {
    let near = Near::new(fabric);
    let mut best: Option<(u64, Vec<Vec<usize>>)> = None;
    let beginnings = if fabric.cells.len() > MANY { 2 } else { BEGINNINGS };
    for beginning in 0..beginnings {
        let mut rows = Rows::begin(fabric, &near, beginning);
        let mut idle = 0;
        let mut own_best = u64::MAX;
        for sweep in 0..SWEEPS {
            let crossings = rows.crossings();
            if best.as_ref().is_none_or(|(least, _)| crossings < *least) {
                best = Some((crossings, rows.rows.clone()));
            }
            idle = if crossings < own_best { 0 } else { idle + 1 };
            own_best = own_best.min(crossings);
            if crossings == 0 || idle > PATIENCE {
                break;
            }
            rows.sweep(sweep);
            rows.exchange();
        }
        if best.as_ref().is_some_and(|(least, _)| *least == 0) {
            break;
        }
    }
    let Some((_, rows)) = best else { return 0 };
    let mut rows = Rows::of(rows, &near);
    rows.sift();
    let crossings = rows.crossings();
    fabric.rows = rows.rows;
    crossings
}

/// Crossings between two rows of pairs of positions (upper, lower).
pub fn count_crossings(pairs: &mut [(usize, usize)]) -> u64 {
    pairs.sort_unstable();
    let width = pairs.iter().map(|pair| pair.1 + 1).max().unwrap_or(0);
    let size = width.next_power_of_two();
    let mut tree = vec![0u64; 2 * size];
    let mut crossings = 0;
    for (_, lower) in pairs.iter() {
        let mut place = size + lower;
        tree[place] += 1;
        while place > 1 {
            if place % 2 == 0 {
                crossings += tree[place + 1];
            }
            place /= 2;
            tree[place] += 1;
        }
    }
    crossings
}

/// The cells that each cell is linked to, above and below.
struct Near {
    above: Vec<Vec<usize>>,
    below: Vec<Vec<usize>>,
}

impl Near {
    fn new(fabric: &Fabric) -> Self {
        let mut near = Self { above: vec![Vec::new(); fabric.cells.len()], below: vec![Vec::new(); fabric.cells.len()] };
        for link in &fabric.links {
            near.below[link.upper].push(link.lower);
            near.above[link.lower].push(link.upper);
        }
        near
    }
}

struct Rows<'a> {
    rows: Vec<Vec<usize>>,
    /// Where each cell stands in its row.
    places: Vec<usize>,
    near: &'a Near,
}

impl<'a> Rows<'a> {
    fn of(rows: Vec<Vec<usize>>, near: &'a Near) -> Self {
        let mut sorted = Self { rows, places: vec![0; near.above.len()], near };
        for row in 0..sorted.rows.len() {
            sorted.renumber(row);
        }
        sorted
    }

    /// Depth first from the top (even beginnings) or the bottom, later ones with the ways turned round.
    fn begin(fabric: &Fabric, near: &'a Near, beginning: usize) -> Self {
        let count = fabric.cells.len();
        let (ahead, behind) = if beginning.is_multiple_of(2) { (&near.below, &near.above) } else { (&near.above, &near.below) };
        let mut rows = vec![Vec::new(); fabric.rows.len()];
        let mut seen = vec![false; count];
        let mut roots: Vec<usize> = (0..count).filter(|cell| behind[*cell].is_empty()).collect();
        if beginning % 4 >= 2 {
            roots.reverse();
        }
        for root in roots {
            if std::mem::replace(&mut seen[root], true) {
                continue;
            }
            rows[fabric.cells[root].row].push(root);
            let mut stack = vec![(root, 0)];
            while let Some((cell, turn)) = stack.last_mut() {
                let ways = &ahead[*cell];
                if *turn == ways.len() {
                    stack.pop();
                    continue;
                }
                let next = ways[(*turn + beginning / 2) % ways.len()];
                *turn += 1;
                if !std::mem::replace(&mut seen[next], true) {
                    rows[fabric.cells[next].row].push(next);
                    stack.push((next, 0));
                }
            }
        }
        Self::of(rows, near)
    }

    fn renumber(&mut self, row: usize) {
        for (place, cell) in self.rows[row].iter().enumerate() {
            self.places[*cell] = place;
        }
    }

    fn crossings(&self) -> u64 {
        let mut total = 0;
        let mut pairs = Vec::new();
        for row in &self.rows {
            pairs.clear();
            for cell in row {
                pairs.extend(self.near.below[*cell].iter().map(|below| (self.places[*cell], self.places[*below])));
            }
            if pairs.len() > 1 {
                total += count_crossings(&mut pairs);
            }
        }
        total
    }

    /// One pass down (even) or up, by barycentre or median in turn; cells without a neighbour there keep their place.
    fn sweep(&mut self, number: usize) {
        let down = number.is_multiple_of(2);
        let median = (number / 2) % 2 == 1;
        let count = self.rows.len();
        for step in 0..count {
            let row = if down { step } else { count - 1 - step };
            let mut keys = Vec::new();
            for (place, cell) in self.rows[row].iter().enumerate() {
                let near = if down { &self.near.above[*cell] } else { &self.near.below[*cell] };
                if let Some(key) = self.middle(near, median) {
                    keys.push((key, if number % 4 < 2 { place } else { usize::MAX - place }, *cell));
                }
            }
            keys.sort_unstable();
            let moving: Vec<bool> = self.rows[row]
                .iter()
                .map(|cell| !(if down { &self.near.above[*cell] } else { &self.near.below[*cell] }).is_empty())
                .collect();
            let mut sorted = keys.into_iter().map(|(_, _, cell)| cell);
            for (place, moves) in moving.into_iter().enumerate() {
                if let (true, Some(cell)) = (moves, if moves { sorted.next() } else { None }) {
                    self.rows[row][place] = cell;
                }
            }
            self.renumber(row);
        }
    }

    /// Barycentre or median of positions, in 1/5040 so that the fractions of small rows are exact.
    fn middle(&self, near: &[usize], median: bool) -> Option<u64> {
        let scale = 5040;
        let mut places: Vec<u64> = near.iter().map(|cell| self.places[*cell] as u64).collect();
        let count = places.len() as u64;
        if count == 0 {
            return None;
        }
        if !median {
            return Some(places.iter().sum::<u64>() * scale / count);
        }
        places.sort_unstable();
        let half = places.len() / 2;
        Some(if places.len() % 2 == 1 { places[half] * scale } else { (places[half - 1] + places[half]) * scale / 2 })
    }

    /// How many crossings fewer there are with `right` before `left`.
    fn gain(&self, left: usize, right: usize) -> i64 {
        let mut gain = 0;
        for near in [&self.near.above, &self.near.below] {
            for a in &near[left] {
                for b in &near[right] {
                    gain += match self.places[*a].cmp(&self.places[*b]) {
                        std::cmp::Ordering::Greater => 1,
                        std::cmp::Ordering::Less => -1,
                        std::cmp::Ordering::Equal => 0,
                    };
                }
            }
        }
        gain
    }

    /// Exchanges neighbours while that helps.
    fn exchange(&mut self) {
        let mut pending = vec![true; self.rows.len()];
        while pending.contains(&true) {
            for row in 0..pending.len() {
                if std::mem::take(&mut pending[row]) && self.exchange_in(row) {
                    let last = pending.len() - 1;
                    pending[row.saturating_sub(1)..=(row + 1).min(last)].fill(true);
                }
            }
        }
    }

    fn exchange_in(&mut self, row: usize) -> bool {
        let mut helped = false;
        for place in 1..self.rows[row].len() {
            let (left, right) = (self.rows[row][place - 1], self.rows[row][place]);
            if self.gain(left, right) > 0 {
                self.rows[row].swap(place - 1, place);
                self.places[right] = place - 1;
                self.places[left] = place;
                helped = true;
            }
        }
        helped
    }

    /// Moves single cells to the best place in their row (Matuszewski, Schönfeld, Molitor 1999).
    fn sift(&mut self) {
        for _ in 0..4 {
            let mut helped = false;
            for row in 0..self.rows.len() {
                for cell in self.rows[row].clone() {
                    helped |= self.sift_cell(row, cell);
                }
            }
            if !helped {
                break;
            }
        }
    }

    fn sift_cell(&mut self, row: usize, cell: usize) -> bool {
        let here = self.places[cell];
        let (mut best, mut target) = (0, here);
        let mut sum = 0;
        for place in here + 1..self.rows[row].len() {
            sum += self.gain(cell, self.rows[row][place]);
            if sum > best {
                (best, target) = (sum, place);
            }
        }
        sum = 0;
        for place in (0..here).rev() {
            sum += self.gain(self.rows[row][place], cell);
            if sum > best {
                (best, target) = (sum, place);
            }
        }
        if best > 0 {
            self.rows[row].remove(here);
            self.rows[row].insert(target, cell);
            self.renumber(row);
        }
        best > 0
    }
}
