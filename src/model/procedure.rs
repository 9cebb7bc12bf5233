//! A procedure: its front matter, its steps and its words.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::model::body::Body;
use crate::model::catalogue::Person;
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;
use crate::text::place::{At, Place};

#[derive(Clone, Debug)]
pub struct Procedure {
    /// The file's name without `.md`.
    pub id: Id,
    /// The top of its file: where findings about the whole procedure point.
    pub at: Place,
    pub title: Option<At<String>>,
    pub summary: Option<At<String>>,
    pub symptoms: Vec<At<String>>,
    pub codes: Vec<At<String>>,
    pub stages: Vec<At<Id>>,
    pub tools: Vec<At<String>>,
    pub supplies: Vec<At<String>>,
    pub kind: Kind,
    /// `None`: every model.
    pub equipment: Option<Vec<At<Id>>>,
    /// Who is at the machine when it begins (the key `for`).
    pub person: Person,
    pub status: Status,
    pub revision: Option<At<u32>>,
    pub owner: Option<At<String>>,
    pub review_by: Option<At<Date>>,
    /// An id, or `nothing`.
    pub replaced_by: Option<At<Id>>,
    pub withdrawn_because: Option<At<String>>,
    pub requires: Vec<At<Id>>,
    /// Tasks only: the outcomes its endings may use, as written; see [`Procedure::outcome_names`].
    pub outcomes: Option<Vec<At<Id>>>,
    pub not_touching: Vec<Denial>,
    pub faults: Vec<Fault>,
    pub waivers: Vec<Waiver>,
    /// The key `start`, if written; see [`Procedure::start_step`].
    pub start: Option<At<Id>>,
    /// In file order. Of two steps with one id both are here, and the second is a finding.
    pub steps: Vec<Step>,
    pub body: Body,
}

/// Outcomes of fault finding.
pub const FAULT_OUTCOMES: [&str; 6] = ["fixed", "no-fault", "referred", "other-machine", "handed-over", "out-of-service"];

impl Procedure {
    pub fn step(&self, id: &Id) -> Option<&Step> {
        self.steps.iter().find(|step| step.id == *id)
    }

    /// The step it begins with: the one named by `start`, else the first.
    pub fn start_step(&self) -> Option<&Step> {
        match &self.start {
            Some(id) => self.step(id),
            None => self.steps.first(),
        }
    }

    /// The outcomes its endings may use.
    pub fn outcome_names(&self) -> Vec<Id> {
        match (self.kind, &self.outcomes) {
            (Kind::FaultFinding, _) => FAULT_OUTCOMES.map(Id::from).to_vec(),
            (Kind::Task, None) => vec![Id::from("done"), Id::from("not-done")],
            (Kind::Task, Some(names)) => names.iter().map(|name| name.value.clone()).collect(),
        }
    }

    /// The section that holds a step's words: its own, or the one `words-of` names.
    pub fn words_of(&self, step: &Step) -> Option<&crate::model::body::Section> {
        let id = step.words_of.as_ref().map_or(&step.id, |other| &other.value);
        self.body.sections.iter().find(|section| section.id.as_ref().is_some_and(|name| name.value == *id))
    }

    /// The procedures it carries out, in file order.
    pub fn callees(&self) -> impl Iterator<Item = &Id> {
        self.steps.iter().filter_map(|step| match &step.kind {
            StepKind::CarryOut(carry_out) => Some(&carry_out.procedure.value),
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
        })
    }

    /// The procedures that its endings refer to, in file order; `by-code` stands for the one of a code.
    pub fn referrals(&self) -> impl Iterator<Item = &Id> {
        self.steps.iter().filter_map(|step| match &step.kind {
            StepKind::Do(action) => action.refer_to.as_ref().map(|target| &target.value),
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
        })
    }

    pub fn is_withdrawn(&self) -> bool {
        self.status == Status::Withdrawn
    }

    pub fn title(&self) -> &str {
        self.title.as_ref().map_or(self.id.as_str(), |title| title.value.as_str())
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Kind {
    #[default]
    FaultFinding,
    /// A job that other procedures carry out.
    Task,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Status {
    #[default]
    Draft,
    InReview,
    Released,
    Withdrawn,
}

impl Status {
    pub const ALL: [Status; 4] = [Status::Draft, Status::InReview, Status::Released, Status::Withdrawn];

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|status| status.as_str() == word)
    }

    pub fn as_str(self) -> &'static str {
        match self {
            Status::Draft => "draft",
            Status::InReview => "in-review",
            Status::Released => "released",
            Status::Withdrawn => "withdrawn",
        }
    }
}

/// A fault the procedure can find. `weight` is relative, over 0.
#[derive(Clone, Debug)]
pub struct Fault {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    pub weight: Decimal,
    /// An outcome or an ending step, if no action cures it.
    pub comes_to: Option<At<Id>>,
}

/// "These words name it and the step does not touch (or change) it": with the reason that the review shows.
#[derive(Clone, Debug)]
pub struct Denial {
    /// A part (`not-touching`) or a condition (`not-changing`).
    pub of: At<Id>,
    pub reason: At<String>,
}

/// An exposure accepted for a while. Everything is needed; what is missing is a finding.
#[derive(Clone, Debug)]
pub struct Waiver {
    pub at: Place,
    pub step: Option<At<Id>>,
    pub hazard: Option<At<Id>>,
    pub of: Option<At<WaiverOf>>,
    pub reason: Option<At<String>>,
    pub by: Option<At<String>>,
    pub until: Option<At<Date>>,
}

/// Which demand of a hazard a waiver lifts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaiverOf {
    Requires,
    Least,
}

impl WaiverOf {
    pub fn as_str(self) -> &'static str {
        match self {
            WaiverOf::Requires => "requires",
            WaiverOf::Least => "least",
        }
    }
}
