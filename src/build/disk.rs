//! The world as it is: files, folders and links on a disk.

mod library;
mod replace;
mod swap;

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use walkdir::WalkDir;

use crate::build::failure::Failure;
use crate::build::stop;
use crate::build::world::World;
use crate::text::folder::Folder;

#[derive(Clone, Debug)]
pub struct Disk {
    pub today: Date,
}

/// Nothing more is written once the process was told to stop.
fn go_on() -> Result<(), Failure> {
    if stop::is_told() { Err(Failure::Stopped) } else { Ok(()) }
}

impl World for Disk {
    fn today(&self) -> Date {
        self.today
    }

    fn has_file(&self, path: &Path) -> bool {
        fs::symlink_metadata(path).is_ok_and(|found| !found.is_dir())
    }

    fn library(&self, folder: &Path) -> Result<Folder, Failure> {
        library::read(folder)
    }

    fn resolve(&self, path: &Path) -> Result<PathBuf, Failure> {
        match (path.canonicalize(), path.file_name()) {
            (Ok(found), _) => Ok(found),
            (Err(error), Some(name)) if error.kind() == io::ErrorKind::NotFound && fs::symlink_metadata(path).is_err() => {
                let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
                Ok(self.resolve(parent)?.join(name))
            }
            (Err(error), _) => Err(Failure::reading(path, &error)),
        }
    }

    fn listing(&self, folder: &Path) -> Result<Option<BTreeSet<String>>, Failure> {
        match fs::metadata(folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(Failure::reading(folder, &error)),
            Ok(found) if !found.is_dir() => {
                return Err(Failure::CannotWrite { path: folder.to_owned(), why: "it is a file, not a folder".to_owned() });
            }
            Ok(_) => {}
        }
        let mut found = BTreeSet::new();
        for entry in WalkDir::new(folder).min_depth(1) {
            let entry = entry.map_err(|error| walk_failure(folder, error))?;
            let path = relative(folder, entry.path())?;
            if !entry.file_type().is_dir() {
                found.insert(path);
            } else if is_empty(entry.path())? {
                found.insert(path + "/");
            }
        }
        Ok(Some(found))
    }

    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure> {
        fs::read(path).map_err(|error| Failure::reading(path, &error))
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        go_on()?;
        let new = || fs::OpenOptions::new().write(true).create_new(true).open(path);
        let file = match new() {
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => {
                folder_of(path)?;
                new()
            }
            tried => tried,
        };
        file.and_then(|mut file| file.write_all(bytes)).map_err(|error| Failure::writing(path, &error))
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        replace::replace(&self.resolve(path)?, bytes).map_err(|error| Failure::writing(path, &error))
    }

    fn aside(&self, target: &Path) -> Result<PathBuf, Failure> {
        // From here on there is something to clear away.
        stop::listen();
        folder_of(target)?;
        let name = target.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for number in 0..1000 {
            let path = target.with_file_name(format!(".{name}.stepward-{number}"));
            match fs::create_dir(&path) {
                Ok(()) => return Ok(path),
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(Failure::writing(&path, &error)),
            }
        }
        let words = format!("too many folders left over beside `{}`; remove those called `.{name}.stepward-…`", target.display());
        Err(Failure::Other(words))
    }

    fn carry(&self, from: &Path, to: &Path) -> Result<(), Failure> {
        go_on()?;
        if from.to_string_lossy().ends_with('/') {
            return fs::create_dir_all(to).map_err(|error| Failure::writing(to, &error));
        }
        folder_of(to)?;
        let link = fs::symlink_metadata(from).map_err(|error| Failure::reading(from, &error))?.file_type().is_symlink();
        let done = if link { copy_link(from, to) } else { fs::hard_link(from, to).or_else(|_| fs::copy(from, to).map(|_| ())) };
        done.map_err(|error| Failure::writing(to, &error))
    }

    fn swap(&self, aside: &Path, target: &Path) -> Result<(), Failure> {
        go_on()?;
        swap::swap(aside, target)
    }

    fn remove(&self, folder: &Path) -> Result<(), Failure> {
        fs::remove_dir_all(folder).map_err(|error| Failure::writing(folder, &error))
    }
}

/// Makes the folder that a path is in.
fn folder_of(path: &Path) -> Result<(), Failure> {
    match path.parent().filter(|parent| !parent.as_os_str().is_empty()) {
        Some(parent) => fs::create_dir_all(parent).map_err(|error| match error.kind() {
            // What stands in the way is a file where a folder is needed.
            io::ErrorKind::AlreadyExists => {
                Failure::CannotWrite { path: parent.to_owned(), why: "a part of the path is a file, not a folder".to_owned() }
            }
            _ => Failure::writing(parent, &error),
        }),
        None => Ok(()),
    }
}

fn is_empty(folder: &Path) -> Result<bool, Failure> {
    Ok(fs::read_dir(folder).map_err(|error| Failure::reading(folder, &error))?.next().is_none())
}

#[cfg(unix)]
fn copy_link(from: &Path, to: &Path) -> io::Result<()> {
    std::os::unix::fs::symlink(fs::read_link(from)?, to)
}

/// Elsewhere a link needs rights that an ordinary user may lack; the failure keeps the old site whole.
#[cfg(not(unix))]
fn copy_link(_from: &Path, _to: &Path) -> io::Result<()> {
    Err(io::Error::other("a symbolic link cannot be carried over on this system; move it away"))
}

fn relative(folder: &Path, path: &Path) -> Result<String, Failure> {
    let below = path.strip_prefix(folder).unwrap_or(path);
    let parts: Option<Vec<&str>> = below.iter().map(|part| part.to_str()).collect();
    let why = || "its name is not Unicode; rename it".to_owned();
    parts.map(|parts| parts.join("/")).ok_or_else(|| Failure::CannotRead { path: path.to_owned(), why: why() })
}

fn walk_failure(folder: &Path, error: walkdir::Error) -> Failure {
    let path = error.path().unwrap_or(folder).to_owned();
    Failure::reading(&path, &error.into())
}
