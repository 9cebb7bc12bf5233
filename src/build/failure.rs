//! What keeps a command from running: the surroundings, never the author's material (that is a finding).

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Each prints as one line: what happened, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Failure {
    /// No `library.yaml` in any of these folders.
    NoLibrary {
        looked_in: Vec<PathBuf>,
    },
    CannotRead {
        path: PathBuf,
        why: String,
    },
    CannotWrite {
        path: PathBuf,
        why: String,
    },
    /// A symbolic link of the library that leads to nothing.
    DeadLink {
        path: PathBuf,
    },
    /// Something would be overwritten.
    Exists {
        path: PathBuf,
    },
    /// The target holds files and no site of ours.
    NotASite {
        target: PathBuf,
    },
    /// Review pages would take the place of a site, or a site that of review pages; `review` says what is there.
    AnotherKind {
        target: PathBuf,
        review: bool,
    },
    /// A page would take the place of a file that is not ours.
    InTheWay {
        target: PathBuf,
        file: String,
    },
    /// The target holds the library, or the library's own folders hold the target.
    TargetInLibrary {
        target: PathBuf,
    },
    /// Nothing would be published.
    NothingReleased,
    /// Two renames were needed, the second failed, and so did taking back the first.
    Torn {
        target: PathBuf,
        old: PathBuf,
    },
    /// The process was told to stop.
    Stopped,
    /// Anything else, in words.
    Other(String),
}

impl Failure {
    pub fn reading(path: &Path, error: &io::Error) -> Self {
        Self::CannotRead { path: path.to_owned(), why: why(error) }
    }

    pub fn writing(path: &Path, error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::AlreadyExists => Self::Exists { path: path.to_owned() },
            _ => Self::CannotWrite { path: path.to_owned(), why: why(error) },
        }
    }
}

/// The system's reason without its number where there is a plain word for it.
fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is nothing of that name".to_owned(),
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        io::ErrorKind::NotADirectory => "a part of the path is a file, not a folder".to_owned(),
        _ => error.to_string(),
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLibrary { looked_in } => {
                let places: Vec<String> = looked_in.iter().map(|path| format!("`{}`", path.display())).collect();
                let places = places.join(" or ");
                write!(
                    f,
                    "no `library.yaml` in {places}; name the folder with `--library DIR`, or write a new library with `stepward create DIR`"
                )
            }
            Self::CannotRead { path, why } => write!(f, "`{}` cannot be read: {why}", path.display()),
            Self::CannotWrite { path, why } => write!(f, "`{}` cannot be written: {why}", path.display()),
            Self::DeadLink { path } => {
                write!(f, "`{}` is a symbolic link to nothing; mend the link or take it out of the library", path.display())
            }
            Self::Exists { path } => write!(f, "`{}` exists and is not overwritten; move it away, or choose another name", path.display()),
            Self::NotASite { target } => write!(
                f,
                "`{}` is not empty and holds no site that Stepward wrote; name an empty or a new folder with `--to DIR`",
                target.display()
            ),
            Self::AnotherKind { target, review } => {
                let (there, here) = if *review { ("review pages", "a site") } else { ("a published site", "review pages") };
                write!(f, "`{}` holds {there}, which {here} must not replace; name another folder with `--to DIR`", target.display())
            }
            Self::InTheWay { target, file } => write!(
                f,
                "`{file}` in `{}` was not written by Stepward and a page of that name is to be published; move the file away",
                target.display()
            ),
            Self::TargetInLibrary { target } => {
                write!(
                    f,
                    "`{}` is part of the library, or the library part of it; name a folder beside it with `--to DIR`",
                    target.display()
                )
            }
            Self::NothingReleased => f.write_str(
                "no procedure is released, so there is nothing to publish; set `status: released` once one is approved, \
                 or look at the drafts with `--unreleased`",
            ),
            Self::Torn { target, old } => write!(
                f,
                "`{}` could not be put in place and the site before it not be moved back; it is whole, in `{}`: rename it by hand",
                target.display(),
                old.display()
            ),
            Self::Stopped => f.write_str("told to stop; nothing was published, and what was there is as it was"),
            Self::Other(words) => f.write_str(words),
        }
    }
}

impl std::error::Error for Failure {}
