//! What a count says about the rate behind it: exact limits of a Poisson count (Garwood 1936; `script/trade/count.js`).

/// One chance in forty on either side: 95 % in all.
const TAIL: f64 = 0.025;
/// Halvings: far beyond the last digit of a double.
const HALVINGS: u32 = 200;

/// The chance of at most `count` where `mean` are expected.
fn at_most(count: u32, mean: f64) -> f64 {
    let mut term = (-mean).exp();
    let mut sum = term;
    for n in 1..=count {
        term *= mean / f64::from(n);
        sum += term;
    }
    sum
}

/// The mean at which a chance that falls with it comes down to `wanted`.
fn mean_where(wanted: f64, most: f64, chance: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, most);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if chance(middle) > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// The least and the greatest mean that such a count leaves open, at 95 %. Counts to 500.
pub fn poisson_limits(count: u32) -> (f64, f64) {
    // Six standard deviations and some: no limit at 95 % lies further out.
    let most = f64::from(count) + 6.0 * f64::from(count + 1).sqrt() + 10.0;
    let low = if count == 0 { 0.0 } else { mean_where(1.0 - TAIL, most, |mean| at_most(count - 1, mean)) };
    (low, mean_where(TAIL, most, |mean| at_most(count, mean)))
}
