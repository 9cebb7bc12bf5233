//! `step-without-words`: a step that needs care, or several readings, and says no more than its title.

use crate::finding::{Findings, rule};
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::scope::{on_step, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step) in steps(context.library) {
        let Some(key) = needs_words(step) else { continue };
        // `words-of` that names no step is `unknown-step`.
        let elsewhere = step.words_of.as_ref().is_some_and(|other| procedure.step(other).is_none());
        if procedure.words_of(step).is_none() && !elsewhere {
            let message = format!("the step has `{key}` and no section with its words");
            let help = format!("write a section `## … {{#{}}}` that says how it is done", step.id);
            findings.push(on_step(&rule::STEP_WITHOUT_WORDS, procedure, step, step.at, message).help(help));
        }
    }
}

/// The key that makes words necessary.
fn needs_words(step: &Step) -> Option<&'static str> {
    let reads = matches!(&step.kind, StepKind::Measure(measurement) if !measurement.readings.is_empty());
    let waits = matches!(&step.kind, StepKind::Do(action) if action.wait.is_some());
    let keys = [(!step.touches.is_empty(), "touches"), (!step.exposes.is_empty(), "exposes"), (reads, "readings"), (waits, "wait")];
    keys.into_iter().find(|(there, _)| *there).map(|(_, key)| key)
}
