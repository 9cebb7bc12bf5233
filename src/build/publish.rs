//! Puts a site in its place as a whole or not at all: written beside the target, then swapped in. What is not ours in the target stays.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};

use crate::build::failure::Failure;
use crate::build::manifest::{self, Manifest};
use crate::build::world::{TOP_FOLDERS, World};

/// Takes a file of a site by its path; several threads may call it at once.
pub type Put<'p> = dyn Fn(String, Vec<u8>) -> Result<(), Failure> + Sync + 'p;

type Files<'s> = dyn Fn(&Put<'_>) -> Result<(), Failure> + 's;

/// What is to be published.
pub struct Site<'s> {
    /// Makes every file and hands it over, each path once; an error it is told it returns.
    pub files: Box<Files<'s>>,
    /// It holds procedures that are not released.
    pub unreleased: bool,
    /// Review pages alone: they never take the place of a site, nor a site theirs.
    pub review: bool,
}

impl Site<'static> {
    /// One whose files are all there already.
    pub fn of(files: BTreeMap<String, Vec<u8>>, unreleased: bool, review: bool) -> Self {
        let each = move |put: &Put<'_>| files.par_iter().try_for_each(|(path, bytes)| put(path.clone(), bytes.clone()));
        Self { files: Box::new(each), unreleased, review }
    }
}

/// What was done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Files of the site, its list among them.
    pub files: usize,
    /// Those of them that were not there before in the same bytes. With none, and nothing gone, the target was not touched.
    pub written: usize,
    /// Files that others put into the target and that are still there.
    pub carried: usize,
    /// Files of the site before that somebody had changed by hand; they are as published again, or gone.
    pub changed: Vec<String>,
    /// Where the site before still lies, if it could not be removed.
    pub left_over: Option<PathBuf>,
}

/// # Errors
/// The target is refused, or something cannot be read or written. Then whatever was in the target is still there, whole.
pub fn publish(world: &dyn World, library: &Path, target: &Path, site: &Site<'_>) -> Result<Written, Failure> {
    let place = world.resolve(target)?;
    apart(&world.resolve(library)?, &place, target)?;
    let old = Old::read(world, &place, target, site.review)?;
    let new = New { world, place: &place, old: &old, aside: Mutex::default(), files: Mutex::default(), in_the_way: Mutex::default() };
    (site.files)(&|path, bytes| new.put(path, &bytes))?;
    if let Some(file) = held(&new.in_the_way).take() {
        return Err(Failure::InTheWay { target: target.to_owned(), file });
    }
    let list = Manifest::new(std::mem::take(&mut *held(&new.files)), site.unreleased, site.review);
    let files = list.files.len() + 1;
    let carried = old.foreign.iter().filter(|path| !path.ends_with('/')).count();
    if old.holds(&list) {
        return Ok(Written { files, carried, ..Written::default() });
    }
    let kept = new.finish(&list)?;
    let aside = new.swap()?;
    Ok(Written { files, written: files - kept, carried, changed: old.changed.clone(), left_over: clear_away(world, &aside, &old) })
}

fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A target that holds the library would move it; one inside its folders would be read as part of it.
fn apart(library: &Path, place: &Path, target: &Path) -> Result<(), Failure> {
    let read = TOP_FOLDERS.iter().any(|folder| place.starts_with(library.join(folder)));
    if library.starts_with(place) || read { Err(Failure::TargetInLibrary { target: target.to_owned() }) } else { Ok(()) }
}

/// What is in the target now.
struct Old {
    /// `None`: there is no such folder.
    listing: Option<BTreeSet<String>>,
    /// What is not ours.
    foreign: BTreeSet<String>,
    changed: Vec<String>,
    /// Ours, as they were published.
    files: BTreeMap<String, String>,
    list: Option<Manifest>,
}

