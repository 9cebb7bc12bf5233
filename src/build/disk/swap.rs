//! Puts one folder in the place of another, in one step where the system can.

use std::fs;
use std::io;
use std::path::Path;

use crate::build::failure::Failure;

/// See [`crate::build::world::World::swap`].
pub fn swap(aside: &Path, target: &Path) -> Result<(), Failure> {
    if !target.exists() {
        return fs::rename(aside, target).map_err(|error| Failure::writing(target, &error));
    }
    // Whoever could read the site before can read this one; that is worth a try, not a failure.
    let _ = fs::metadata(target).and_then(|found| fs::set_permissions(aside, found.permissions()));
    exchange(aside, target).or_else(|_| in_two_steps(aside, target))
}

/// Linux swaps two names in one step (`renameat2` with `RENAME_EXCHANGE`); not every file system there can.
#[cfg(target_os = "linux")]
fn exchange(aside: &Path, target: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, aside, CWD, target, RenameFlags::EXCHANGE)?)
}

#[cfg(not(target_os = "linux"))]
fn exchange(_aside: &Path, _target: &Path) -> io::Result<()> {
    Err(io::Error::from(io::ErrorKind::Unsupported))
}

/// The old folder steps out of the way, the new one in; if that fails the old one comes back.
fn in_two_steps(aside: &Path, target: &Path) -> Result<(), Failure> {
    let old = aside.with_extension("old");
    if fs::symlink_metadata(&old).is_ok() {
        return Err(Failure::Exists { path: old });
    }
    fs::rename(target, &old).map_err(|error| Failure::writing(target, &error))?;
    if let Err(error) = fs::rename(aside, target) {
        return Err(match fs::rename(&old, target) {
            Ok(()) => Failure::writing(target, &error),
            Err(_) => Failure::Torn { target: target.to_owned(), old },
        });
    }
    // Where the old folder ends up is a matter of tidiness only; the new one is in place.
    let _ = fs::rename(&old, aside);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_folders() -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a temporary folder");
        for (name, words) in [("site", "old"), (".site.stepward-0", "new")] {
            fs::create_dir(folder.path().join(name)).expect("a folder");
            fs::write(folder.path().join(name).join("index.html"), words).expect("a file");
        }
        folder
    }

    fn words(folder: &tempfile::TempDir, name: &str) -> Option<String> {
        fs::read_to_string(folder.path().join(name).join("index.html")).ok()
    }

    #[test]
    fn both_ways_of_swapping_leave_both_folders_whole() {
        for way in [swap, in_two_steps] {
            let folder = two_folders();
            assert_eq!(way(&folder.path().join(".site.stepward-0"), &folder.path().join("site")), Ok(()));
            assert_eq!(words(&folder, "site").as_deref(), Some("new"));
            assert_eq!(words(&folder, ".site.stepward-0").as_deref(), Some("old"));
        }
    }

    #[test]
    fn the_old_folder_comes_back_if_the_new_one_cannot_take_its_place() {
        let folder = two_folders();
        assert!(in_two_steps(&folder.path().join("nothing-here"), &folder.path().join("site")).is_err());
        assert_eq!(words(&folder, "site").as_deref(), Some("old"));
    }
}
