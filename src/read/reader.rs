//! Reads one library again and again: what a procedure's file says is worked out anew only where the file is another.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::finding::Findings;
use crate::model::library::Library;
use crate::read::file::File;
use crate::read::procedure::Read;
use crate::read::{one_procedure, read_by};
use crate::text::folder::Folder;
use crate::text::id::Id;
use crate::text::place::{FileId, Source};

/// Remembers the procedures of the last library it read.
#[derive(Default)]
pub struct Reader {
    kept: Mutex<BTreeMap<String, Arc<Kept>>>,
}

/// A procedure, and all that it was made of.
struct Kept {
    file: FileId,
    readable: bool,
    text: String,
    read: Read,
    findings: Findings,
}

impl Reader {
    /// The same as [`read`](crate::read::read).
    pub fn read(&self, folder: &Folder) -> (Library, Findings) {
        let kept = || self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let before = std::mem::take(&mut *kept());
        read_by(folder, |file, id, source| {
            let known = before.get(&source.path).filter(|known| known.is_of(file, source)).cloned();
            let now = known.unwrap_or_else(|| Arc::new(Kept::new(file, id, source)));
            kept().insert(source.path.clone(), now.clone());
            (now.read.clone(), now.findings.clone())
        })
    }
}

impl Kept {
    fn new(file: &File, id: &Id, source: &Source) -> Self {
        let (read, findings) = one_procedure(file, id, source);
        Self { file: file.id, readable: file.readable, text: source.text.clone(), read, findings }
    }

    /// Places name their file by its number, so that must be the same, too.
    fn is_of(&self, file: &File, source: &Source) -> bool {
        self.file == file.id && self.readable == file.readable && self.text == source.text
    }
}
