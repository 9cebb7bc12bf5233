//! The group *approval*: whether what stands in a released procedure, and in all it depends on, is what somebody approved.
//!
//! [`digest`] puts the meaning of a procedure ([`meaning`]) and of what it uses ([`used`]) into a digest; [`standing`] compares it with the approval
//! that counts. [`ledger`] writes approvals into the text of `approvals.yaml`.

pub mod digest;
pub mod ledger;
pub mod standing;

mod markdown;
mod meaning;
mod used;

mod approval_by_owner;
mod approval_missing;
mod approval_stale;
mod review_overdue;

pub use approval_by_owner::message as by_owner;

use crate::finding::{Findings, Group};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::rules::{Check, Context};

/// The rules of this group, in the order of the handbook.
pub static CHECKS: &[Check] = &[approval_missing::check, approval_stale::check, approval_by_owner::check, review_overdue::check];

/// The procedures that are judged: released, and read without a finding.
fn judged<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Procedure> {
    let misread = context.misread;
    let readable = move |procedure: &&Procedure| procedure.status == Status::Released && !misread.contains(&procedure.id);
    context.library.procedures.iter().filter(readable)
}

/// Whether reading found something in one of these files, so that nobody can tell what stands in them.
fn misread_file(library: &Library, findings: &Findings, names: &[&str]) -> bool {
    let inside = |path: &str| names.contains(&path);
    findings.iter().any(|finding| finding.rule.group == Group::Reading && inside(library.sources.path(finding.at.file)))
}
