//! The order of checks that finds a single fault in the fewest minutes (`script/trade/order.js`).

/// A check of one fault.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// How often this fault is the one, as a share of 1.
    pub share: f64,
    pub minutes: f64,
    /// Whether the set-up must be made before it.
    pub after_setup: bool,
}

/// Minutes on average: every check costs its minutes unless an earlier one has found the fault, the set-up once.
pub fn expected(checks: &[Check], order: &[usize], setup: f64) -> f64 {
    let (mut open, mut made, mut sum) = (1.0, false, 0.0);
    for check in order.iter().filter_map(|place| checks.get(*place)) {
        let first = check.after_setup && !made;
        made |= check.after_setup;
        sum += (check.minutes + if first { setup } else { 0.0 }) * open;
        open -= check.share;
    }
    sum
}

/// Falling share over minutes: the best order where nothing is shared (Simon and Kadane 1975). Of equals the earlier first.
pub fn by_ratio(checks: &[Check]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..checks.len()).collect();
    let ratio = |place: &usize| checks.get(*place).map_or(0.0, |check| check.share / check.minutes);
    order.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)));
    order
}

/// The best of all orders; of equals the first in the order of places. Meant for a handful of checks.
pub fn best(checks: &[Check], setup: f64) -> Vec<usize> {
    let mut best: Option<(f64, Vec<usize>)> = None;
    let mut order = Vec::new();
    try_all(checks.len(), &mut order, &mut |order| {
        let minutes = expected(checks, order, setup);
        // A hair of difference is rounding, and the two machines need not share it.
        if best.as_ref().is_none_or(|(least, _)| minutes < least - 1e-9) {
            best = Some((minutes, order.to_vec()));
        }
    });
    best.map(|(_, order)| order).unwrap_or_default()
}

fn try_all(count: usize, order: &mut Vec<usize>, seen: &mut impl FnMut(&[usize])) {
    if order.len() == count {
        seen(order);
        return;
    }
    for place in 0..count {
        if !order.contains(&place) {
            order.push(place);
            try_all(count, order, seen);
            order.pop();
        }
    }
}
