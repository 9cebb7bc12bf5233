//! Reads a library folder. Links inside it are followed, links out of it are not, hidden files are not looked at.

use std::collections::BTreeSet;
use std::fs;
use std::io::Read as _;
use std::path::{Component, Path, PathBuf};

use walkdir::WalkDir;

use crate::build::failure::Failure;
use crate::build::world::{TOP_FILES, TOP_FOLDERS, is_hidden};
use crate::text::folder::{Entry, Folder, LARGEST_FILE};

/// See [`crate::build::world::World::library`].
pub fn read(folder: &Path) -> Result<Folder, Failure> {
    let root = folder.canonicalize().map_err(|error| Failure::reading(folder, &error))?;
    let mut reader = Reader { shown: folder, root, folder: Folder::default(), followed: BTreeSet::new(), through: Vec::new() };
    for name in TOP_FILES.into_iter().chain(TOP_FOLDERS) {
        let path = folder.join(name);
        let Ok(found) = fs::symlink_metadata(&path) else { continue };
        if found.is_symlink() {
            reader.link(&path, name, None)?;
        } else if found.is_dir() && TOP_FOLDERS.contains(&name) {
            reader.folder(&path, name)?;
        } else {
            reader.file(&path, name)?;
        }
    }
    Ok(reader.folder)
}

struct Reader<'a> {
    shown: &'a Path,
    /// The library's folder without links.
    root: PathBuf,
    folder: Folder,
    /// Links to folders that were followed, by where they really stand: each is followed once, whatever leads to it.
    followed: BTreeSet<PathBuf>,
    /// Where the links stand through which the folder that is being read was reached.
    through: Vec<PathBuf>,
}

impl Reader<'_> {
    fn folder(&mut self, path: &Path, name: &str) -> Result<(), Failure> {
        let walk = WalkDir::new(path).min_depth(1).sort_by_file_name();
        for entry in walk.into_iter().filter_entry(|entry| !is_hidden(&entry.file_name().to_string_lossy())) {
            let entry = entry.map_err(|error| super::walk_failure(self.shown, error))?;
            let below = entry.path().strip_prefix(path).unwrap_or(entry.path());
            let parts: Vec<_> = below.iter().map(|part| part.to_string_lossy()).collect();
            let name = format!("{name}/{}", parts.join("/"));
            if entry.path_is_symlink() {
                self.link(entry.path(), &name, entry.path().parent())?;
            } else if !entry.file_type().is_dir() {
                self.file(entry.path(), &name)?;
            }
        }
        Ok(())
    }

    /// `inside` is the folder the link was met in. A link back to a folder on the way to it leads in a circle and adds nothing.
    fn link(&mut self, path: &Path, name: &str, inside: Option<&Path>) -> Result<(), Failure> {
        let stands_in = inside.unwrap_or(self.shown).canonicalize().map_err(|error| Failure::reading(path, &error))?;
        let Ok(target) = path.canonicalize() else { return self.dead_link(path, name, &stands_in) };
        if !target.starts_with(&self.root) {
            self.folder.entries.insert(name.to_owned(), Entry::Outside);
            return Ok(());
        }
        if !target.is_dir() {
            return self.file(&target, name);
        }
        let circle = self.through.iter().chain([&stands_in]).any(|way| way.starts_with(&target));
        if circle || !self.followed.insert(stands_in.join(path.file_name().unwrap_or_default())) {
            return Ok(());
        }
        self.through.push(stands_in);
        let done = self.folder(&target, name);
        self.through.pop();
        done
    }

    /// Whether a link to nothing was meant to lead out can only be told from how it is written.
    fn dead_link(&mut self, path: &Path, name: &str, stands_in: &Path) -> Result<(), Failure> {
        let written = fs::read_link(path).map_err(|error| Failure::reading(path, &error))?;
        let mut depth = stands_in.strip_prefix(&self.root).map_or(0, |below| below.iter().count());
        for part in written.components() {
            match part {
                Component::Normal(_) => depth += 1,
                Component::CurDir => {}
                Component::ParentDir if depth > 0 => depth -= 1,
                Component::ParentDir | Component::RootDir | Component::Prefix(_) => {
                    self.folder.entries.insert(name.to_owned(), Entry::Outside);
                    return Ok(());
                }
            }
        }
        Err(Failure::DeadLink { path: self.shown.join(name) })
    }

    fn file(&mut self, path: &Path, name: &str) -> Result<(), Failure> {
        let shown = self.shown.join(name);
        let found = fs::metadata(path).map_err(|error| Failure::reading(&shown, &error))?;
        if !found.is_file() {
            // A pipe or a device would keep us waiting for ever.
            return Err(Failure::CannotRead { path: shown, why: "it is not a plain file".to_owned() });
        }
        let mut bytes = Vec::new();
        let file = fs::File::open(path).map_err(|error| Failure::reading(&shown, &error))?;
        file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(|error| Failure::reading(&shown, &error))?;
        let large = bytes.len() as u64 > LARGEST_FILE;
        let entry = if large { Entry::TooLarge(found.len().max(LARGEST_FILE + 1)) } else { Entry::File(bytes) };
        self.folder.entries.insert(name.to_owned(), entry);
        Ok(())
    }
}
