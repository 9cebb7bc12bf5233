//! Places in source files. Every value that an author wrote keeps the place it was written at.

use std::ops::Deref;
use std::sync::Arc;

/// A file of a [`Sources`] list, by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct FileId(pub u32);

/// A stretch of one source file.
///
/// `line` and `column` count from 1; `column` counts Unicode characters. `start..end` are bytes of the file as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Place {
    pub file: FileId,
    pub line: u32,
    pub column: u32,
    pub start: u32,
    pub end: u32,
}

impl Place {
    /// The first character of a file: where findings about a file as a whole point.
    pub fn top(file: FileId) -> Self {
        Self { file, line: 1, column: 1, start: 0, end: 0 }
    }
}

/// A value and where it was written. Compares and prints like the pair it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct At<T> {
    pub value: T,
    pub at: Place,
}

impl<T> At<T> {
    pub fn new(value: T, at: Place) -> Self {
        Self { value, at }
    }
}

impl<T> Deref for At<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

/// One file as it was read. `text` is the whole file, unchanged (a byte order mark included).
#[derive(Clone, Debug)]
pub struct Source {
    /// Path relative to the library, with `/`.
    pub path: String,
    pub text: String,
}

/// All files that were read, in the order of their paths.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Arc<Vec<Source>>,
}

impl Sources {
    pub fn add(&mut self, path: impl Into<String>, text: impl Into<String>) -> FileId {
        Arc::make_mut(&mut self.files).push(Source { path: path.into(), text: text.into() });
        FileId(u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX))
    }

    pub fn get(&self, file: FileId) -> Option<&Source> {
        self.files.get(file.0 as usize)
    }

    /// The path of a file, empty for one that was never read.
    pub fn path(&self, file: FileId) -> &str {
        self.get(file).map_or("", |source| source.path.as_str())
    }

    pub fn iter(&self) -> impl Iterator<Item = (FileId, &Source)> {
        self.files.iter().enumerate().map(|(index, source)| (FileId(u32::try_from(index).unwrap_or(u32::MAX)), source))
    }
}
