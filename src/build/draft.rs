//! A library on its way, for the preview: judged as a whole, its pages made one by one as they are asked for.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use jiff::civil::Date;

use crate::analyse::gate::{self, Cleared};
use crate::analyse::{self, Verdict};
use crate::build::pipeline;
use crate::flow::coverage::Coverage;
use crate::model::library::Library;
use crate::read::reader::Reader;
use crate::render;
use crate::render::drawings::Drawings;
use crate::rules::known::Known;
use crate::text::folder::Folder;

/// A library as the preview shows it: each page is made when it is asked for, and once. It has no way to [`publish`](crate::build::publish::publish).
pub struct Draft {
    pub verdict: Verdict,
    /// What is sound in it, each page marked as not for use; `None` if the library itself is in doubt.
    sound: Option<Cleared<Library>>,
    today: Date,
    pictures: BTreeMap<String, Vec<u8>>,
    drawings: Arc<Drawings>,
    coverage: OnceLock<Vec<Coverage>>,
    made: Mutex<BTreeMap<String, Arc<Vec<u8>>>>,
}

impl Draft {
    /// Judges what lies in a folder. `reader` knows what was read before, `known` what was found then, `drawings` holds
    /// charts drawn before; then also what is read, found and drawn here.
    pub fn of(folder: Folder, today: Date, reader: &Reader, known: &Known, drawings: Arc<Drawings>) -> Self {
        let (library, findings) = reader.read(&folder);
        let verdict = analyse::analyse_again(library, findings, today, known);
        let sound = gate::sound(&verdict);
        let pictures = folder.files_below("pictures");
        Self { verdict, sound, today, pictures, drawings, coverage: OnceLock::new(), made: Mutex::default() }
    }

    /// What has pages; `None` if the library itself is in doubt.
    pub fn sound(&self) -> Option<&Library> {
        self.sound.as_ref().map(Cleared::library)
    }

    /// A page or another file, as a site would have it.
    pub fn file(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        let made = || self.made.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = made().get(path) {
            return Some(known.clone());
        }
        let coverage = || self.coverage.get_or_init(|| analyse::coverage::coverage(&self.verdict));
        let review = || pipeline::reviewed(&self.verdict, coverage(), self.today, true);
        let file = Arc::new(render::file(self.sound.as_ref()?, self.today, &self.pictures, &self.drawings, path, review)?);
        made().insert(path.to_owned(), file.clone());
        Some(file)
    }
}
