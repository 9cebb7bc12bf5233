//! Beginnings and sweeps: rows sorted by the barycentre or the median of their neighbours (Sugiyama, Tagawa, Toda 1981; Eades, Wormald 1994).

use crate::chart::order::near::{End, Near, number};
use crate::chart::order::rows::Rows;
use crate::chart::weave::Fabric;

/// Passes of exchanges after a sweep.
const EXCHANGES: usize = 4;

/// Depth first from the top (even beginnings) or the bottom, later ones with the ways turned round.
pub fn begin<'a>(fabric: &Fabric, near: &'a Near, beginning: usize) -> Rows<'a> {
    let count = fabric.cells.len();
    let down = beginning.is_multiple_of(2);
    let ahead = |cell: usize| if down { near.below(cell) } else { near.above(cell) };
    let behind = |cell: usize| if down { near.above(cell) } else { near.below(cell) };
    let mut rows = vec![Vec::new(); fabric.rows.len()];
    let mut seen = vec![false; count];
    let mut roots: Vec<usize> = (0..count).filter(|cell| behind(*cell).is_empty()).collect();
    if beginning % 4 >= 2 {
        roots.reverse();
    }
    for root in roots {
        if std::mem::replace(&mut seen[root], true) {
            continue;
        }
        rows[fabric.cells[root].row].push(number(root));
        let mut stack = vec![(root, 0)];
        while let Some((cell, turn)) = stack.last_mut() {
            let ways = ahead(*cell);
            if *turn == ways.len() {
                stack.pop();
                continue;
            }
            let next = ways[(*turn + beginning / 2) % ways.len()].cell();
            *turn += 1;
            if !std::mem::replace(&mut seen[next], true) {
                rows[fabric.cells[next].row].push(number(next));
                stack.push((next, 0));
            }
        }
    }
    Rows::new(rows, count, near)
}

/// One pass down (even) or up, by barycentre or median in turn; cells without a neighbour there keep their place.
pub fn sweep(rows: &mut Rows, number: usize) {
    let count = rows.rows.len();
    for step in 0..count {
        let down = number.is_multiple_of(2);
        sort(rows, if down { step } else { count - 1 - step }, down, (number / 2) % 2 == 1, number % 4 < 2);
    }
}

fn sort(rows: &mut Rows, row: usize, down: bool, median: bool, keep: bool) {
    let near = rows.near;
    let neighbours = |cell: u32| if down { near.above(cell as usize) } else { near.below(cell as usize) };
    let mut keys = Vec::with_capacity(rows.rows[row].len());
    for (place, cell) in rows.rows[row].iter().enumerate() {
        if let Some(key) = middle(rows, neighbours(*cell), median) {
            keys.push((key, if keep { place } else { usize::MAX - place }, *cell));
        }
    }
    keys.sort_unstable();
    let mut sorted = keys.into_iter().map(|(_, _, cell)| cell);
    for place in 0..rows.rows[row].len() {
        if !neighbours(rows.rows[row][place]).is_empty()
            && let Some(cell) = sorted.next()
        {
            rows.rows[row][place] = cell;
        }
    }
    rows.renumber(row);
}

/// Barycentre or median of positions, in 1/5040 so that the fractions of small rows are exact.
fn middle(rows: &Rows, near: &[End], median: bool) -> Option<u64> {
    let scale = 5040;
    let place = |end: &End| u64::from(end.place(&rows.places));
    match near {
        [] => None,
        [one] => Some(place(one) * scale),
        _ if !median => Some(near.iter().map(place).sum::<u64>() * scale / near.len() as u64),
        _ => {
            let mut places: Vec<u64> = near.iter().map(place).collect();
            places.sort_unstable();
            let half = places.len() / 2;
            Some(if places.len() % 2 == 1 { places[half] * scale } else { (places[half - 1] + places[half]) * scale / 2 })
        }
    }
}

/// Exchanges neighbours while that helps, a few passes long; in the first also where it changes nothing, if `loose`.
pub fn exchange(rows: &mut Rows, loose: bool) {
    for pass in 0..EXCHANGES {
        let mut helped = false;
        for row in 0..rows.rows.len() {
            helped |= exchange_in(rows, row, loose && pass == 0);
        }
        if !helped {
            break;
        }
    }
}

fn exchange_in(rows: &mut Rows, row: usize, loose: bool) -> bool {
    let mut helped = false;
    for place in 1..rows.rows[row].len() {
        let gain = rows.gain(rows.rows[row][place - 1], rows.rows[row][place]);
        if gain > 0 || (loose && gain == 0) {
            rows.swap(row, place);
            helped |= gain > 0;
        }
    }
    helped
}
