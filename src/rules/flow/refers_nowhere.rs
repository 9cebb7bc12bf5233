//! `refers-nowhere`: the outcome `referred` and the procedure it refers to belong together.

use crate::finding::{Findings, rule};
use crate::model::step::StepKind;
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(findings);
    for (procedure, step) in steps(context.library) {
        let StepKind::Do(action) = &step.kind else { continue };
        // An outcome that nobody knows is `unknown-outcome`.
        if action.outcome.as_ref().is_some_and(|outcome| !procedure.outcome_names().contains(&outcome.value)) {
            continue;
        }
        let referred = action.outcome.as_ref().is_some_and(|outcome| outcome.value == "referred");
        let finding = match &action.refer_to {
            None if referred => on_step(&rule::REFERS_NOWHERE, procedure, step, step.at, "the outcome `referred` comes without `refer-to`")
                .help("write `refer-to` and a procedure, or `by-code`"),
            Some(to) if !referred => {
                on_step(&rule::REFERS_NOWHERE, procedure, step, to.at, "`refer-to` comes without the outcome `referred`")
                    .subject(to.as_str())
                    .help("write `outcome: referred`, or leave `refer-to` out")
            }
            None | Some(_) => continue,
        };
        if !amiss.in_step(procedure, step) {
            found.push(finding);
        }
    }
    findings.extend(found);
}
