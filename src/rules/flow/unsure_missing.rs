//! `unsure-missing`: nobody may be forced to guess; "I cannot tell" has a way of its own.

use crate::finding::{Findings, rule};
use crate::model::step::StepKind;
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(findings);
    for (procedure, step) in steps(context.library) {
        let message = match &step.kind {
            StepKind::Ask(question) if question.unsure.is_none() => "the question has no `unsure`",
            StepKind::Measure(measurement) if measurement.unsure.is_none() => "the measurement has no `unsure`",
            StepKind::Ask(_)
            | StepKind::Measure(_)
            | StepKind::Do(_)
            | StepKind::CarryOut(_)
            | StepKind::ByModel(_)
            | StepKind::Unclear(_) => continue,
        };
        if !amiss.in_step(procedure, step) {
            let help = "write `unsure` and the step for somebody who cannot tell";
            found.push(on_step(&rule::UNSURE_MISSING, procedure, step, step.at, message).help(help));
        }
    }
    findings.extend(found);
}
