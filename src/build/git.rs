//! A library as it was at a revision, read from git's own store: no file of the work tree is looked at or changed, nothing is fetched.
//!
//! The program `git` is asked, with commands that only read (`rev-parse`, `ls-tree`, `cat-file`): it knows every form a store can have, and whoever
//! keeps revisions has it. A crate that can read them all would be larger than the rest of this program.

use std::collections::BTreeMap;
use std::fmt;
use std::io::{self, Read as _, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::build::failure::Failure;
use crate::build::world::{TOP_FILES, TOP_FOLDERS, is_hidden};
use crate::text::folder::{Entry, Folder, LARGEST_FILE};

/// What keeps a revision from being read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum GitFailure {
    /// There is no program `git`.
    Missing,
    NotARepository,
    /// It is empty, or begins with a hyphen, or holds a line break.
    NoRevision(String),
    UnknownRevision(String),
    /// The path leads out of the repository.
    OutsideRepository(String),
    /// No `library.yaml` in any of these folders of the revision; the empty name is the repository's top.
    NoLibrary {
        revision: String,
        looked_in: Vec<String>,
    },
    SymbolicLink {
        revision: String,
        path: String,
    },
    Submodule {
        revision: String,
        path: String,
    },
    /// Git said something that was not expected.
    Broken(String),
}

impl fmt::Display for GitFailure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str("there is no program `git`, which reads revisions; install it, or compare two folders"),
            Self::NotARepository => f.write_str("this folder is in no git repository; change into one, or compare two folders"),
            Self::NoRevision(text) => write!(f, "`{text}` is no name of a revision; write it as `REV:` or `REV:path/to/library`"),
            Self::UnknownRevision(text) => write!(f, "there is no revision `{text}` in this repository; `git log` lists them"),
            Self::OutsideRepository(path) => write!(f, "`{path}` leads out of the repository; name a folder inside it"),
            Self::NoLibrary { revision, looked_in } => {
                let shown = |path: &String| if path.is_empty() { "the repository's top".to_owned() } else { format!("`{path}`") };
                let places: Vec<String> = looked_in.iter().map(shown).collect();
                write!(f, "no `library.yaml` in {} at `{revision}`; name the folder as `{revision}:path/to/library`", places.join(" or "))
            }
            Self::SymbolicLink { revision, path } => {
                write!(f, "`{path}` at `{revision}` is a symbolic link, which is not followed in a revision; compare folders instead")
            }
            Self::Submodule { revision, path } => {
                write!(f, "`{path}` at `{revision}` is another repository, which is not read; compare folders instead")
            }
            Self::Broken(words) => write!(f, "git could not be understood: {words}"),
        }
    }
}

impl std::error::Error for GitFailure {}

impl From<GitFailure> for Failure {
    fn from(failure: GitFailure) -> Self {
        Failure::Other(failure.to_string())
    }
}

/// `REV:` or `REV:path` in its two parts; `None` for what can only be a folder.
pub fn split(text: &str) -> Option<(&str, &str)> {
    text.split_once(':')
}

/// Reads the library of a revision, asked from the folder `here`.
///
/// `path` is a folder of the repository counted from its top, as git counts; with `./` or `../` before it, from `here`. Where it is empty the library
/// is looked for: in `library` (counted from `here`) if given, else in `here`, else in `content` below it.
///
/// # Errors
/// See [`GitFailure`].
pub fn library(here: &Path, revision: &str, path: &str, library: Option<&Path>) -> Result<Folder, GitFailure> {
    if revision.is_empty() || revision.starts_with('-') || revision.contains(['\n', '\0']) {
        return Err(GitFailure::NoRevision(revision.to_owned()));
    }
    let git = Git { here };
    let prefix = git.prefix()?;
    let commit = git.line(&["rev-parse", "--verify", "--quiet", &format!("{revision}^{{commit}}")])?;
    let commit = commit.ok_or_else(|| GitFailure::UnknownRevision(revision.to_owned()))?;
    let looked_in = folders(&git, &prefix, path, library)?;
    for folder in &looked_in {
        let object = if folder.is_empty() { format!("{commit}^{{tree}}") } else { format!("{commit}:{folder}") };
        let Some(tree) = git.line(&["rev-parse", "--verify", "--quiet", &object])? else { continue };
        let mark = git.line(&["rev-parse", "--verify", "--quiet", &format!("{tree}:library.yaml")])?;
        if mark.is_some() {
            return read(&git, revision, folder, &tree);
        }
    }
    Err(GitFailure::NoLibrary { revision: revision.to_owned(), looked_in })
}

