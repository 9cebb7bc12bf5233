//! Being told to stop, by the keyboard or by the system, while a site is being written: it is then cleared away as after any failure, and nothing half written
//! stays beside the site in place. As long as nobody listens a process ends at once, as the system has it.

use std::io;
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;

use tokio::signal;

static STOPPED: AtomicBool = AtomicBool::new(false);

/// Whether the process was told to stop since [`listen`].
pub fn is_told() -> bool {
    STOPPED.load(Ordering::Relaxed)
}

/// Listens from now on. Where the system gives no way to, the process ends at once as before.
pub fn listen() {
    static LISTENING: Once = Once::new();
    LISTENING.call_once(|| {
        let Ok(runtime) = tokio::runtime::Builder::new_current_thread().enable_io().build() else { return };
        let inside = runtime.enter();
        let Ok(told) = told_to_end() else { return };
        drop(inside);
        thread::spawn(move || {
            runtime.block_on(told);
            STOPPED.store(true, Ordering::Relaxed);
        });
    });
}

/// Ends when the process is told to, by the keyboard or by the system; the process itself then goes on. To be called inside a runtime.
///
/// # Errors
/// The system gives no way to hear of it.
#[cfg(unix)]
pub fn told_to_end() -> io::Result<impl Future<Output = ()>> {
    use signal::unix::{SignalKind, signal};
    let (mut keyboard, mut system) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    Ok(async move {
        tokio::select! {
            _ = keyboard.recv() => {}
            _ = system.recv() => {}
        }
    })
}

/// Ends when the process is told to by the keyboard; the process itself then goes on.
///
/// # Errors
/// None here; elsewhere the system may give no way to hear of it.
#[cfg(not(unix))]
pub fn told_to_end() -> io::Result<impl Future<Output = ()>> {
    Ok(async {
        let _ = signal::ctrl_c().await;
    })
}
