//! `leads-to-unreleased`: a released procedure rests only on released ones.

use crate::finding::{Findings, rule};
use crate::model::procedure::Status;
use crate::rules::Context;
use crate::rules::flow::leads::leads;
use crate::rules::flow::scope::{on_step, short, unreadable};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in context.library.procedures.iter().filter(|procedure| procedure.status == Status::Released) {
        for lead in leads(procedure) {
            // `replaced-by` is no part of the flow.
            let (Some(step), Some(target)) = (lead.step, context.library.procedure(lead.to)) else { continue };
            // A withdrawn one is `leads-to-withdrawn`; of one that cannot be read the status is not known.
            if matches!(target.status, Status::Released | Status::Withdrawn) || unreadable(context, target) {
                continue;
            }
            let message = format!("it {} `{}`, which is not released", lead.kind.words(), short(lead.to.as_str()));
            let finding = on_step(&rule::LEADS_TO_UNRELEASED, procedure, step, lead.to.at, message).subject(lead.to.as_str());
            let help = format!("release `{}` first, or lead elsewhere until then", target.id);
            findings.push(finding.also(target.at, format!("its status is `{}`", target.status.as_str())).help(help));
        }
    }
}
