//! `step-kind-unclear`: a step is none of the five kinds, or more than one.

use crate::finding::{Findings, rule};
use crate::model::step::StepKind;
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, steps};

const KINDS: [&str; 5] = ["ask", "measure", "do", "carry-out", "by-model"];

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(findings);
    for (procedure, step) in steps(context.library) {
        let StepKind::Unclear(keys) = &step.kind else { continue };
        if keys.is_empty() && amiss.mistyped(procedure, step, &KINDS) {
            continue;
        }
        let finding = if keys.is_empty() {
            let message = "the step says none of `ask`, `measure`, `do`, `carry-out`, `by-model`";
            on_step(&rule::STEP_KIND_UNCLEAR, procedure, step, step.at, message)
                .help("write what it is: each step has exactly one of these keys")
        } else {
            let names: Vec<String> = keys.iter().map(|key| format!("`{}`", key.value)).collect();
            let message = format!("the step is more than one thing: {}", names.join(", "));
            on_step(&rule::STEP_KIND_UNCLEAR, procedure, step, step.at, message)
                .help("keep one of them and give the others steps of their own")
        };
        found.push(keys.iter().fold(finding, |finding, key| finding.also(key.at, format!("`{}` is here", key.value))));
    }
    findings.extend(found);
}
