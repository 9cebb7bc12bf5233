//! What was so when a site was published: if it is all so still, publishing again is looked up and not done. Kept among the user's cached files, never in the
//! library or the site, and never trusted further than this: same program, same wishes, same day, and no file of the library or the site touched since.
//!
//! A file counts as untouched by its size, its times of change and its place on the disk, as the system tells them. A file that was touched just before it was
//! looked at could be touched once more within the same tick of the system's clock: then nothing is kept. Links are not looked through: with one in the library
//! nothing is kept either.

use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use walkdir::WalkDir;

use crate::build::world::{TOP_FILES, TOP_FOLDERS, is_hidden};

const SCHEMA: &str = "stepward/again/1";

/// Longer than a tick of the clock by which a file system that tells parts of a second takes its times.
const TICK: Duration = Duration::from_millis(50);
/// The same for one that tells whole seconds, or every second one.
const COARSE_TICK: Duration = Duration::from_secs(3);

/// One wish to publish.
pub struct Wish<'a> {
    pub library: &'a Path,
    pub target: &'a Path,
    pub today: Date,
    pub unreleased: bool,
}

/// What publishing came to, with no finding to be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Came {
    pub procedures: usize,
    /// Files of the site.
    pub files: usize,
    /// Files in the target that others put there.
    pub carried: usize,
}

#[derive(Serialize, Deserialize)]
struct Kept {
    schema: String,
    wish: String,
    library: String,
    target: String,
    came: Came,
}

/// Where it is kept, and how the library was before it was read.
pub struct Again {
    file: PathBuf,
    wish: String,
    library: Option<Seen>,
}

/// What was kept of the last time.
pub enum Last {
    /// All is as it was.
    Same(Came),
    /// Something is different, or nothing was kept.
    Other,
    /// What was kept cannot be understood: another program wrote it, or it is damaged.
    Damaged,
}

/// A digest of how files are.
struct Seen {
    digest: String,
    /// The last of them had been touched more than a tick before they were looked at.
    settled: bool,
}

impl Again {
    /// Looks at the library as it is now. Call it before the library is read: what is changed after that will then be seen as changed. `cache` is the
    /// user's folder for cached files. `None` where paths cannot be told.
    pub fn look(cache: &Path, wish: &Wish<'_>) -> Option<Self> {
        let program = std::env::current_exe().and_then(|program| Ok((fs::metadata(&program)?, program))).ok()?;
        let library = wish.library.canonicalize().ok()?;
        let target = std::path::absolute(wish.target).ok()?;
        let places = format!("{}\0{}", library.display(), target.display());
        let mut whole = blake3::Hasher::new();
        whole.update(format!("{places}\0{}\0{}\0{}\0", wish.today, wish.unreleased, program.1.display()).as_bytes());
        whole.update(told(&program.0).as_bytes());
        let name = blake3::hash(places.as_bytes()).to_hex();
        let file = cache.join("stepward").join(format!("{name}.json"));
        Some(Self { file, wish: whole.finalize().to_hex().to_string(), library: of_library(&library) })
    }

    pub fn last(&self, target: &Path) -> Last {
        let Ok(bytes) = fs::read(&self.file) else { return Last::Other };
        let Some(kept) = serde_json::from_slice::<Kept>(&bytes).ok().filter(|kept| kept.schema == SCHEMA) else { return Last::Damaged };
        let same = kept.wish == self.wish
            && self.library.as_ref().is_some_and(|seen| seen.digest == kept.library)
            && of_folder(target).is_some_and(|seen| seen.digest == kept.target);
        if same { Last::Same(kept.came) } else { Last::Other }
    }

    /// Keeps how things are now that the site has been written, or forgets, if they cannot be told from what may come within the same tick. What cannot be
    /// kept is not: publishing does not rest on it.
    pub fn keep(&self, target: &Path, came: Came) {
        let kept = self.settled(target).map(|(library, target)| Kept {
            schema: SCHEMA.to_owned(),
            wish: self.wish.clone(),
            library,
            target,
            came,
        });
        let written = kept.and_then(|kept| {
            let bytes = serde_json::to_vec(&kept).ok()?;
            fs::create_dir_all(self.file.parent()?).ok()?;
            // Whole or not at all: another process may be reading it.
            let aside = self.file.with_extension(format!("{}.tmp", std::process::id()));
            fs::write(&aside, bytes).and_then(|()| fs::rename(&aside, &self.file)).ok()
        });
        if written.is_none() {
            self.forget();
        }
    }

