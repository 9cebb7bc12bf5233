//! Exchanges of neighbours, at first also some that cost crossings, then ever fewer (Kirkpatrick, Gelatt, Vecchi 1983). Where sweeps and plain
//! exchanges are caught, this goes on: on dense flows it leaves a third fewer crossings. Chances are whole numbers, so that every machine agrees.

use crate::chart::order::rows::Rows;

/// Whole chances are this.
const SURE: u64 = 1 << 32;

/// At the beginning one in so many exchanges that cost a crossing is made.
const CHANCE: u64 = 10;

/// Passes over all rows, each trying every pair of neighbours once: those of a `part` of all `passes`.
pub fn anneal(rows: &mut Rows, part: std::ops::Range<usize>, passes: usize, dice: &mut Dice) {
    for pass in part {
        // The chance of an exchange that costs one crossing; what costs two has its square.
        let left = (passes - pass) as u64 * SURE / passes as u64;
        let one = scaled(left, SURE / CHANCE);
        for step in 0..rows.rows.len() {
            let row = if pass % 2 == 0 { step } else { rows.rows.len() - 1 - step };
            pass_over(rows, row, one, pass / 2 % 2 == 0, dice);
        }
    }
}

fn pass_over(rows: &mut Rows, row: usize, one: u64, rightwards: bool, dice: &mut Dice) {
    let width = rows.rows[row].len();
    for step in 1..width {
        let place = if rightwards { step } else { width - step };
        let gain = rows.gain(rows.rows[row][place - 1], rows.rows[row][place]);
        if gain >= 0 || dice.falls(one, gain.unsigned_abs()) {
            rows.swap(row, place);
        }
    }
}

fn scaled(a: u64, b: u64) -> u64 {
    ((u128::from(a) * u128::from(b)) >> 32) as u64
}

/// SplitMix64 (Steele, Lea, Flood 2014).
pub struct Dice(pub u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Whether something of a chance happens so many times in a row.
    fn falls(&mut self, chance: u64, times: u64) -> bool {
        if times > 12 {
            return false;
        }
        let all = (0..times).fold(SURE, |all, _| (all * chance) >> 32);
        self.next() >> 32 < all
    }
}
