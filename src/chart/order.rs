//! The order of each row, for few crossings: sweeps from several beginnings, then annealing from the best of them.

pub mod anneal;
pub mod near;
pub mod rows;
pub mod settle;
pub mod sweep;

use crate::chart::align;
use crate::chart::blocks::Blocks;
use crate::chart::graph::Graph;
use crate::chart::order::anneal::Dice;
use crate::chart::order::near::Near;
use crate::chart::order::rows::Rows;
use crate::chart::sides::{self, Sides};
use crate::chart::weave::Fabric;

/// Beginnings that are swept, sweeps of one, and sweeps without a gain before it is given up.
const BEGINNINGS: usize = 2;
const SWEEPS: usize = 24;
const PATIENCE: usize = 6;
/// Links that are swept in all, and the fewest sweeps.
const SWEPT: usize = 60_000;
const FEW_SWEEPS: usize = 4;
/// How often neighbours are tried in all while annealing, and in how many rounds at most. Short rounds find less, one long one may end badly.
const TRIES: usize = 900_000;
const ROUNDS: usize = 4;
/// The most and the least passes of a round.
const PASSES: usize = 1_000;
const FEWEST: usize = 12;
/// How often in a round the sides of lines back up are chosen anew.
const PARTS: usize = 12;
/// How often what costs no crossings is put right, and over so many cells once.
const SETTLINGS: usize = 3;
const MANY: usize = 5_000;

/// Sorts the rows of a fabric; gives the sides of the lines back up, and the number of crossings between rows.
pub fn order(graph: &Graph, fabric: &mut Fabric) -> (Vec<Sides>, u64) {
    let near = Near::new(fabric, &[]);
    if let Some(rows) = swept(fabric, &near) {
        rows.put(fabric);
    }
    let pairs: usize = fabric.rows.iter().map(|row| row.len().saturating_sub(1)).sum();
    let passes = TRIES / pairs.max(1);
    let mut crossings = counted(graph, fabric);
    for round in 0..(passes / PASSES).clamp(1, ROUNDS) {
        if crossings == 0 {
            break;
        }
        let before = fabric.rows.clone();
        annealed(graph, fabric, passes.clamp(FEWEST, PASSES), Dice(round as u64));
        let found = counted(graph, fabric);
        if found < crossings {
            crossings = found;
        } else {
            fabric.rows = before;
        }
    }
    let sides = sides::choose(graph, fabric);
    let near = Near::new(fabric, &sides);
    let settlings = if fabric.cells.len() > MANY { 1 } else { SETTLINGS };
    for _ in 0..settlings {
        let blocks = Blocks::new(fabric);
        let columns = align::columns(fabric, &blocks);
        let columns: Vec<i64> = blocks.of.iter().map(|block| columns[*block]).collect();
        if !settle::settle(fabric, &near, &columns) {
            break;
        }
    }
    let crossings = Rows::of(fabric, &near).crossings();
    (sides, crossings)
}

/// Crossings if every line back up takes the better sides.
fn counted(graph: &Graph, fabric: &Fabric) -> u64 {
    Rows::of(fabric, &Near::new(fabric, &sides::choose(graph, fabric))).crossings()
}

/// One annealing; the sides follow the order.
fn annealed(graph: &Graph, fabric: &mut Fabric, passes: usize, mut dice: Dice) {
    for part in 0..PARTS {
        let near = Near::new(fabric, &sides::choose(graph, fabric));
        let mut rows = Rows::of(fabric, &near);
        anneal::anneal(&mut rows, passes * part / PARTS..passes * (part + 1) / PARTS, passes, &mut dice);
        rows.put(fabric);
    }
}

/// The best of the sweeps.
fn swept<'a>(fabric: &Fabric, near: &'a Near) -> Option<Rows<'a>> {
    let mut best: Option<(u64, Rows)> = None;
    for beginning in 0..BEGINNINGS {
        let mut rows = sweep::begin(fabric, near, beginning);
        let mut idle = 0;
        let mut least = u64::MAX;
        for number in 0..(SWEPT / fabric.links.len().max(1)).clamp(FEW_SWEEPS, SWEEPS) {
            let crossings = rows.crossings();
            if best.as_ref().is_none_or(|(least, _)| crossings < *least) {
                best = Some((crossings, rows.clone()));
            }
            idle = if crossings < least { 0 } else { idle + 1 };
            least = least.min(crossings);
            if crossings == 0 {
                return Some(rows);
            }
            if idle > PATIENCE {
                break;
            }
            sweep::sweep(&mut rows, number);
            sweep::exchange(&mut rows, number % 4 >= 2);
        }
    }
    best.map(|(_, rows)| rows)
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
