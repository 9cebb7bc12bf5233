//! Where each condition of the catalogue is set, with the words that set it: what no analysis can judge, for a person to read.

use crate::emit::review::Review;
use crate::finding::WayKind;
use crate::flow::graph::ways;
use crate::model::catalogue::Condition;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;

/// A step, or a way on from it, that sets a condition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetBy<'a> {
    pub procedure: &'a Id,
    pub step: &'a Id,
    pub how: How,
    /// The way that sets it; `None` if the step itself does.
    pub way: Option<(WayKind, Option<String>)>,
    /// The sentence of the step.
    pub says: String,
    /// The words of its section, without the heading.
    pub words: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Named by `sets`.
    Sets,
    /// Time passes by `wait`, which counts towards every condition that takes time.
    Wait,
    /// Named by `wait-for`.
    WaitFor,
}

impl How {
    pub fn as_str(self) -> &'static str {
        match self {
            How::Sets => "sets",
            How::Wait => "wait",
            How::WaitFor => "wait-for",
        }
    }
}

/// Every place that sets the condition, by procedure and step in file order.
pub fn set_by<'a>(review: &Review<'a>, condition: &Condition) -> Vec<SetBy<'a>> {
    let steps = review.procedures.iter().flat_map(|procedure| procedure.steps.iter().map(move |step| (*procedure, step)));
    steps.flat_map(|(procedure, step)| of_step(procedure, step, condition)).collect()
}

fn of_step<'a>(procedure: &'a Procedure, step: &'a Step, condition: &Condition) -> Vec<SetBy<'a>> {
    let entry = |how, way| SetBy {
        procedure: &procedure.id,
        step: &step.id,
        how,
        way,
        says: step.text().map(|text| text.value.trim().to_owned()).unwrap_or_default(),
        words: section_words(procedure, step),
    };
    let mut found = Vec::new();
    if let StepKind::Do(action) = &step.kind {
        if action.effects.sets.iter().any(|id| id.value == condition.id) {
            found.push(entry(How::Sets, None));
        }
        if action.wait_for.as_ref().is_some_and(|id| id.value == condition.id) {
            found.push(entry(How::WaitFor, None));
        } else if action.wait.is_some() && condition.takes.is_some() {
            found.push(entry(How::Wait, None));
        }
    }
    for way in ways(step) {
        if way.effects.is_some_and(|effects| effects.sets.iter().any(|id| id.value == condition.id)) {
            found.push(entry(How::Sets, Some((way.kind, way.text.as_deref().map(str::to_owned)))));
        }
    }
    found
}

/// Procedures that begin only while the condition holds.
pub fn required_by<'a>(review: &Review<'a>, condition: &Condition) -> Vec<&'a Id> {
    let requiring = review.procedures.iter().filter(|procedure| procedure.requires.iter().any(|id| id.value == condition.id));
    requiring.map(|procedure| &procedure.id).collect()
}

fn section_words(procedure: &Procedure, step: &Step) -> String {
    let Some(section) = procedure.words_of(step) else { return String::new() };
    let blocks =
        section.blocks.iter().map(|block| block.value.trim()).filter(|block| !block.is_empty() && *block != section.heading.trim());
    blocks.collect::<Vec<_>>().join(" ")
}
