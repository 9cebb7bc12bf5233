//! `otherwise-missing`: a limit on how often a step is carried out and the way on after that belong together.

use crate::finding::{Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(findings);
    for (procedure, step) in steps(context.library) {
        let (message, help) = match (&step.at_most, &step.otherwise) {
            (Some(_), None) => {
                ("the step has `at-most` and no `otherwise`", "write `otherwise`: the step to go to when it was tried often enough")
            }
            (None, Some(_)) => ("the step has `otherwise` and no `at-most`", "write `at-most`: how often it may be carried out, 1 to 99"),
            (Some(_), Some(_)) | (None, None) => continue,
        };
        if !amiss.in_step(procedure, step) {
            found.push(on_step(&rule::OTHERWISE_MISSING, procedure, step, step.at, message).help(help));
        }
    }
    findings.extend(found);
}