impl Old {
    fn read(world: &dyn World, place: &Path, target: &Path, review: bool) -> Result<Self, Failure> {
        let listing = world.listing(place)?;
        let found = listing.clone().unwrap_or_default();
        if found.is_empty() {
            return Ok(Self { listing, foreign: found, changed: Vec::new(), files: BTreeMap::new(), list: None });
        }
        let not_ours = || Failure::NotASite { target: target.to_owned() };
        if !found.contains(manifest::NAME) {
            return Err(not_ours());
        }
        let list = Manifest::parse(&world.read(&place.join(manifest::NAME))?).ok_or_else(not_ours)?;
        if list.review != review {
            return Err(Failure::AnotherKind { target: target.to_owned(), review: list.review });
        }
        let there: Vec<(&String, &String)> = list.files.iter().filter(|(path, _)| found.contains(*path)).collect();
        let same = there.par_iter().map(|(path, digest)| Ok(manifest::digest(&world.read(&place.join(path))?) == **digest));
        let same = same.collect::<Result<Vec<bool>, Failure>>()?;
        let as_published = |wanted: bool| there.iter().zip(&same).filter(move |(_, same)| **same == wanted).map(|(file, _)| *file);
        let changed = as_published(false).map(|(path, _)| path.clone()).collect();
        let files = as_published(true).map(|(path, digest)| (path.clone(), digest.clone())).collect();
        let ours = |path: &String| path == manifest::NAME || list.files.contains_key(path);
        Ok(Self { listing, foreign: found.into_iter().filter(|path| !ours(path)).collect(), changed, files, list: Some(list) })
    }

    /// Whether a file of the new site is there already, in the same bytes.
    fn has(&self, path: &str, list: &Manifest) -> bool {
        self.files.get(path).is_some_and(|digest| list.files.get(path) == Some(digest))
    }

    /// Whether the whole new site is there already, and nothing else of ours.
    fn holds(&self, list: &Manifest) -> bool {
        self.list.as_ref() == Some(list) && self.files == list.files
    }
}

/// A site on its way: what is new in it is written beside the target as it comes, what is the same as before is carried over at the end. Nothing need be held
/// in memory, and with nothing new nothing is written at all.
struct New<'w> {
    world: &'w dyn World,
    place: &'w Path,
    old: &'w Old,
    /// The folder beside the target, once there is something to write.
    aside: Mutex<Option<PathBuf>>,
    /// Digest of each file that came, by path.
    files: Mutex<BTreeMap<String, String>>,
    /// No page may take the place of something that is not ours: the first that would.
    in_the_way: Mutex<Option<String>>,
}

impl New<'_> {
    fn put(&self, path: String, bytes: &[u8]) -> Result<(), Failure> {
        if self.old.foreign.contains(&path) {
            let mut first = held(&self.in_the_way);
            if first.as_ref().is_none_or(|first| path < *first) {
                *first = Some(path);
            }
            return Ok(());
        }
        let digest = manifest::digest(bytes);
        if self.old.files.get(&path) != Some(&digest) {
            self.world.write(&self.aside()?.join(&path), bytes)?;
        }
        held(&self.files).insert(path, digest);
        Ok(())
    }

    fn aside(&self) -> Result<PathBuf, Failure> {
        let mut aside = held(&self.aside);
        if let Some(aside) = &*aside {
            return Ok(aside.clone());
        }
        let made = self.world.aside(self.place)?;
        *aside = Some(made.clone());
        Ok(made)
    }

    /// Carries over what is the same as before, with its times, and what is not ours, and writes the list. Returns how many files of the site were carried.
    fn finish(&self, list: &Manifest) -> Result<usize, Failure> {
        let aside = self.aside()?;
        let carry = |path: &String| self.world.carry(&self.place.join(path), &aside.join(path));
        let kept: Vec<&String> = list.files.keys().filter(|path| self.old.has(path, list)).collect();
        kept.par_iter().try_for_each(|path| carry(path))?;
        self.old.foreign.iter().try_for_each(carry)?;
        self.world.write(&aside.join(manifest::NAME), &list.to_bytes())?;
        Ok(kept.len())
    }

    /// Puts it in its place. Returns where the site before lies now, or an empty folder.
    fn swap(self) -> Result<PathBuf, Failure> {
        let aside = self.aside()?;
        self.world.swap(&aside, self.place)?;
        *held(&self.aside) = None;
        Ok(aside)
    }
}

impl Drop for New<'_> {
    /// Whatever stopped it, a mistake of our own included: nothing half written stays.
    fn drop(&mut self) {
        if let Some(aside) = held(&self.aside).take() {
            // What cannot be cleared away is our own half-written folder, beside the target.
            let _ = self.world.remove(&aside);
        }
    }
}

/// Removes the site before, which now lies where the new one was written. If somebody put something into it meanwhile it stays.
fn clear_away(world: &dyn World, aside: &Path, old: &Old) -> Option<PathBuf> {
    old.listing.as_ref()?;
    let same = world.listing(aside).is_ok_and(|now| now == old.listing);
    if same && world.remove(aside).is_ok() { None } else { Some(aside.to_owned()) }
}
