//! `approval-missing`: a released procedure that nobody approved.

use crate::finding::rule::APPROVAL_MISSING;
use crate::finding::{Finding, Findings};
use crate::rules::approval::{judged, misread_file};
use crate::rules::{Context, wording};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    // An entry that could not be read may be the one that is missed.
    if misread_file(context.library, findings, &["approvals.yaml"]) {
        return;
    }
    for procedure in judged(context).filter(|procedure| context.library.approval(&procedure.id).is_none()) {
        let message = format!("{} is released, and nobody approved it", wording::named(procedure.id.as_str()));
        let help = format!("have it reviewed, then `stepward approve {} --by ROLE`; until then it is `in-review`", procedure.id);
        findings.push(Finding::new(&APPROVAL_MISSING, procedure.at, message).procedure(&procedure.id).help(help));
    }
}
