//! `caution-idle`: a caution is shown, and no way leads from there to its hazard while it counts.

use std::collections::BTreeSet;

use crate::finding::rule::{CAUTION_IDLE, CONDITION_NOT_MET};
use crate::finding::{Finding, Findings};
use crate::flow::idle::Wrong;
use crate::flow::proof::Programs;
use crate::rules::Context;
use crate::rules::wording::named;
use crate::text::id::Id;

/// Judges the procedures that are not broken, after all that is proved on their paths.
pub fn check(context: &Context<'_>, programs: &Programs<'_>, broken: &BTreeSet<Id>, findings: &mut Findings) {
    let not_met = findings.iter().filter(|finding| finding.rule.name == CONDITION_NOT_MET.name);
    let refused = not_met.filter_map(|finding| finding.procedure.clone().zip(finding.step.clone())).collect();
    for idle in programs.idle_cautions(&Wrong { broken, refused }) {
        let Some(procedure) = context.library.procedures.get(idle.procedure) else { continue };
        let (Some(step), Some(hazard)) = (procedure.steps.get(idle.node), context.library.catalogue.hazards.get(idle.hazard)) else {
            continue;
        };
        let message = format!("no way from here meets {} while this caution counts", named(hazard.id.as_str()));
        let finding = Finding::new(&CAUTION_IDLE, step.at, message).procedure(&procedure.id).step(&step.id);
        let help = "show it at the step that meets the hazard, or right before it; if none does, take it out of `cautions`";
        findings.push(finding.subject(hazard.id.as_str()).help(help));
    }
}
