//! `step-without-words`: a step that needs care, or several readings, and says no more than its title.

use std::collections::BTreeSet;

use crate::finding::{Findings, rule};
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::scope::{judged, on_step, step_ids};
use crate::text::id::Id;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in judged(context.library) {
        let steps = step_ids(procedure);
        let sections: BTreeSet<&Id> = procedure.body.sections.iter().filter_map(|section| Some(&section.id.as_ref()?.value)).collect();
        for step in &procedure.steps {
            let Some(key) = needs_words(step) else { continue };
            let words = step.words_of.as_ref().map_or(&step.id, |other| &other.value);
            // `words-of` that names no step is `unknown-step`.
            if sections.contains(words) || !steps.contains(words) {
                continue;
            }
            let message = format!("the step has `{key}` and no section with its words");
            let help = format!("write a section `## … {{#{words}}}` that says how it is done");
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
