//! `approval-by-owner`: who owns a procedure approved it.

use crate::finding::rule::APPROVAL_BY_OWNER;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::approval::judged;
use crate::rules::wording::named;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in judged(context) {
        let (Some(owner), Some(approval)) = (&procedure.owner, context.library.approval(&procedure.id)) else { continue };
        if owner.value == approval.by.value {
            let finding = Finding::new(&APPROVAL_BY_OWNER, approval.by.at, message(owner)).procedure(&procedure.id);
            let help = format!("have it reviewed by another of the `roles`, then `stepward approve {} --by ROLE`", procedure.id);
            findings.push(finding.help(help).also(owner.at, "the owner"));
        }
    }
}

/// The fact in words, for whoever tries to.
pub fn message(owner: &str) -> String {
    format!("{} owns the procedure and cannot approve it", named(owner.trim()))
}
