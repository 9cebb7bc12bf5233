//! How long something takes.

use std::time::{Duration, Instant};

/// The median of some runs; what is done `before` each is not counted.
pub fn median(runs: usize, mut before: impl FnMut(), mut run: impl FnMut()) -> Duration {
    let times = (0..runs).map(|_| {
        before();
        let start = Instant::now();
        run();
        start.elapsed()
    });
    middle(times.collect())
}

/// The one in the middle.
pub fn middle(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}
