//! `unknown-procedure`: a procedure leads to one that is not there.

use crate::finding::{Finding, Findings, rule};
use crate::rules::Context;
use crate::rules::flow::leads::leads;
use crate::rules::flow::scope::{Hints, short};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let library = context.library;
    let mut hints = Hints::new();
    for procedure in &library.procedures {
        for lead in leads(procedure) {
            // A file that cannot be read is there all the same.
            if library.procedure(lead.to).is_some() || context.misread.contains(&lead.to.value) {
                continue;
            }
            let message = format!("`{}` names no procedure", short(lead.to.as_str()));
            let known = library.procedures.iter().map(|other| &other.id);
            let advice = "a procedure goes by the name of its file without `.md`";
            let mut finding = Finding::new(&rule::UNKNOWN_PROCEDURE, lead.to.at, message).procedure(&procedure.id);
            finding.step = lead.step.map(|step| step.id.clone());
            findings.push(finding.subject(lead.to.as_str()).help(hints.hint(lead.to, known, advice)));
        }
    }
}
