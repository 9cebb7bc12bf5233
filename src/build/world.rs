//! What the compiler may ask of the outside. Two worlds answer: the disk, and one in memory for tests, where any call can be made to fail.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use crate::build::failure::Failure;
use crate::text::folder::Folder;

/// Files at the top of a library that are read.
pub const TOP_FILES: [&str; 6] = ["library.yaml", "safety.yaml", "equipment.yaml", "stages.yaml", "approvals.yaml", "stop.md"];
/// Folders of a library that are read, with all that is below them.
pub const TOP_FOLDERS: [&str; 3] = ["procedures", "leaflets", "pictures"];

/// Whether something of this name is left alone, wherever it is in a library.
pub fn is_hidden(name: &str) -> bool {
    name.starts_with('.')
}

/// Files are written by several threads at once.
pub trait World: Sync {
    /// The day that dates are compared with.
    fn today(&self) -> Date;

    /// Whether there is a file (or a link) of that name.
    fn has_file(&self, path: &Path) -> bool;

    /// Everything in a library that is read, and nothing else.
    ///
    /// # Errors
    /// A folder or file that cannot be read, or a link to nothing.
    fn library(&self, folder: &Path) -> Result<Folder, Failure>;

    /// Where a path really is, links resolved; of a path that does not exist, as much of it as does, and the rest as written.
    ///
    /// # Errors
    /// A link on the way leads to nothing, or a folder on the way may not be looked into.
    fn resolve(&self, path: &Path) -> Result<PathBuf, Failure>;

    /// Paths of everything below a folder, relative, with `/`; of an empty folder its path with `/` at the end. Hidden names too; links are listed,
    /// not followed. `None` if there is no such folder.
    ///
    /// # Errors
    /// It is not a folder, or cannot be read.
    fn listing(&self, folder: &Path) -> Result<Option<BTreeSet<String>>, Failure>;

    /// # Errors
    /// The file is not there or cannot be read.
    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure>;

    /// Writes a new file, its folders with it.
    ///
    /// # Errors
    /// [`Failure::Exists`] if there is something of that name, or it cannot be written.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure>;

    /// Writes a file in the place of the one that is there, if any: all or nothing. A link stays, and what it leads to is replaced.
    ///
    /// # Errors
    /// It cannot be written; then it is as before.
    fn replace(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure>;

    /// Makes a new empty folder beside `target`, on the same volume.
    ///
    /// # Errors
    /// The folder that holds `target` cannot be written to.
    fn aside(&self, target: &Path) -> Result<PathBuf, Failure>;

    /// Puts a further copy of what stands at `from` (a file, a link, an empty folder if the path ends in `/`) at `to`.
    ///
    /// # Errors
    /// It cannot be read there or written here.
    fn carry(&self, from: &Path, to: &Path) -> Result<(), Failure>;

    /// Puts the folder `aside` in the place of `target`, and what was there, if anything, in the place of `aside`: all or nothing.
    ///
    /// # Errors
    /// The folders are as before (or, in a world that cannot do it in one step, [`Failure::Torn`] says where the old one is).
    fn swap(&self, aside: &Path, target: &Path) -> Result<(), Failure>;

    /// Removes a folder and all that is in it.
    ///
    /// # Errors
    /// Something in it cannot be removed.
    fn remove(&self, folder: &Path) -> Result<(), Failure>;
}
