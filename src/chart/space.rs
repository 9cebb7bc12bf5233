//! How far apart the cells of a row stand.

use crate::chart::weave::{Cell, Kind};

const STEP_GAP: i32 = 32;
const LABEL_GAP: i32 = 14;
const LINE_GAP: i32 = 16;

/// The least distance between the axes of two neighbours in a row.
pub fn gap(left: &Cell, right: &Cell) -> i64 {
    let space = match (left.kind, right.kind) {
        (Kind::Step(_), Kind::Step(_)) => STEP_GAP,
        (Kind::Own(_), Kind::Own(_)) => LABEL_GAP,
        (Kind::Step(_) | Kind::Own(_) | Kind::Thread(_) | Kind::Lane(_), _) => LINE_GAP,
    };
    i64::from(left.right + space + right.left)
}
