//! The pages of one edition of the preview, each made when it is asked for, and what is wrong with the library they come from. Pure: it is handed what
//! lies in the folder.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use jiff::civil::Date;
use rayon::prelude::{IntoParallelIterator, ParallelExtend, ParallelIterator};

use crate::analyse::Verdict;
use crate::build::draft::Draft;
use crate::build::failure::Failure;
use crate::finding::Finding;
use crate::model::library::Library;
use crate::read::reader::Reader;
use crate::render::drawings::Drawings;
use crate::render::preview::{self, Dressed, Notes, State};
use crate::rules::known::Known;
use crate::text::folder::Folder;
use crate::text::id::Id;
use crate::text::place::Sources;
use crate::theme::words::Words;

/// The start page; it is there even if everything is in doubt.
const START: &str = "index.html";

/// Folders with a page for each procedure.
const PAGES: [&str; 3] = ["procedures", "posters", "review"];

/// One edition.
pub struct Shelf {
    words: Arc<Words>,
    /// What files are named after in findings: the library as it was asked for, with `/` at its end.
    name: Arc<str>,
    folder: Arc<Folder>,
    today: Date,
    /// Procedures, findings and charts of the edition before, so that only what changed is read, judged and drawn anew.
    reader: Arc<Reader>,
    known: Arc<Known>,
    drawings: Arc<Drawings>,
    /// What lies in the folder.
    draft: Option<Arc<Draft>>,
    /// The last one whose library was not itself in doubt: the same, or one before.
    sound: Option<Arc<Draft>>,
    /// Of what is in the folder but not sound now: its last pages, and the assets that they ask for.
    kept: BTreeMap<String, Arc<Vec<u8>>>,
    failure: Option<Failure>,
    no_sources: Sources,
}

impl Shelf {
    /// An empty one, from which the first edition comes. `name` stands before the file of each finding.
    pub fn empty(words: Words, name: &str, today: Date) -> Self {
        Self {
            words: Arc::new(words),
            name: name.into(),
            folder: Arc::default(),
            today,
            reader: Arc::default(),
            known: Arc::default(),
            drawings: Arc::default(),
            draft: None,
            sound: None,
            kept: BTreeMap::new(),
            failure: None,
            no_sources: Sources::default(),
        }
    }

    pub fn today(&self) -> Date {
        self.today
    }

    pub fn unreadable(&self) -> bool {
        self.failure.is_some()
    }

    pub fn failure(&self) -> Option<&Failure> {
        self.failure.as_ref()
    }

    /// What was found, once the library could be read.
    pub fn verdict(&self) -> Option<&Verdict> {
        self.draft.as_ref().map(|draft| &draft.verdict)
    }

    /// The edition after this one, or `None` if nothing is different.
    pub fn next(&self, found: Result<Folder, Failure>, today: Date) -> Option<Self> {
        match found {
            Err(failure) if self.failure.as_ref() == Some(&failure) => None,
            Err(failure) => Some(Self { failure: Some(failure), ..self.copy() }),
            Ok(folder) if self.draft.is_some() && *self.folder == folder && self.today == today => {
                self.failure.is_some().then(|| Self { failure: None, ..self.copy() })
            }
            Ok(folder) => Some(self.made(folder, today)),
        }
    }

    fn copy(&self) -> Self {
        Self {
            words: self.words.clone(),
            name: self.name.clone(),
            folder: self.folder.clone(),
            today: self.today,
            reader: self.reader.clone(),
            known: self.known.clone(),
            drawings: self.drawings.clone(),
            draft: self.draft.clone(),
            sound: self.sound.clone(),
            kept: self.kept.clone(),
            failure: None,
            no_sources: Sources::default(),
        }
    }

    fn made(&self, folder: Folder, today: Date) -> Self {
        self.drawings.forget_unused();
        let draft = Arc::new(Draft::of(folder.clone(), today, &self.reader, &self.known, self.drawings.clone()));
        let (sound, kept) = match draft.sound() {
            Some(sound) => (Some(draft.clone()), self.kept_beside(&draft.verdict, sound)),
            None => (self.sound.clone(), self.kept.clone()),
        };
        Self { folder: Arc::new(folder), today, draft: Some(draft), sound, kept, ..self.copy() }
    }

