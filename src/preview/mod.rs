//! The preview: a library's pages in memory, served to this computer alone, made anew as files change. It writes nothing.
//!
//! Three parts know nothing of each other: [`shelf`] holds the pages and what is wrong, [`watch`] says when to look again, [`server`] answers a browser.

pub mod server;
pub mod shelf;
pub mod watch;

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use std::thread;
use std::time::Duration;

use tokio::sync::watch::{Receiver, Sender, channel};

use crate::build::failure::Failure;
use crate::build::world::World;
use crate::preview::shelf::Shelf;
use crate::preview::watch::Watch;

/// How long to wait before a library that could not be read is read again: an editor may be in the middle of putting a file in its place.
const AGAIN: Duration = Duration::from_millis(100);

/// What the server shows, and the number of the edition. Behind a lock that is held for the moment of taking it or of putting a new one in its place.
#[derive(Clone)]
pub struct Shown {
    shelf: Arc<RwLock<Arc<Shelf>>>,
    editions: Receiver<u64>,
}

impl Shown {
    pub fn new(first: Shelf) -> (Self, Sender<u64>) {
        let (sender, editions) = channel(0);
        (Self { shelf: Arc::new(RwLock::new(Arc::new(first))), editions }, sender)
    }

    pub fn now(&self) -> Arc<Shelf> {
        self.shelf.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    pub fn replace(&self, next: Shelf) {
        *self.shelf.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(next);
    }

    pub fn editions(&self) -> Receiver<u64> {
        self.editions.clone()
    }
}

/// Keeps the pages current as long as the process lives. `today` is asked at each look, `told` after each new edition.
pub fn keep_current<W: World + Send + 'static>(
    shown: Shown,
    editions: Sender<u64>,
    library: PathBuf,
    today: impl Fn() -> Result<W, Failure> + Send + 'static,
    told: impl Fn(&Shelf) + Send + 'static,
) {
    thread::spawn(move || {
        let mut watch = Watch::new(library.clone());
        loop {
            watch.wait();
            let Some(next) = look(&shown.now(), &library, &today) else { continue };
            if next.unreadable() {
                thread::sleep(AGAIN);
                if let Some(again) = look(&shown.now(), &library, &today) {
                    publish(&shown, &editions, again, &told);
                }
                watch.again();
                continue;
            }
            publish(&shown, &editions, next, &told);
        }
    });
}

/// The next edition, or `None` if nothing is different.
fn look<W: World>(shelf: &Shelf, library: &Path, today: &impl Fn() -> Result<W, Failure>) -> Option<Shelf> {
    match today() {
        Ok(world) => shelf.next(world.library(library), world.today()),
        Err(failure) => shelf.next(Err(failure), shelf.today()),
    }
}

fn publish(shown: &Shown, editions: &Sender<u64>, next: Shelf, told: &impl Fn(&Shelf)) {
    told(&next);
    shown.replace(next);
    editions.send_modify(|edition| *edition += 1);
}
