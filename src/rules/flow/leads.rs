//! Where a procedure leads: what it carries out, refers to, or is replaced by.

use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeadKind {
    CarriesOut,
    RefersTo,
    ReplacedBy,
}

impl LeadKind {
    pub fn words(self) -> &'static str {
        match self {
            LeadKind::CarriesOut => "carries out",
            LeadKind::RefersTo => "refers to",
            LeadKind::ReplacedBy => "is replaced by",
        }
    }
}

/// One name of another procedure.
pub struct Lead<'a> {
    pub kind: LeadKind,
    /// `None` for `replaced-by`.
    pub step: Option<&'a Step>,
    pub to: &'a At<Id>,
}

/// All of them in file order, steps first; `by-code` and `nothing` name none. The steps of a withdrawn procedure lead nowhere.
pub fn leads(procedure: &Procedure) -> Vec<Lead<'_>> {
    let steps: &[Step] = if procedure.status == Status::Withdrawn { &[] } else { &procedure.steps };
    let from_steps = steps.iter().filter_map(|step| match &step.kind {
        StepKind::CarryOut(carry_out) => Some(Lead { kind: LeadKind::CarriesOut, step: Some(step), to: &carry_out.procedure }),
        StepKind::Do(action) => {
            let to = action.refer_to.as_ref().filter(|to| to.value != "by-code")?;
            Some(Lead { kind: LeadKind::RefersTo, step: Some(step), to })
        }
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    });
    let replaced = procedure.replaced_by.iter().filter(|to| to.value != "nothing");
    from_steps.chain(replaced.map(|to| Lead { kind: LeadKind::ReplacedBy, step: None, to })).collect()
}
