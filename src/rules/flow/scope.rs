//! What this group judges, and what it leaves to the reader: one cause, one finding.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Finding, Findings, Group, Rule};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Measurement, Question, Sorting, Step, StepKind};
use crate::rules::Context;
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::{FileId, Place, Sources};

/// The procedures whose steps are judged: all but the withdrawn ones.
pub fn judged(library: &Library) -> impl Iterator<Item = &Procedure> {
    library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn)
}

/// Every step that is judged, with its procedure.
pub fn steps(library: &Library) -> impl Iterator<Item = (&Procedure, &Step)> {
    judged(library).flat_map(|procedure| procedure.steps.iter().map(move |step| (procedure, step)))
}

pub fn questions(library: &Library) -> impl Iterator<Item = (&Procedure, &Step, &Question)> {
    steps(library).filter_map(|(procedure, step)| match &step.kind {
        StepKind::Ask(question) => Some((procedure, step, question)),
        StepKind::Measure(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    })
}

pub fn measurements(library: &Library) -> impl Iterator<Item = (&Procedure, &Step, &Measurement)> {
    steps(library).filter_map(|(procedure, step)| match &step.kind {
        StepKind::Measure(measurement) => Some((procedure, step, measurement.as_ref())),
        StepKind::Ask(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    })
}

/// A finding about a step, at its key or at a value of it.
pub fn on_step(rule: &'static Rule, procedure: &Procedure, step: &Step, at: Place, message: impl Into<String>) -> Finding {
    Finding::new(rule, at, message).procedure(&procedure.id).step(&step.id)
}

/// Whether a procedure has a finding of the group *reading*.
pub fn misread(context: &Context<'_>, procedure: &Procedure) -> bool {
    context.misread.contains(&procedure.id)
}

/// Whether nothing is known of the steps of a procedure, because its file could not be read.
pub fn unreadable(context: &Context<'_>, procedure: &Procedure) -> bool {
    procedure.steps.is_empty() && misread(context, procedure)
}

/// What the reader found amiss. A key that is missing because it was mistyped, or whose value was refused, is one finding, the reader's.
pub struct Amiss<'a> {
    sources: &'a Sources,
    /// By procedure and step.
    findings: BTreeMap<(Option<&'a Id>, Option<&'a Id>), Vec<&'a Finding>>,
    /// Where each begins.
    starts: BTreeSet<(FileId, u32)>,
}

impl<'a> Amiss<'a> {
    pub fn of(library: &'a Library, findings: &'a Findings) -> Self {
        let mut amiss = Self { sources: &library.sources, findings: BTreeMap::new(), starts: BTreeSet::new() };
        for finding in findings.iter().filter(|finding| finding.rule.group == Group::Reading) {
            amiss.starts.insert((finding.at.file, finding.at.start));
            amiss.findings.entry((finding.procedure.as_ref(), finding.step.as_ref())).or_default().push(finding);
        }
        amiss
    }

    /// Whether anything is amiss inside a mapping.
    pub fn within(&self, mapping: Place) -> bool {
        mapping.start < mapping.end && self.starts.range((mapping.file, mapping.start)..(mapping.file, mapping.end)).next().is_some()
    }

    /// Whether anything is amiss in a step outside its answers and bands.
    pub fn in_step(&self, procedure: &Procedure, step: &Step) -> bool {
        let parts = parts(step);
        self.about(procedure, Some(step)).any(|finding| !parts.iter().any(|part| inside(finding.at, *part)))
    }

    /// Whether one of `keys` was mistyped there, or has a value that was refused: in a step, or in the procedure itself.
    pub fn at_keys(&self, procedure: &Procedure, step: Option<&Step>, keys: &[&str]) -> bool {
        self.about(procedure, step).any(|finding| {
            let mistyped = finding.rule.name == "unknown-key" && nearest(self.words(finding), keys.iter().copied()).is_some();
            mistyped || keys.contains(&self.key_before(finding))
        })
    }

    fn about<'s>(&'s self, procedure: &'s Procedure, step: Option<&'s Step>) -> impl Iterator<Item = &'s Finding> {
        self.findings.get(&(Some(&procedure.id), step.map(|step| &step.id))).into_iter().flatten().copied()
    }

    /// What stands at a finding's place.
    fn words(&self, finding: &Finding) -> &'a str {
        let range = finding.at.start as usize..finding.at.end as usize;
        self.text(finding).get(range).unwrap_or("")
    }

    /// The key whose value stands at a finding's place, or nothing.
    fn key_before(&self, finding: &Finding) -> &'a str {
        let before = self.text(finding).get(..finding.at.start as usize).unwrap_or("");
        let key = before.trim_end().strip_suffix(':').unwrap_or("").trim_end_matches([' ', '"', '\'']);
        key.rsplit(|c: char| c.is_whitespace() || matches!(c, '{' | ',' | '"' | '\'')).next().unwrap_or("")
    }

    fn text(&self, finding: &Finding) -> &'a str {
        self.sources.get(finding.at.file).map_or("", |source| source.text.as_str())
    }
}

fn inside(place: Place, mapping: Place) -> bool {
    place.file == mapping.file && mapping.start <= place.start && place.start < mapping.end
}

fn parts(step: &Step) -> Vec<Place> {
    match &step.kind {
        StepKind::Ask(question) => question.answers.iter().map(|answer| answer.at).collect(),
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => bands.iter().map(|band| band.at).collect(),
            Sorting::Match(_) | Sorting::Missing => Vec::new(),
        },
        StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => Vec::new(),
    }
}

/// The ids of a procedure's steps. (Looking each name up step by step takes too long where a procedure has thousands.)
pub fn step_ids(procedure: &Procedure) -> BTreeSet<&Id> {
    procedure.steps.iter().map(|step| &step.id).collect()
}

/// Looks for the name that was meant. A file in which everything is wrong gets its first twenty hints and no more, so that it is answered in time.
pub struct Hints {
    left: u32,
}

impl Hints {
    pub fn new() -> Self {
        Self { left: 20 }
    }

    /// The nearest known name as a question, else the advice.
    pub fn hint<'a>(&mut self, name: &Id, known: impl IntoIterator<Item = &'a Id>, advice: &str) -> String {
        if self.left == 0 {
            return advice.to_owned();
        }
        self.left -= 1;
        match nearest(name.as_str(), known.into_iter().map(Id::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => advice.to_owned(),
        }
    }
}

/// A text for a message: on one line, and cut so that the message stays short.
pub fn short(text: &str) -> String {
    const MOST: usize = 32;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() <= MOST { text } else { text.chars().take(MOST - 1).chain(['…']).collect() }
}