/// Where the library may be, counted from the repository's top.
fn folders(git: &Git<'_>, prefix: &str, path: &str, library: Option<&Path>) -> Result<Vec<String>, GitFailure> {
    let from_here = |path: &str| inside(&format!("{prefix}/{path}"));
    match (path, library) {
        ("", Some(folder)) if folder.is_absolute() => {
            let top = git.line(&["rev-parse", "--show-toplevel"])?.unwrap_or_default();
            let below = folder.strip_prefix(&top).map_err(|_| GitFailure::OutsideRepository(folder.display().to_string()))?;
            Ok(vec![inside(&below.to_string_lossy())?])
        }
        ("", Some(folder)) => Ok(vec![from_here(&folder.to_string_lossy())?]),
        ("", None) => Ok(vec![from_here("")?, from_here("content")?]),
        (path, _) if path.starts_with("./") || path.starts_with("../") || path == "." || path == ".." => Ok(vec![from_here(path)?]),
        (path, _) => Ok(vec![inside(path)?]),
    }
}

/// A path without `.`, `..` and empty parts.
fn inside(path: &str) -> Result<String, GitFailure> {
    let mut parts: Vec<&str> = Vec::new();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop().ok_or_else(|| GitFailure::OutsideRepository(path.trim_start_matches('/').to_owned()))?),
            part => parts.push(part),
        }
    }
    Ok(parts.join("/"))
}

/// What of a tree belongs to a library, with its bytes.
fn read(git: &Git<'_>, revision: &str, folder: &str, tree: &str) -> Result<Folder, GitFailure> {
    let listing = git.run(&["ls-tree", "-r", "-l", "-z", "--full-tree", tree], None)?;
    let mut found = Folder::default();
    let mut wanted: BTreeMap<String, String> = BTreeMap::new();
    for line in listing.split(|byte| *byte == 0).filter(|line| !line.is_empty()) {
        let line = std::str::from_utf8(line).map_err(|_| GitFailure::Broken("a name of the revision is not Unicode".to_owned()))?;
        let (about, path) = line.split_once('\t').ok_or_else(|| GitFailure::Broken("a listing without names".to_owned()))?;
        if !belongs(path) {
            continue;
        }
        let shown = || if folder.is_empty() { path.to_owned() } else { format!("{folder}/{path}") };
        let mut about = about.split_whitespace();
        let (mode, _, object, size) = (about.next(), about.next(), about.next(), about.next());
        match (mode, object, size) {
            (Some("120000"), _, _) => return Err(GitFailure::SymbolicLink { revision: revision.to_owned(), path: shown() }),
            (Some("160000"), _, _) => return Err(GitFailure::Submodule { revision: revision.to_owned(), path: shown() }),
            (Some(_), Some(object), Some(size)) => match size.parse::<u64>() {
                Ok(size) if size > LARGEST_FILE => drop(found.entries.insert(path.to_owned(), Entry::TooLarge(size))),
                _ => drop(wanted.insert(path.to_owned(), object.to_owned())),
            },
            _ => return Err(GitFailure::Broken("a listing without objects".to_owned())),
        }
    }
    let objects: String = wanted.values().map(|object| format!("{object}\n")).collect();
    let mut bytes = git.run(&["cat-file", "--batch"], Some(objects))?.into_iter();
    for path in wanted.into_keys() {
        found.entries.insert(path, Entry::File(object(&mut bytes)?));
    }
    Ok(found)
}

