//! Where two neighbours may change places at no cost in crossings, they stand as the columns of what they are linked to: lines wander less.

use crate::chart::order::near::Near;
use crate::chart::order::rows::Rows;
use crate::chart::weave::Fabric;

const PASSES: usize = 8;

/// Reorders neighbours by a first guess of the columns. True if any moved.
pub fn settle(fabric: &mut Fabric, near: &Near, columns: &[i64]) -> bool {
    let mut rows = Rows::of(fabric, near);
    let mut wanted: Vec<i64> = columns.to_vec();
    let mut any = false;
    for pass in 0..PASSES {
        let mut moved = false;
        for step in 0..rows.rows.len() {
            let row = if pass % 2 == 0 { step } else { rows.rows.len() - 1 - step };
            moved |= settle_row(&mut rows, row, &mut wanted);
        }
        any |= moved;
        if !moved {
            break;
        }
    }
    rows.put(fabric);
    any
}

fn settle_row(rows: &mut Rows, row: usize, columns: &mut [i64]) -> bool {
    let wish = |columns: &[i64], cell: u32| {
        let cell = cell as usize;
        let near = || rows.near.above(cell).iter().chain(rows.near.below(cell)).map(|end| columns[end.cell()]);
        let count = near().count() as i64;
        if count == 0 { columns[cell] } else { near().sum::<i64>() / count }
    };
    let mut wishes: Vec<i64> = rows.rows[row].iter().map(|cell| wish(columns, *cell)).collect();
    let mut any = false;
    for _ in 0..4 {
        let mut moved = false;
        for place in 1..wishes.len() {
            if wishes[place - 1] <= wishes[place] {
                continue;
            }
            let (left, right) = (rows.rows[row][place - 1], rows.rows[row][place]);
            if rows.gain(left, right) >= 0 {
                rows.swap(row, place);
                wishes.swap(place - 1, place);
                columns.swap(left as usize, right as usize);
                moved = true;
            }
        }
        any |= moved;
        if !moved {
            break;
        }
    }
    any
}
