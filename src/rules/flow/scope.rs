//! What this group judges, and what it leaves to the reader: one cause, one finding.

use crate::finding::{Finding, Findings, Group, Rule};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Measurement, Question, Sorting, Step, StepKind};
use crate::rules::Context;
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::Place;

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

/// The places where the reader found something amiss. A key that is missing because it was mistyped, or whose value was refused, is one finding,
/// the reader's.
pub struct Amiss<'a> {
    findings: Vec<&'a Finding>,
}

impl<'a> Amiss<'a> {
    pub fn of(findings: &'a Findings) -> Self {
        Self { findings: findings.iter().filter(|finding| finding.rule.group == Group::Reading).collect() }
    }

    /// Whether anything is amiss inside a mapping.
    pub fn within(&self, mapping: Place) -> bool {
        self.findings.iter().any(|finding| inside(finding.at, mapping))
    }

    /// Whether anything is amiss in a step outside its answers and bands.
    pub fn in_step(&self, procedure: &Procedure, step: &Step) -> bool {
        self.about_step(procedure, step, |_| true)
    }

    /// Whether a step has a key that the format does not know and that is near one of `keys`.
    pub fn mistyped(&self, procedure: &Procedure, step: &Step, keys: &[&str]) -> bool {
        self.about_step(procedure, step, |finding| {
            let key = finding.subject.as_deref().unwrap_or("");
            finding.rule.name == "unknown-key" && nearest(key, keys.iter().copied()).is_some()
        })
    }

    fn about_step(&self, procedure: &Procedure, step: &Step, wanted: impl Fn(&Finding) -> bool) -> bool {
        if self.findings.is_empty() {
            return false;
        }
        let whole = extent(procedure, step);
        let parts = parts(step);
        self.findings
            .iter()
            .any(|finding| wanted(finding) && inside(finding.at, whole) && !parts.iter().any(|part| inside(finding.at, *part)))
    }
}

fn inside(place: Place, mapping: Place) -> bool {
    place.file == mapping.file && mapping.start <= place.start && place.start < mapping.end
}

/// From a step's key to the next step, or to the words.
fn extent(procedure: &Procedure, step: &Step) -> Place {
    let starts = procedure.steps.iter().map(|other| other.at.start).filter(|start| *start > step.at.start);
    let end = starts.min().unwrap_or_else(|| procedure.body.start.max(step.at.end));
    Place { end, ..step.at }
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

/// The nearest known name as a question, else the advice.
pub fn hint<'a>(name: &Id, known: impl IntoIterator<Item = &'a Id>, advice: &str) -> String {
    match nearest(name.as_str(), known.into_iter().map(Id::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => advice.to_owned(),
    }
}

/// A text for a message: on one line, and cut so that the message stays short.
pub fn short(text: &str) -> String {
    const MOST: usize = 40;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() <= MOST { text } else { text.chars().take(MOST - 1).chain(['…']).collect() }
}
