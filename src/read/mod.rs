//! Text to model. Never fails: what cannot be understood is a finding, and everything else is read all the same.

use crate::finding::Findings;
use crate::model::library::Library;
use crate::text::folder::Folder;

/// Reads a whole library. All findings of the group *reading* come from here.
pub fn read(_folder: &Folder) -> (Library, Findings) {
    (Library::default(), Findings::default())
}
