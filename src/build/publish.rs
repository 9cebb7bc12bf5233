//! Puts a site in its place as a whole or not at all: written beside the target, then swapped in. What is not ours in the target stays.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};

use crate::build::failure::Failure;
use crate::build::manifest::{self, Manifest};
use crate::build::world::{TOP_FOLDERS, World};

/// Pages and other files of a site, by path, and whether it holds procedures that are not released.
pub struct Site {
    pub files: BTreeMap<String, Vec<u8>>,
    pub unreleased: bool,
    /// Review pages alone: they never take the place of a site, nor a site theirs.
    pub review: bool,
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
pub fn publish(world: &dyn World, library: &Path, target: &Path, site: Site) -> Result<Written, Failure> {
    let place = world.resolve(target)?;
    apart(&world.resolve(library)?, &place, target)?;
    let old = Old::read(world, &place, target, site.review)?;
    old.clears(&site, target)?;
    let list = Manifest::of(&site.files, site.unreleased).with_review(site.review);
    let files = site.files.len() + 1;
    let carried = old.foreign.iter().filter(|path| !path.ends_with('/')).count();
    if old.holds(&list) {
        return Ok(Written { files, carried, ..Written::default() });
    }
    let kept: BTreeSet<&String> = site.files.keys().filter(|path| old.has(path, &list)).collect();
    let aside = world.aside(&place)?;
    let done = fill(world, &aside, &place, &site, &list, &kept, &old.foreign).and_then(|()| world.swap(&aside, &place));
    if let Err(failure) = done {
        // What cannot be cleared away is our own half-written folder, beside the target.
        let _ = world.remove(&aside);
        return Err(failure);
    }
    Ok(Written { files, written: files - kept.len(), carried, changed: old.changed.clone(), left_over: clear_away(world, &aside, &old) })
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

    /// No page may take the place of something that is not ours.
    fn clears(&self, site: &Site, target: &Path) -> Result<(), Failure> {
        match self.foreign.iter().find(|path| site.files.contains_key(*path)) {
            Some(file) => Err(Failure::InTheWay { target: target.to_owned(), file: file.clone() }),
            None => Ok(()),
        }
    }
}

/// Files that are the same as before are carried over as they are, with their times.
fn fill(
    world: &dyn World,
    aside: &Path,
    place: &Path,
    site: &Site,
    list: &Manifest,
    kept: &BTreeSet<&String>,
    foreign: &BTreeSet<String>,
) -> Result<(), Failure> {
    let put = |(path, bytes): (&String, &Vec<u8>)| {
        if kept.contains(path) { world.carry(&place.join(path), &aside.join(path)) } else { world.write(&aside.join(path), bytes) }
    };
    site.files.par_iter().map(put).collect::<Result<(), Failure>>()?;
    for path in foreign {
        world.carry(&place.join(path), &aside.join(path))?;
    }
    world.write(&aside.join(manifest::NAME), &list.to_bytes())
}

/// Removes the site before, which now lies where the new one was written. If somebody put something into it meanwhile it stays.
fn clear_away(world: &dyn World, aside: &Path, old: &Old) -> Option<PathBuf> {
    old.listing.as_ref()?;
    let same = world.listing(aside).is_ok_and(|now| now == old.listing);
    if same && world.remove(aside).is_ok() { None } else { Some(aside.to_owned()) }
}
