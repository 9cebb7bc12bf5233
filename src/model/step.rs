//! A step of a procedure: one of five kinds, and the keys that any kind may have.

use rust_decimal::Decimal;

use crate::model::catalogue::Person;
use crate::model::procedure::Denial;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::Unit;

#[derive(Clone, Debug)]
pub struct Step {
    pub id: Id,
    /// Its key.
    pub at: Place,
    pub kind: StepKind,
    /// Working time in seconds; `None` counts as one minute where ages are counted.
    pub seconds: Option<At<u32>>,
    pub cost: Option<At<Decimal>>,
    pub cautions: Vec<At<Id>>,
    pub touches: Vec<At<Id>>,
    pub exposes: Vec<At<Id>>,
    pub not_touching: Vec<Denial>,
    pub not_changing: Vec<Denial>,
    pub requires: Vec<At<Id>>,
    pub least: Option<At<Person>>,
    pub stage: Option<At<Id>>,
    pub picture: Option<At<String>>,
    pub words_of: Option<At<Id>>,
    pub cures: Vec<At<Id>>,
    pub at_most: Option<At<u32>>,
    pub otherwise: Option<At<Id>>,
}

#[derive(Clone, Debug)]
pub enum StepKind {
    Ask(Question),
    Measure(Box<Measurement>),
    Do(Action),
    CarryOut(CarryOut),
    ByModel(ByModel),
    /// None, or more than one, of the five keys: a finding of its own. Holds the keys that were there.
    Unclear(Vec<At<String>>),
}

#[derive(Clone, Debug)]
pub struct Question {
    pub text: At<String>,
    pub answers: Vec<Answer>,
    pub unsure: Option<At<Id>>,
}

#[derive(Clone, Debug)]
pub struct Answer {
    /// The answer's mapping.
    pub at: Place,
    /// `None` if the key is missing or empty, which is a finding.
    pub text: Option<At<String>>,
    pub then: Option<At<Id>>,
    pub effects: Effects,
    pub person: Option<At<Person>>,
    pub when: When,
}

/// Conditions that a step or a way changes: cleared first, then set, each in the order written.
#[derive(Clone, Debug, Default)]
pub struct Effects {
    pub clears: Vec<At<Id>>,
    pub sets: Vec<At<Id>>,
}

/// Which faults give an answer.
#[derive(Clone, Debug, Default)]
pub enum When {
    #[default]
    Unsaid,
    /// Every declared fault that no other answer of the step names.
    Rest(Place),
    /// Faults (or the words `fixed` and `not-fixed`), each with its probability if one was written.
    Faults(Vec<(At<Id>, Option<At<Decimal>>)>),
}

impl When {
    /// Whether this way says that the cure was checked and holds: that word alone. Beside another word it would say nothing sure.
    pub fn says_fixed(&self) -> bool {
        let possible = |chance: &Option<At<Decimal>>| chance.as_ref().is_none_or(|chance| chance.value > Decimal::ZERO);
        matches!(self, When::Faults(faults) if matches!(faults.as_slice(), [(id, chance)] if id.value == "fixed" && possible(chance)))
    }
}

#[derive(Clone, Debug)]
pub struct Measurement {
    pub text: At<String>,
    /// `None` if missing or unknown, which is a finding. "No unit" is not written.
    pub unit: Option<At<Unit>>,
    pub from: Option<At<Decimal>>,
    pub to: Option<At<Decimal>>,
    pub sorting: Sorting,
    /// Several readings, computed into one by `formula`. Empty for a plain measurement.
    pub readings: Vec<Reading>,
    pub formula: Option<At<String>>,
    pub unsure: Option<At<Id>>,
}

/// How a measured value is sorted into ways.
#[derive(Clone, Debug)]
pub enum Sorting {
    Bands(Vec<Band>),
    Match(Box<Match>),
    /// Neither `bands` nor `match`, or both: a finding.
    Missing,
}

#[derive(Clone, Debug)]
pub struct Reading {
    pub id: Id,
    pub at: Place,
    pub ask: Option<At<String>>,
    pub unit: Option<At<Unit>>,
    pub from: Option<At<Decimal>>,
    pub to: Option<At<Decimal>>,
    pub whole: bool,
}

/// One band. Half-open and ascending: each begins where the one before it ends.
#[derive(Clone, Debug)]
pub struct Band {
    /// The band's mapping.
    pub at: Place,
    /// `None` on the last band.
    pub limit: Option<At<Limit>>,
    pub then: Option<At<Id>>,
    pub effects: Effects,
    pub when: When,
}

/// The upper edge of a band.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// `up-to`: the edge belongs to this band. `below`: it belongs to the next.
    pub inside: bool,
    pub value: LimitValue,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LimitValue {
    /// A number, with the unit it was written with, if any (any text; the rules compare it).
    Number(Decimal, Option<String>),
    /// A figure of the chosen model.
    Figure(Id),
}

/// A reading matched with a table of the chosen model.
#[derive(Clone, Debug)]
pub struct Match {
    pub at: Place,
    pub table: Option<At<Id>>,
    pub within: Option<At<Decimal>>,
    pub parts: Vec<NamedWay>,
    pub several: Option<NamedWay>,
    pub none: Option<NamedWay>,
}

/// A way on that goes by a name: a part, `several`, `none`, or an outcome.
#[derive(Clone, Debug)]
pub struct NamedWay {
    pub name: At<Id>,
    pub then: Option<At<Id>>,
    pub when: When,
}

#[derive(Clone, Debug)]
pub struct Action {
    pub text: At<String>,
    pub then: Option<At<Id>>,
    pub outcome: Option<At<Id>>,
    /// A procedure, or `by-code`.
    pub refer_to: Option<At<Id>>,
    /// Seconds.
    pub wait: Option<At<u32>>,
    pub wait_for: Option<At<Id>>,
    pub effects: Effects,
}

#[derive(Clone, Debug)]
pub struct CarryOut {
    pub procedure: At<Id>,
    pub name: Option<At<String>>,
    pub outcomes: Vec<NamedWay>,
}

#[derive(Clone, Debug)]
pub struct ByModel {
    /// Place of the mapping.
    pub at: Place,
    /// Model and step, in file order.
    pub ways: Vec<(At<Id>, At<Id>)>,
    pub others: Option<At<Id>>,
}

impl Step {
    /// The words that say what the step is: the text of `ask`, `measure` or `do`.
    pub fn text(&self) -> Option<&At<String>> {
        match &self.kind {
            StepKind::Ask(question) => Some(&question.text),
            StepKind::Measure(measurement) => Some(&measurement.text),
            StepKind::Do(action) => Some(&action.text),
            StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
        }
    }

    /// The outcome, if the step is an ending.
    pub fn outcome(&self) -> Option<&At<Id>> {
        match &self.kind {
            StepKind::Do(action) => action.outcome.as_ref(),
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
        }
    }
}
