//! Room for calls as deep as procedures carry each other out.

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
