//! The pages of a library and what a link on one of them leads to.

use std::collections::BTreeMap;

use crate::finding::Finding;
use crate::model::body::{Body, Section};
use crate::model::library::{Leaflet, Library};
use crate::model::procedure::{Procedure, Status};
use crate::model::step::Step;
use crate::text::id::Id;
use crate::text::place::FileId;
use crate::text::target::{self, Target};

/// A page that a file of the library becomes. The stop card is a leaflet.
#[derive(Clone, Copy, Debug)]
pub enum Page<'a> {
    Procedure(&'a Procedure),
    Leaflet(&'a Leaflet),
}

/// What a link leads to.
#[derive(Clone, Debug)]
pub enum Lead<'a> {
    /// A scheme, in lower case.
    Elsewhere(String),
    /// A page, and whether it has the section that the fragment names (yes without a fragment).
    Page(Page<'a>, bool),
    Picture(&'a str),
    /// A file that is there and could not be read as a page, which is a finding of its own.
    Unread,
    Nowhere,
}

/// All pages of a library by the path of their file.
pub struct Pages<'a> {
    library: &'a Library,
    by_path: BTreeMap<&'a str, Page<'a>>,
}

impl<'a> Pages<'a> {
    pub fn of(library: &'a Library) -> Self {
        let path = |file: FileId| library.sources.path(file);
        let procedures = library.procedures.iter().map(|procedure| (path(procedure.at.file), Page::Procedure(procedure)));
        let leaflets = library.leaflets.iter().chain(&library.stop_card).map(|leaflet| (path(leaflet.at.file), Page::Leaflet(leaflet)));
        Self { library, by_path: procedures.chain(leaflets).collect() }
    }

    /// What a target leads to, as written in a file.
    pub fn lead(&self, from: FileId, written: &str) -> Lead<'a> {
        let (path, fragment) = match Target::parse(written) {
            Target::Elsewhere(scheme) => return Lead::Elsewhere(scheme),
            Target::Inside { path, fragment } if path.is_empty() && fragment.is_none() => return Lead::Nowhere,
            Target::Inside { path, fragment } => (path, fragment),
        };
        let Some(path) = target::resolve(self.library.sources.path(from), &path) else { return Lead::Nowhere };
        if let Some(page) = self.by_path.get(path.as_str()) {
            return Lead::Page(*page, fragment.is_none_or(|fragment| page.has_section(&fragment)));
        }
        match self.library.pictures.get(&path) {
            Some(picture) if fragment.is_none() => Lead::Picture(picture),
            _ if is_page(&path) && self.library.sources.iter().any(|(_, source)| source.path == path) => Lead::Unread,
            _ => Lead::Nowhere,
        }
    }

    /// The picture that a step's key `picture` names: by its path from the procedure's file, else by its path in the library.
    pub fn picture_of(&self, procedure: &Procedure, step: &Step) -> Option<&'a str> {
        let written = &step.picture.as_ref()?.value;
        let Target::Inside { path, fragment: None } = Target::parse(written) else { return None };
        let from = self.library.sources.path(procedure.at.file);
        let near = target::resolve(from, &path).and_then(|path| self.library.pictures.get(&path));
        near.or_else(|| self.library.pictures.get(&target::resolve("", &path)?)).map(String::as_str)
    }
}

fn is_page(path: &str) -> bool {
    path.ends_with(".md") && (path.starts_with("procedures/") || path.starts_with("leaflets/") || path == "stop.md")
}

impl Page<'_> {
    /// Whether a fragment names something on the page: a step, or a heading with an id.
    fn has_section(self, fragment: &str) -> bool {
        let (steps, body): (&[Step], &Body) = match self {
            Page::Procedure(procedure) => (&procedure.steps, &procedure.body),
            Page::Leaflet(leaflet) => (&[], &leaflet.body),
        };
        let sections = body.sections.iter().chain([&body.introduction]);
        let in_words = |section: &Section| {
            let headings = section.headings.iter().filter_map(|heading| heading.id.as_ref());
            section.id.iter().chain(headings).any(|id| id.value == *fragment)
        };
        steps.iter().any(|step| step.id == *fragment) || sections.into_iter().any(in_words)
    }
}

/// A stretch of words and whose it is.
#[derive(Clone, Copy, Debug)]
pub struct Stretch<'a> {
    pub procedure: Option<&'a Procedure>,
    /// `None` in introductions, leaflets, the stop card, and under an id that is no step.
    pub step: Option<&'a Id>,
    pub file: FileId,
    pub section: &'a Section,
}

impl Stretch<'_> {
    /// Says of a finding whose words it is about.
    pub fn place(&self, mut finding: Finding) -> Finding {
        finding.procedure = self.procedure.map(|procedure| procedure.id.clone());
        finding.step = self.step.cloned();
        finding
    }
}

/// All words of a library, file by file. The steps of withdrawn procedures are not judged and not here.
pub fn stretches(library: &Library) -> Vec<Stretch<'_>> {
    library.procedures.iter().flat_map(stretches_of).chain(stretches_around(library)).collect()
}

/// Those of one procedure.
pub fn stretches_of(procedure: &Procedure) -> impl Iterator<Item = Stretch<'_>> {
    let sections = if procedure.status == Status::Withdrawn { &[] } else { procedure.body.sections.as_slice() };
    sections_of(&procedure.body.introduction, sections).map(move |section| {
        let step = section.id.as_ref().and_then(|id| procedure.step(id)).map(|step| &step.id);
        Stretch { procedure: Some(procedure), step, file: procedure.at.file, section }
    })
}

/// Those of leaflets and of the stop card.
pub fn stretches_around(library: &Library) -> impl Iterator<Item = Stretch<'_>> {
    library.leaflets.iter().chain(&library.stop_card).flat_map(|leaflet| {
        let sections = sections_of(&leaflet.body.introduction, &leaflet.body.sections);
        sections.map(move |section| Stretch { procedure: None, step: None, file: leaflet.at.file, section })
    })
}

fn sections_of<'a>(introduction: &'a Section, sections: &'a [Section]) -> impl Iterator<Item = &'a Section> {
    [introduction].into_iter().chain(sections)
}
