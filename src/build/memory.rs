//! A world in memory, for tests: the same promises as the disk, and any one call, or all calls from one on, can be made to fail.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

use jiff::civil::Date;

use crate::build::failure::Failure;
use crate::build::world::{TOP_FILES, TOP_FOLDERS, World, is_hidden};
use crate::text::folder::{Entry, Folder};

/// Which calls fail. Calls are counted from 0; [`World::today`] and [`World::has_file`] cannot fail and are not counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fails {
    #[default]
    Never,
    Once(usize),
    From(usize),
}

/// Files by path; a path that ends in `/` is an empty folder.
#[derive(Debug, Default)]
pub struct Memory {
    pub today: Date,
    files: Mutex<BTreeMap<String, Vec<u8>>>,
    pub fails: Fails,
    calls: AtomicUsize,
}

impl Memory {
    pub fn of<'a>(today: Date, files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let files = files.into_iter().map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec())).collect();
        Self { today, files: Mutex::new(files), ..Self::default() }
    }

    /// Everything that is there; held, nobody else can look.
    pub fn files(&self) -> MutexGuard<'_, BTreeMap<String, Vec<u8>>> {
        self.files.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Counted calls so far.
    pub fn calls(&self) -> usize {
        self.calls.load(Ordering::Relaxed)
    }

    /// The same files, no call counted yet.
    pub fn afresh(&self, fails: Fails) -> Self {
        Self { today: self.today, files: Mutex::new(self.files().clone()), fails, calls: AtomicUsize::new(0) }
    }

    /// Everything below a folder, by relative path.
    pub fn below(&self, folder: &Path) -> BTreeMap<String, Vec<u8>> {
        let prefix = text(folder) + "/";
        let files = self.files();
        let found = files.iter().filter_map(|(path, bytes)| Some((path.strip_prefix(&prefix)?.to_owned(), bytes.clone())));
        found.filter(|(path, _)| !path.is_empty()).collect()
    }

    fn call(&self, path: &Path) -> Result<(), Failure> {
        let number = self.calls.fetch_add(1, Ordering::Relaxed);
        let fails = match self.fails {
            Fails::Never => false,
            Fails::Once(at) => number == at,
            Fails::From(at) => number >= at,
        };
        if fails { Err(Failure::CannotWrite { path: path.to_owned(), why: format!("call {number} was told to fail") }) } else { Ok(()) }
    }

    fn exists(&self, folder: &Path) -> bool {
        let prefix = text(folder) + "/";
        self.files().keys().any(|path| path.starts_with(&prefix))
    }

    /// Takes everything below a folder out of the world.
    fn take(&self, folder: &Path) -> BTreeMap<String, Vec<u8>> {
        let prefix = text(folder) + "/";
        let mut files = self.files();
        let (inside, outside) = std::mem::take(&mut *files).into_iter().partition(|(path, _)| path.starts_with(&prefix));
        *files = outside;
        let inside: BTreeMap<String, Vec<u8>> = inside;
        inside.into_iter().map(|(path, bytes)| (path[prefix.len()..].to_owned(), bytes)).collect()
    }

    fn put(&self, folder: &Path, content: BTreeMap<String, Vec<u8>>) {
        let prefix = text(folder) + "/";
        self.files().extend(content.into_iter().map(|(path, bytes)| (format!("{prefix}{path}"), bytes)));
    }
}

fn text(path: &Path) -> String {
    path.to_string_lossy().trim_end_matches('/').to_owned()
}

impl World for Memory {
    fn today(&self) -> Date {
        self.today
    }

    fn has_file(&self, path: &Path) -> bool {
        self.files().contains_key(&*path.to_string_lossy())
    }

    fn library(&self, folder: &Path) -> Result<Folder, Failure> {
        self.call(folder)?;
        let read = |path: &str| match path.split_once('/') {
            None => TOP_FILES.contains(&path),
            Some((top, below)) => TOP_FOLDERS.contains(&top) && !below.is_empty() && !below.split('/').any(is_hidden),
        };
        let entries = self.below(folder).into_iter().filter(|(path, _)| read(path)).map(|(path, bytes)| (path, Entry::File(bytes)));
        Ok(Folder { entries: entries.collect() })
    }

    fn resolve(&self, path: &Path) -> Result<PathBuf, Failure> {
        self.call(path)?;
        Ok(PathBuf::from(text(path)))
    }

    fn listing(&self, folder: &Path) -> Result<Option<BTreeSet<String>>, Failure> {
        self.call(folder)?;
        Ok(self.exists(folder).then(|| self.below(folder).into_keys().collect()))
    }

    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure> {
        self.call(path)?;
        let missing = || Failure::CannotRead { path: path.to_owned(), why: "there is nothing of that name".to_owned() };
        self.files().get(&*path.to_string_lossy()).cloned().ok_or_else(missing)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        self.call(path)?;
        if self.has_file(path) {
            return Err(Failure::Exists { path: path.to_owned() });
        }
        self.files().insert(path.to_string_lossy().into_owned(), bytes.to_vec());
        Ok(())
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        self.call(path)?;
        self.files().insert(path.to_string_lossy().into_owned(), bytes.to_vec());
        Ok(())
    }

    fn aside(&self, target: &Path) -> Result<PathBuf, Failure> {
        self.call(target)?;
        let aside = PathBuf::from(text(target) + ".aside");
        self.files().insert(text(&aside) + "/", Vec::new());
        Ok(aside)
    }

    fn carry(&self, from: &Path, to: &Path) -> Result<(), Failure> {
        self.call(to)?;
        let bytes = self.files().get(&*from.to_string_lossy()).cloned();
        let missing = || Failure::CannotRead { path: from.to_owned(), why: "there is nothing of that name".to_owned() };
        self.files().insert(to.to_string_lossy().into_owned(), bytes.ok_or_else(missing)?);
        Ok(())
    }

    fn swap(&self, aside: &Path, target: &Path) -> Result<(), Failure> {
        self.call(target)?;
        let (new, old) = (self.take(aside), self.take(target));
        self.put(target, new);
        self.put(aside, old);
        Ok(())
    }

    fn remove(&self, folder: &Path) -> Result<(), Failure> {
        self.call(folder)?;
        self.take(folder);
        Ok(())
    }
}
