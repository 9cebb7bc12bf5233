//! The group *flow*.

mod bands_not_ascending;
mod branch_without_action;
mod code_nowhere;
mod code_shared;
mod duplicate_answer;
mod formula_invalid;
mod leads;
mod leads_to_unreleased;
mod leads_to_withdrawn;
pub mod limit_idle;
mod model_uncovered;
mod models;
pub mod on_paths;
mod otherwise_missing;
pub mod outcome_unmapped;
mod person_unasked;
mod procedure_circle;
mod refers_in_a_circle;
mod refers_nowhere;
mod scope;
mod step_kind_unclear;
mod step_without_words;
mod too_few_answers;
mod too_many_answers;
mod unit_mismatch;
mod unknown_model;
mod unknown_outcome;
mod unknown_procedure;
mod unknown_step;
mod unsure_as_clear;
mod unsure_missing;
mod words_without_step;

use super::Check;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] = &[
    step_kind_unclear::check,
    unknown_step::check,
    branch_without_action::check,
    otherwise_missing::check,
    unsure_missing::check,
    unsure_as_clear::check,
    duplicate_answer::check,
    too_few_answers::check,
    too_many_answers::check,
    person_unasked::check,
    bands_not_ascending::check,
    unit_mismatch::check,
    formula_invalid::check,
    unknown_procedure::check,
    unknown_outcome::check,
    refers_nowhere::check,
    refers_in_a_circle::check,
    code_shared::check,
    code_nowhere::check,
    procedure_circle::check,
    leads_to_withdrawn::check,
    leads_to_unreleased::check,
    unknown_model::check,
    model_uncovered::check,
    step_without_words::check,
    words_without_step::check,
];