    /// The last pages of what is still in the library but not sound any more.
    fn kept_beside(&self, verdict: &Verdict, sound: &Library) -> BTreeMap<String, Arc<Vec<u8>>> {
        let lost = |id: &Id| verdict.library.procedure(id).is_some() && sound.procedure(id).is_none();
        let page_of_lost = |path: &str| PAGES.iter().filter_map(|folder| id_of(path, folder)).any(|id| lost(&Id::new(id)));
        let mut kept: BTreeMap<_, _> = self.kept.clone().into_iter().filter(|(path, _)| page_of_lost(path)).collect();
        if let Some(before) = &self.sound {
            let procedures = before.sound().into_iter().flat_map(|library| &library.procedures).filter(|procedure| lost(&procedure.id));
            let paths: Vec<String> =
                procedures.flat_map(|procedure| PAGES.map(|folder| format!("{folder}/{}.html", procedure.id))).collect();
            kept.par_extend(paths.into_par_iter().filter_map(|path| before.file(&path).map(|page| (path, page))));
        }
        // Every edition may have other assets: those of a page that is kept stay with it.
        let asked: BTreeSet<String> = kept.values().flat_map(|page| assets_in(page)).collect();
        let asset = |path: String| self.file(&path).map(|bytes| (path, bytes));
        kept.extend(asked.into_iter().filter_map(asset));
        kept
    }

    /// A file of the site; of a page that cannot be made anew the last one.
    pub fn file(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        self.fresh(path).or_else(|| self.before(path))
    }

    /// Made from what lies in the folder.
    fn fresh(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        self.draft.as_ref()?.file(path)
    }

    /// The last one that was sound.
    fn before(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        self.sound.as_ref().and_then(|draft| draft.file(path)).or_else(|| self.kept.get(path).cloned())
    }

    /// How many files of editions before are kept: those of what is not sound now.
    pub fn kept(&self) -> usize {
        self.kept.len()
    }

    /// Whether there is a page, or one that is awaited.
    pub fn has_page(&self, path: &str) -> bool {
        self.is_awaited(path) || self.file(path).is_some()
    }

    /// A page as a browser is shown it. Where there is none it says so, and shows itself as soon as there is one.
    pub fn page(&self, path: &str) -> Dressed {
        let text = |bytes: Arc<Vec<u8>>| String::from_utf8_lossy(&bytes).into_owned();
        let (html, state) = match (self.fresh(path), self.before(path)) {
            (Some(page), _) => (text(page), State::Fresh),
            (None, Some(page)) => (text(page), State::LastGood),
            (None, None) if self.is_awaited(path) => (preview::blank(&self.words, path), State::NeverGood),
            (None, None) => (preview::blank(&self.words, self.words.say("preview", "no-page")), State::Fresh),
        };
        let state = self.failure.as_ref().map_or(state, |failure| State::Unreadable(failure.to_string()));
        preview::dressed(&html, path, &self.notes(path, state))
    }

    /// Whether a page will be there once its errors are mended.
    fn is_awaited(&self, path: &str) -> bool {
        path == START || self.verdict().is_some_and(|verdict| path.ends_with(".html") && belongs(verdict, path))
    }

    fn notes(&self, path: &str, state: State) -> Notes<'_> {
        let whole = path == START;
        let Some(verdict) = self.verdict() else {
            return Notes {
                words: &self.words,
                sources: &self.no_sources,
                folder: &self.name,
                state,
                whole,
                findings: Vec::new(),
                elsewhere: 0,
            };
        };
        let about = |finding: &&Finding| is_about(verdict, finding, path);
        let findings: Vec<&Finding> = verdict.findings.iter().filter(about).collect();
        let elsewhere = verdict.findings.iter().count() - findings.len();
        Notes { words: &self.words, sources: &verdict.library.sources, folder: &self.name, state, whole, findings, elsewhere }
    }
}

/// The id in `FOLDER/ID.html` or `FOLDER/ID.OTHER`.
fn id_of<'p>(path: &'p str, folder: &str) -> Option<&'p str> {
    path.strip_prefix(folder)?.strip_prefix('/')?.split('.').next()
}

/// Whether a page is about a procedure that is in the library.
fn belongs(verdict: &Verdict, path: &str) -> bool {
    PAGES
        .iter()
        .filter_map(|folder| id_of(path, folder))
        .any(|id| verdict.library.procedures.iter().any(|procedure| procedure.id.as_str() == id))
}

/// The paths of the assets that a page in a folder of the site asks for.
fn assets_in(page: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(page);
    let asked = text.split("../assets/").skip(1);
    asked
        .map(|rest| format!("assets/{}", rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '-' && c != '.').next().unwrap_or("")))
        .collect()
}

/// On the start page everything is shown; on a procedure's what is about it; on every page what is about the whole library.
fn is_about(verdict: &Verdict, finding: &Finding, path: &str) -> bool {
    let own = |id: &Id| PAGES.iter().any(|folder| id_of(path, folder) == Some(id.as_str()));
    let leaflet = verdict.library.sources.path(finding.at.file).strip_suffix(".md").and_then(|file| file.strip_prefix("leaflets/"));
    match (&finding.procedure, leaflet) {
        _ if path == START => true,
        (Some(id), _) => own(id),
        (None, Some(leaflet)) => id_of(path, "leaflets") == Some(leaflet),
        (None, None) => true,
    }
}
