//! One change, and the list they are gathered in.

use crate::compare::kind::Kind;
use crate::compare::rename::Names;
use crate::finding::Witness;
use crate::text::id::Id;
use crate::text::place::{At, Place, Sources};

/// Something that means another thing in NEW than in OLD. Ids are NEW's; [`Side`] has those of its own library.
#[derive(Clone, Debug)]
pub struct Change {
    pub kind: &'static Kind,
    pub procedure: Option<Id>,
    pub step: Option<Id>,
    /// The hazard, condition, part, model, answer, rule or fault it is about.
    pub subject: Option<String>,
    /// The fact, in trade words: lower-case start, no final stop.
    pub message: String,
    /// All steps it holds at, where there are several.
    pub steps: Vec<Id>,
    /// Procedures that depend on a changed entry of a catalogue.
    pub used_by: Vec<Id>,
    pub old: Option<Side>,
    pub new: Option<Side>,
    /// For a new finding: the shortest way that shows it. For an old one: the way that showed it.
    pub witness: Option<Witness>,
}

/// Where something stands in one of the libraries, and what it says there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Side {
    pub procedure: Option<Id>,
    pub step: Option<Id>,
    /// Relative to its library, with `/`.
    pub file: String,
    pub line: u32,
    pub column: u32,
    pub words: Option<String>,
}

/// What a change is about, and where that stands.
#[derive(Clone, Copy, Default)]
pub struct Spot<'a> {
    pub procedure: Option<&'a Id>,
    pub step: Option<&'a Id>,
    pub old: Option<Place>,
    pub new: Option<Place>,
}

impl<'a> Spot<'a> {
    pub fn of(old: Option<Place>, new: Option<Place>) -> Self {
        Spot { old, new, ..Spot::default() }
    }

    /// The same subject at closer places, where there are such.
    pub fn at(self, old: Option<Place>, new: Option<Place>) -> Self {
        Spot { old: old.or(self.old), new: new.or(self.new), ..self }
    }
}

/// Gathers changes, and knows where places are.
pub struct Changes<'a> {
    pub list: Vec<Change>,
    pub names: &'a Names,
    pub old: &'a Sources,
    pub new: &'a Sources,
}

impl Changes<'_> {
    pub fn add(&mut self, kind: &'static Kind, spot: Spot<'_>, message: impl Into<String>) -> &mut Change {
        let former = self.names.former(spot.procedure, spot.step);
        let side = |at: Option<Place>, sources: &Sources, (procedure, step): (Option<Id>, Option<Id>)| {
            at.map(|at| Side { procedure, step, file: sources.path(at.file).to_owned(), line: at.line, column: at.column, words: None })
        };
        let (old, new) = (side(spot.old, self.old, former), side(spot.new, self.new, (spot.procedure.cloned(), spot.step.cloned())));
        self.list.push(Change {
            kind,
            procedure: spot.procedure.cloned(),
            step: spot.step.cloned(),
            subject: None,
            message: message.into(),
            steps: Vec::new(),
            used_by: Vec::new(),
            old,
            new,
            witness: None,
        });
        let last = self.list.len() - 1;
        &mut self.list[last]
    }
}

impl Change {
    pub fn subject(&mut self, subject: impl AsRef<str>) -> &mut Self {
        self.subject = Some(subject.as_ref().to_owned());
        self
    }

    /// What was said and what is said now.
    pub fn words(&mut self, old: Option<String>, new: Option<String>) -> &mut Self {
        if let Some(side) = &mut self.old {
            side.words = old;
        }
        if let Some(side) = &mut self.new {
            side.words = new;
        }
        self
    }

    pub fn used_by(&mut self, procedures: Vec<Id>) -> &mut Self {
        self.used_by = procedures;
        self
    }
}

/// Entries that only one of two lists of names has, with their places.
pub fn only_in<'a>(list: &'a [At<Id>], other: &[At<Id>]) -> Vec<&'a At<Id>> {
    list.iter().filter(|id| !other.iter().any(|it| it.value == id.value)).collect()
}
