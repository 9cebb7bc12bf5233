//! Who may approve what. An approval says: somebody who does not own it reviewed this, and nothing that a program can find is wrong with it.

use crate::analyse::Verdict;
use crate::finding::{Finding, Group, Severity};
use crate::model::procedure::Procedure;
use crate::rules::approval::digest::Digests;
use crate::rules::approval::ledger;
use crate::rules::approval::standing::{Standing, standing};
use crate::text::id::Id;

/// Why a procedure is not approved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It, or the library itself, has errors.
    Errors(usize),
    /// What it carries out is broken, so that its ways were not judged.
    NotAnalysed,
    Withdrawn,
    /// The keys that an approved procedure has and this one lacks.
    Lacks(Vec<&'static str>),
    ByOwner,
    /// It carries out this one, which is not approved as it is.
    Callee(Id),
}

/// The errors that keep a procedure from being approved: its own and the library's. Findings against the approvals of those that are asked for do
/// not count, since these are about to be replaced.
pub fn errors<'v>(verdict: &'v Verdict, id: &Id, asked: &[&Procedure]) -> Vec<&'v Finding> {
    let library = &verdict.library;
    let replaced = |finding: &Finding| {
        let old = asked.iter().filter_map(|procedure| library.approval(&procedure.id));
        let inside = |at: crate::text::place::Place| finding.at.file == at.file && (at.start..=at.end).contains(&finding.at.start);
        library.sources.path(finding.at.file) == ledger::NAME && old.map(|approval| approval.at).any(inside)
    };
    let counts = |finding: &&Finding| match &finding.procedure {
        Some(procedure) => procedure == id && finding.rule.group != Group::Approval,
        None => !replaced(finding),
    };
    verdict.findings.iter().filter(|finding| finding.severity == Severity::Error).filter(counts).collect()
}

/// Why `procedure` may not be approved by this role together with the others that are `asked` for; `None` if it may.
pub fn refusal(verdict: &Verdict, digests: &Digests<'_>, procedure: &Procedure, asked: &[&Procedure], by: &str) -> Option<Refusal> {
    let errors = errors(verdict, &procedure.id, asked).len();
    let lacks = lacking(procedure);
    if errors > 0 {
        return Some(Refusal::Errors(errors));
    }
    if procedure.is_withdrawn() {
        return Some(Refusal::Withdrawn);
    }
    if verdict.not_analysed.contains(&procedure.id) {
        return Some(Refusal::NotAnalysed);
    }
    if !lacks.is_empty() {
        return Some(Refusal::Lacks(lacks));
    }
    if owns(procedure, by) {
        return Some(Refusal::ByOwner);
    }
    let approved = |id: &Id| asked.iter().any(|one| one.id == *id) || is_approved(verdict, digests, id);
    procedure.callees().find(|id| !approved(id)).cloned().map(Refusal::Callee)
}

fn lacking(procedure: &Procedure) -> Vec<&'static str> {
    let keys =
        [("revision", procedure.revision.is_none()), ("owner", procedure.owner.is_none()), ("review-by", procedure.review_by.is_none())];
    keys.into_iter().filter(|(_, lacks)| *lacks).map(|(key, _)| key).collect()
}

fn owns(procedure: &Procedure, by: &str) -> bool {
    procedure.owner.as_ref().is_some_and(|owner| owner.value == by)
}

fn is_approved(verdict: &Verdict, digests: &Digests<'_>, id: &Id) -> bool {
    let Some(procedure) = verdict.library.procedure(id) else { return false };
    match standing(&verdict.library, digests, procedure) {
        Standing::Approved(approval) => !owns(procedure, &approval.by),
        Standing::Stale { .. } | Standing::Missing => false,
    }
}
