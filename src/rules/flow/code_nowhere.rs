//! `code-nowhere`: somebody is sent on by panel code in a library where no procedure lists one.

use crate::finding::{Findings, rule};
use crate::model::step::StepKind;
use crate::rules::Context;
use crate::rules::flow::scope::{judged, on_step, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    if judged(context.library).any(|procedure| !procedure.codes.is_empty()) {
        return;
    }
    for (procedure, step) in steps(context.library) {
        let StepKind::Do(action) = &step.kind else { continue };
        if let Some(to) = action.refer_to.as_ref().filter(|to| to.value == "by-code") {
            let message = "`by-code` leads nowhere: no procedure lists a code";
            let finding = on_step(&rule::CODE_NOWHERE, procedure, step, to.at, message).subject(to.as_str());
            findings.push(finding.help("list panel codes under `codes` of the procedures that they lead to"));
        }
    }
}
