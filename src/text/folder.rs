//! A library as it lies in its folder: paths and bytes, before anything is understood.

use std::collections::BTreeMap;

/// What was found at a path of the library.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    File(Vec<u8>),
    /// A file of more bytes than the format allows; not read.
    TooLarge(u64),
    /// A symbolic link that leads outside the library; not followed.
    Outside,
}

/// All entries by path, relative to the library, with `/`. Sorted, so that the order of a directory listing never shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Folder {
    pub entries: BTreeMap<String, Entry>,
}

/// The largest file the format allows, in bytes.
pub const LARGEST_FILE: u64 = 8 * 1024 * 1024;

impl Folder {
    /// A folder from texts, for tests and examples.
    pub fn of<'a>(files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let entries = files.into_iter().map(|(path, text)| (path.to_owned(), Entry::File(text.as_bytes().to_vec()))).collect();
        Self { entries }
    }
    /// The bytes of the files below a folder, by path.
    pub fn files_below(self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let file = |(path, entry)| match entry {
            Entry::File(bytes) => Some((path, bytes)),
            Entry::TooLarge(_) | Entry::Outside => None,
        };
        self.entries
            .into_iter()
            .filter(|(path, _)| path.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/')))
            .filter_map(file)
            .collect()
    }
}
