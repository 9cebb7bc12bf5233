//! `leads-to-withdrawn`: nobody is sent to a procedure that must no longer be followed.

use crate::finding::{Finding, Findings, rule};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::rules::Context;
use crate::rules::flow::leads::leads;
use crate::rules::flow::scope::short;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in &context.library.procedures {
        for lead in leads(procedure) {
            let Some(target) = context.library.procedure(lead.to).filter(|target| target.status == Status::Withdrawn) else { continue };
            let message = format!("it {} `{}`, which is withdrawn", lead.kind.words(), short(lead.to.as_str()));
            let help = match successor(context.library, target) {
                Some(successor) => format!("lead to `{}`, which replaces it", successor.id),
                None => "nothing replaces it: lead elsewhere".to_owned(),
            };
            let mut finding = Finding::new(&rule::LEADS_TO_WITHDRAWN, lead.to.at, message).procedure(&procedure.id);
            finding.step = lead.step.map(|step| step.id.clone());
            findings.push(finding.subject(lead.to.as_str()).also(target.at, "withdrawn here").help(help));
        }
    }
}

/// What replaces a withdrawn procedure and is not withdrawn itself. Replacements that go round end nowhere.
fn successor<'a>(library: &'a Library, withdrawn: &'a Procedure) -> Option<&'a Procedure> {
    let mut here = withdrawn;
    for _ in 0..library.procedures.len() {
        here = library.procedure(here.replaced_by.as_ref()?)?;
        if here.status != Status::Withdrawn {
            return Some(here);
        }
    }
    None
}