/// The next object of a batch: a line `NAME TYPE SIZE`, so many bytes, a line break.
fn object(bytes: &mut std::vec::IntoIter<u8>) -> Result<Vec<u8>, GitFailure> {
    let head: Vec<u8> = bytes.by_ref().take_while(|byte| *byte != b'\n').collect();
    let head = String::from_utf8_lossy(&head).into_owned();
    let size = head.rsplit(' ').next().and_then(|size| size.parse::<usize>().ok());
    let size = size.ok_or_else(|| GitFailure::Broken(format!("no object there: {head}")))?;
    let found: Vec<u8> = bytes.by_ref().take(size).collect();
    if found.len() == size && bytes.next() == Some(b'\n') {
        Ok(found)
    } else {
        Err(GitFailure::Broken("an object was cut short".to_owned()))
    }
}

/// Whether the compiler reads a path of a library (see `build::world`).
fn belongs(path: &str) -> bool {
    match path.split_once('/') {
        None => TOP_FILES.contains(&path) || TOP_FOLDERS.contains(&path),
        Some((folder, below)) => TOP_FOLDERS.contains(&folder) && !below.split('/').any(is_hidden),
    }
}

struct Git<'a> {
    here: &'a Path,
}

impl Git<'_> {
    /// Where `here` is in its repository, counted from the top; empty in a bare one.
    fn prefix(&self) -> Result<String, GitFailure> {
        if self.line(&["rev-parse", "--git-dir"])?.is_none() {
            return Err(GitFailure::NotARepository);
        }
        Ok(self.line(&["rev-parse", "--show-prefix"])?.unwrap_or_default())
    }

    /// One line of an answer; `None` if git ends with an error.
    fn line(&self, arguments: &[&str]) -> Result<Option<String>, GitFailure> {
        let (bytes, fine) = self.ask(arguments, None)?;
        Ok(fine.then(|| String::from_utf8_lossy(&bytes).trim_end_matches(['\n', '\r']).to_owned()))
    }

    /// # Errors
    /// Also if git ends with an error.
    fn run(&self, arguments: &[&str], input: Option<String>) -> Result<Vec<u8>, GitFailure> {
        let (bytes, fine) = self.ask(arguments, input)?;
        if fine { Ok(bytes) } else { Err(GitFailure::Broken(format!("`git {}` failed", arguments.first().unwrap_or(&"")))) }
    }

    fn ask(&self, arguments: &[&str], input: Option<String>) -> Result<(Vec<u8>, bool), GitFailure> {
        let broken = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => GitFailure::Missing,
            _ => GitFailure::Broken(error.to_string()),
        };
        let mut command = Command::new("git");
        // Nothing is written (not even a refreshed index), nothing fetched, nobody asked.
        command.arg("--no-optional-locks").args(["-c", "core.fsmonitor=false"]).args(arguments).current_dir(self.here);
        command.env("GIT_NO_LAZY_FETCH", "1").env("GIT_TERMINAL_PROMPT", "0").env("LC_ALL", "C");
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().map_err(broken)?;
        let stdin = child.stdin.take();
        // Written from the side: git answers while it is still being asked.
        let writer = std::thread::spawn(move || match (stdin, input) {
            (Some(mut stdin), Some(input)) => stdin.write_all(input.as_bytes()),
            _ => Ok(()),
        });
        let mut bytes = Vec::new();
        if let Some(mut stdout) = child.stdout.take() {
            stdout.read_to_end(&mut bytes).map_err(broken)?;
        }
        let fine = child.wait().map_err(broken)?.success();
        let written = writer.join().map_err(|_| GitFailure::Broken("it could not be asked".to_owned()))?;
        // If git ended early it says so by its status.
        if fine {
            written.map_err(broken)?;
        }
        Ok((bytes, fine))
    }
}
