//! `waiver-expired`: the last day of a waiver has passed.

use crate::finding::rule::WAIVER_EXPIRED;
use crate::finding::{Finding, Findings};
use crate::model::procedure::Status;
use crate::rules::Context;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in context.library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn) {
        for waiver in &procedure.waivers {
            if let Some(until) = waiver.until.as_ref().filter(|until| until.value < context.today) {
                let message = format!("the waiver ended with {}, and today is {}", **until, context.today);
                let mut finding = Finding::new(&WAIVER_EXPIRED, until.at, message).procedure(&procedure.id);
                finding.step = waiver.step.as_ref().map(|step| step.value.clone());
                finding.subject = waiver.hazard.as_ref().map(|hazard| hazard.to_string());
                findings.push(finding.help("bring the hazard in check, or have the waiver judged and signed anew"));
            }
        }
    }
}
