//! `approval-stale`: a released procedure, or something it depends on, is not as it was approved.

use std::collections::BTreeSet;

use crate::finding::rule::APPROVAL_STALE;
use crate::finding::{Finding, Findings};
use crate::model::library::{Approval, Library};
use crate::model::procedure::Procedure;
use crate::rules::Context;
use crate::rules::approval::digest::{Digests, said};
use crate::rules::approval::standing::{Standing, standing};
use crate::rules::approval::{judged, misread_file};
use crate::rules::wording::listed;
use crate::text::id::Id;

/// Files of the library that digests are made of, beside those of procedures, and the one that they are compared with.
const SHARED: [&str; 5] = ["library.yaml", "safety.yaml", "equipment.yaml", "stop.md", "approvals.yaml"];
/// The most dependencies that a help names.
const MOST: usize = 12;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let library = context.library;
    // What could not be read would seem to have changed.
    if misread_file(library, findings, &SHARED) {
        return;
    }
    let approved = judged(context).filter(|procedure| library.approval(&procedure.id).is_some());
    let procedures: Vec<&Procedure> = approved.filter(|procedure| !rests_on_misread(context, procedure)).collect();
    let digests = Digests::with(library, context.remembered, procedures.iter().map(|procedure| &procedure.id));
    for procedure in procedures {
        if let Standing::Stale { approval, changed } = standing(library, &digests, procedure) {
            findings.push(finding(procedure, approval, &changed));
        }
    }
}

/// Whether it carries out, at any depth, a procedure that could not be read.
fn rests_on_misread(context: &Context<'_>, procedure: &Procedure) -> bool {
    let library: &Library = context.library;
    let mut seen: BTreeSet<&Id> = BTreeSet::new();
    let mut open: Vec<&Id> = procedure.callees().collect();
    while let Some(id) = open.pop() {
        if context.misread.contains(id) {
            return true;
        }
        if seen.insert(id) {
            open.extend(library.procedure(id).into_iter().flat_map(Procedure::callees));
        }
    }
    false
}

fn finding(procedure: &Procedure, approval: &Approval, changed: &[String]) -> Finding {
    let again = format!("review what changed, then `stepward approve {} --by ROLE`", procedure.id);
    let all: Vec<String> = changed.iter().map(|name| said(name)).collect();
    let help = match all.as_slice() {
        [] | [_] => again,
        some if some.len() > MOST => format!("{again}; changed are {} and {} more", some[..MOST].join(", "), some.len() - MOST),
        some => format!("{again}; changed are {}", listed(some)),
    };
    let message = match (all.as_slice(), procedure.revision.as_ref().map(|revision| revision.value)) {
        (_, Some(revision)) if revision != approval.revision.value => {
            format!("revision {revision} is not approved; the last one that was is {}", approval.revision.value)
        }
        ([], _) => "this is not what was approved".to_owned(),
        ([only], _) => format!("{only} changed since it was approved"),
        ([first, more @ ..], _) => format!("{first} and {} more changed since it was approved", more.len()),
    };
    Finding::new(&APPROVAL_STALE, procedure.at, message).procedure(&procedure.id).help(help).also(approval.at, "approved here")
}
