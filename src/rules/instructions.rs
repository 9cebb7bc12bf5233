//! The texts of a library in which instructions stand, sentence by sentence, with their places. English only: what an instruction is, its verbs tell.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use crate::finding::Finding;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::read::lines::Lines;
use crate::rules::pages::{Stretch, stretches_around, stretches_of};
use crate::text::id::Id;
use crate::text::imperative::{Act, acts};
use crate::text::passage::Passage;
use crate::text::place::{At, FileId, Place, Sources};
use crate::text::sentence::{Sentence, sentences};
use crate::text::words::Sameness;

/// Whether the library is written in a language whose instructions are known here.
pub fn are_known(library: &Library) -> bool {
    Sameness::of_language(library.settings.language()) == Sameness::Stem
}

/// Where a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// The `do` of a step: all of it tells what to do.
    Action,
    /// What a step asks or measures, a reading, or a step's section.
    Step,
    /// The advice of a caution: all of it tells what to do.
    Caution,
    /// An introduction, a leaflet, the stop card.
    Around,
}

/// A text and whose it is.
#[derive(Clone, Debug)]
pub struct Text<'a> {
    pub of: Of,
    pub procedure: Option<&'a Id>,
    pub step: Option<&'a Id>,
    pub passage: Passage,
}

/// A sentence of a text.
#[derive(Clone, Debug)]
pub struct Line<'t> {
    pub text: &'t Text<'t>,
    pub sentence: Sentence,
    pub acts: Vec<Act>,
}

impl Line<'_> {
    /// Whether it tells what to do.
    pub fn is_instruction(&self) -> bool {
        !self.acts.is_empty() || (matches!(self.text.of, Of::Action | Of::Caution) && !self.sentence.question)
    }
}

impl<'a> Text<'a> {
    pub fn lines(&self) -> Vec<Line<'_>> {
        let found = sentences(&self.passage.text, &self.passage.quoted());
        found.into_iter().map(|sentence| Line { text: self, acts: acts(&sentence), sentence }).collect()
    }

    /// Says of a finding whose words it is about.
    pub fn place(&self, mut finding: Finding) -> Finding {
        finding.procedure = self.procedure.cloned();
        finding.step = self.step.cloned();
        finding
    }
}

/// The texts that belong to no procedure, each once.
pub fn around(library: &Library) -> Vec<Text<'_>> {
    of_cautions(library).into_iter().chain(once(stretches_around(library))).collect()
}

/// The texts of a procedure, each once. A section that several steps share counts for the step whose id it bears.
pub fn of_procedure<'a>(library: &Library, procedure: &'a Procedure) -> Vec<Text<'a>> {
    let front = procedure.steps.iter().flat_map(|step| of_front_matter(library, procedure, step));
    front.chain(once(stretches_of(procedure))).collect()
}

/// Sections that refer to one footnote all hold its words.
fn once<'a>(stretches: impl Iterator<Item = Stretch<'a>>) -> Vec<Text<'a>> {
    let mut told = BTreeSet::new();
    let mut texts = Vec::new();
    for stretch in stretches {
        let new = |passage: &&Passage| told.insert((passage.file, passage.start()));
        texts.extend(stretch.section.passages.iter().filter(new).map(|passage| of_stretch(stretch, passage)));
    }
    texts
}

fn of_stretch<'a>(stretch: Stretch<'a>, passage: &Passage) -> Text<'a> {
    let of = if stretch.step.is_some() { Of::Step } else { Of::Around };
    Text { of, procedure: stretch.procedure.map(|procedure| &procedure.id), step: stretch.step, passage: passage.clone() }
}

fn of_cautions(library: &Library) -> Vec<Text<'_>> {
    let advice = library.catalogue.hazards.iter().flat_map(|hazard| hazard.avoid.iter().chain(&hazard.spoken));
    let text = |scalar| Text { of: Of::Caution, procedure: None, step: None, passage: of_scalar(&library.sources, scalar) };
    advice.map(text).collect()
}

/// What a step says in the front matter, its answers aside: they are the reader's words.
pub fn of_front_matter<'a>(library: &Library, procedure: &'a Procedure, step: &'a Step) -> Vec<Text<'a>> {
    let of = if matches!(step.kind, StepKind::Do(_)) { Of::Action } else { Of::Step };
    let readings = match &step.kind {
        StepKind::Measure(measurement) => measurement.readings.as_slice(),
        StepKind::Ask(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => &[],
    };
    let scalars = step.text().into_iter().chain(readings.iter().filter_map(|reading| reading.ask.as_ref()));
    let (procedure, step) = (Some(&procedure.id), Some(&step.id));
    scalars.map(|scalar| Text { of, procedure, step, passage: of_scalar(&library.sources, scalar) }).collect()
}

/// A step's section, passage by passage.
pub fn of_section<'a>(procedure: &'a Procedure, step: &'a Step) -> Vec<Text<'a>> {
    let passages = procedure.words_of(step).map_or(&[][..], |section| &section.passages);
    let text = |passage: &Passage| Text { of: Of::Step, procedure: Some(&procedure.id), step: Some(&step.id), passage: passage.clone() };
    passages.iter().map(text).collect()
}

fn of_scalar(sources: &Sources, scalar: &At<String>) -> Passage {
    Passage::of_scalar(scalar, sources.get(scalar.at.file).map_or("", |source| &source.text))
}

/// Lines and columns of the stretches that findings point at.
pub struct Places<'a> {
    sources: &'a Sources,
    files: BTreeMap<FileId, Lines<'a>>,
}

impl<'a> Places<'a> {
    pub fn new(sources: &'a Sources) -> Self {
        Self { sources, files: BTreeMap::new() }
    }

    /// Where a range of a passage's text was written.
    pub fn of(&mut self, passage: &Passage, range: Range<usize>) -> Place {
        let text = self.sources.get(passage.file).map_or("", |source| &source.text);
        let lines = self.files.entry(passage.file).or_insert_with(|| Lines::new(passage.file, text));
        lines.place(passage.source(range))
    }
}