    pub fn forget(&self) {
        let _ = fs::remove_file(&self.file);
    }

    fn settled(&self, target: &Path) -> Option<(String, String)> {
        let library = self.library.as_ref().filter(|seen| seen.settled)?;
        let mut site = of_folder(target)?;
        if !site.settled {
            // It has just been written.
            std::thread::sleep(TICK);
            site = of_folder(target)?;
        }
        site.settled.then(|| (library.digest.clone(), site.digest))
    }
}

/// How the files are that a library is read from. `None` with a link among them.
fn of_library(library: &Path) -> Option<Seen> {
    let mut looking = Looking::default();
    looking.add("", &fs::metadata(library).ok()?)?;
    for name in TOP_FILES.into_iter().chain(TOP_FOLDERS) {
        let path = library.join(name);
        let Ok(found) = fs::symlink_metadata(&path) else { continue };
        looking.add(name, &found)?;
        if found.is_dir() {
            looking.below(&path, |name| !is_hidden(name))?;
        }
    }
    Some(looking.seen())
}

/// How everything in a folder is. `None` if there is none, or with a link in it.
fn of_folder(folder: &Path) -> Option<Seen> {
    let mut looking = Looking::default();
    looking.add("", &fs::symlink_metadata(folder).ok()?)?;
    looking.below(folder, |_| true)?;
    Some(looking.seen())
}

struct Looking {
    began: SystemTime,
    digest: blake3::Hasher,
    touched: SystemTime,
    /// Whether times come with parts of a second.
    fine: bool,
}

impl Default for Looking {
    fn default() -> Self {
        Self { began: SystemTime::now(), digest: blake3::Hasher::new(), touched: SystemTime::UNIX_EPOCH, fine: false }
    }
}

impl Looking {
    fn below(&mut self, folder: &Path, wanted: impl Fn(&str) -> bool) -> Option<()> {
        let walk = WalkDir::new(folder).min_depth(1).sort_by_file_name();
        for entry in walk.into_iter().filter_entry(|entry| wanted(&entry.file_name().to_string_lossy())) {
            let entry = entry.ok()?;
            self.add(&entry.path().to_string_lossy(), &entry.metadata().ok()?)?;
        }
        Some(())
    }

    fn add(&mut self, path: &str, found: &Metadata) -> Option<()> {
        if found.is_symlink() {
            return None;
        }
        self.digest.update(format!("{path}\0{}\0", told(found)).as_bytes());
        for time in [found.modified().ok()?].into_iter().chain(changed(found)) {
            self.touched = self.touched.max(time);
            self.fine |= time.duration_since(SystemTime::UNIX_EPOCH).is_ok_and(|since| since.subsec_nanos() % 1_000_000 != 0);
        }
        Some(())
    }

    fn seen(self) -> Seen {
        let tick = if self.fine { TICK } else { COARSE_TICK };
        let settled = self.began.duration_since(self.touched).is_ok_and(|since| since >= tick);
        Seen { digest: self.digest.finalize().to_hex().to_string(), settled }
    }
}

/// All that the system tells of a file without reading it.
#[cfg(unix)]
fn told(found: &Metadata) -> String {
    use std::os::unix::fs::MetadataExt as _;
    let numbers = [found.dev(), found.ino(), found.size(), u64::from(found.mode())].map(|number| number.to_string()).join(" ");
    format!("{numbers} {} {} {} {}", found.mtime(), found.mtime_nsec(), found.ctime(), found.ctime_nsec())
}

#[cfg(not(unix))]
fn told(found: &Metadata) -> String {
    format!("{} {} {:?} {:?}", found.is_dir(), found.len(), found.modified().ok(), found.created().ok())
}

/// When its contents, its name or its rights were last changed: nobody can set this time.
#[cfg(unix)]
fn changed(found: &Metadata) -> Option<SystemTime> {
    use std::os::unix::fs::MetadataExt as _;
    let since = Duration::new(u64::try_from(found.ctime()).ok()?, u32::try_from(found.ctime_nsec()).ok()?);
    SystemTime::UNIX_EPOCH.checked_add(since)
}

#[cfg(not(unix))]
fn changed(_found: &Metadata) -> Option<SystemTime> {
    None
}
