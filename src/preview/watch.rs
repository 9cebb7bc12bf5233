//! Says when to look at a library again. The system's messages only wake it; what changed is told by reading, so a lost message does no harm.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher as _};

/// After a change it is quiet for this long before the library is read: an editor saves in several steps.
const QUIET: Duration = Duration::from_millis(30);
/// And read after this long even if it is never quiet.
const LONGEST: Duration = Duration::from_millis(500);
/// Without any message it is read this often: folders that come back, and volumes whose system sends no messages.
const IDLE: Duration = Duration::from_secs(3);

pub struct Watch {
    folder: PathBuf,
    watcher: Option<RecommendedWatcher>,
    woken: Receiver<()>,
    /// Which folder is watched; another may have taken its place since.
    followed: Option<u64>,
    /// The folder is read again soon, whatever happens.
    soon: bool,
}

impl Watch {
    pub fn new(folder: PathBuf) -> Self {
        let (wake, woken) = channel();
        let heard = move |event: notify::Result<Event>| {
            // Reading is no change, and a compiler that reads must not wake itself.
            if !event.is_ok_and(|event| matches!(event.kind, EventKind::Access(_))) {
                // Nobody listens any more only when the process ends.
                let _ = wake.send(());
            }
        };
        let mut watch = Self { folder, watcher: notify::recommended_watcher(heard).ok(), woken, followed: None, soon: false };
        watch.follow();
        watch
    }

    /// Sets the watch on the folder, again if another took its place. If the system cannot watch it, the idle look remains.
    fn follow(&mut self) {
        let (Some(watcher), Some(there)) = (&mut self.watcher, identity(&self.folder)) else { return };
        if self.followed != Some(there) {
            let _ = watcher.unwatch(&self.folder);
            self.followed = watcher.watch(&self.folder, RecursiveMode::Recursive).is_ok().then_some(there);
        }
    }

    /// The next look comes soon, without a message.
    pub fn again(&mut self) {
        self.soon = true;
    }

    /// Returns when it is time to look.
    pub fn wait(&mut self) {
        let idle = if std::mem::take(&mut self.soon) { QUIET * 10 } else { IDLE };
        match self.woken.recv_timeout(idle) {
            Ok(()) => self.settle(),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => thread::sleep(idle),
        }
        self.follow();
    }

    fn settle(&self) {
        let end = Instant::now() + LONGEST;
        while let Some(left) = end.checked_duration_since(Instant::now()) {
            if self.woken.recv_timeout(QUIET.min(left)).is_err() {
                return;
            }
        }
    }
}

/// Tells a folder from another of the same name.
#[cfg(unix)]
fn identity(folder: &Path) -> Option<u64> {
    use std::os::unix::fs::MetadataExt as _;
    fs::metadata(folder).ok().map(|found| found.ino())
}

#[cfg(not(unix))]
fn identity(folder: &Path) -> Option<u64> {
    let made = fs::metadata(folder).ok()?.created().ok()?;
    made.duration_since(std::time::UNIX_EPOCH).ok().map(|since| since.as_nanos() as u64)
}
