//! Room for calls as deep as procedures carry each other out.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Enough for chains of more than 10,000 procedures; address space only, until it is used.
const STACK: usize = 1 << 29;

/// Does something that follows procedures into those they carry out, each a call deep, on a stack large enough for it. Nothing in it may give work to
/// the thread pool: whoever waits for it may be a worker of that pool, and would wait for itself.
pub fn deeply<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    std::thread::scope(|scope| {
        let builder = std::thread::Builder::new().stack_size(STACK).name("analysis".to_owned());
        let working = builder.spawn_scoped(scope, work).expect("a thread can be started");
        working.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}

/// Does `count` things of that kind, as many at once as the thread pool has threads, though not on them. What they return stands in their order.
pub fn deeply_each<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(count));
    let worker = || {
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                break;
            }
            let result = work(index);
            done.lock().unwrap_or_else(std::sync::PoisonError::into_inner).push((index, result));
        }
    };
    std::thread::scope(|scope| {
        let builder = || std::thread::Builder::new().stack_size(STACK).name("analysis".to_owned());
        let threads = rayon::current_num_threads().min(count);
        let working: Vec<_> = (0..threads).map(|_| builder().spawn_scoped(scope, worker).expect("a thread can be started")).collect();
        for thread in working {
            thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        }
    });
    let mut done = done.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_their_order_and_a_panic_is_passed_on() {
        assert_eq!(deeply_each(100, |index| index * index), (0..100).map(|index| index * index).collect::<Vec<_>>());
        assert!(deeply_each(0, |index| index).is_empty());
        assert!(std::panic::catch_unwind(|| deeply_each(3, |index| assert!(index != 1))).is_err());
    }
}
