//! What somebody sees at a step, in words: what it asks or says, and what stands beside that.

use std::collections::BTreeSet;

use crate::compare::behaviour::Flow;
use crate::compare::said::plain;
use crate::model::procedure::Procedure;
use crate::model::step::{Measurement, Step, StepKind};
use crate::text::id::Id;
use crate::text::quantity::duration_text;

pub fn unit(measurement: &Measurement) -> &'static str {
    measurement.unit.as_ref().map_or("", |unit| unit.value.as_str())
}

/// What a person is told at a step.
pub fn says(flow: Flow<'_>, step: &Step) -> String {
    let text = step.text().map(|text| plain(text)).unwrap_or_default();
    match &step.kind {
        StepKind::Ask(_) => format!("asks \"{text}\""),
        StepKind::Measure(_) => format!("has measured \"{text}\""),
        StepKind::Do(action) => match &action.outcome {
            Some(outcome) => format!("ends with {}: \"{text}\"", outcome.value.as_str().replace('-', " ")),
            None => format!("says \"{text}\""),
        },
        StepKind::CarryOut(carry_out) => {
            let title = flow.library.procedure(&carry_out.procedure).map_or(carry_out.procedure.as_str(), Procedure::title);
            format!("carries out \"{}\"", carry_out.name.as_ref().map_or_else(|| plain(title), |name| plain(name)))
        }
        StepKind::ByModel(_) | StepKind::Unclear(_) => format!("comes to `{}`", step.id),
    }
}

/// What tells two steps of the same words apart.
pub fn beside_words(flow: Flow<'_>, step: &Step, differing: &BTreeSet<Id>) -> String {
    let mut parts = Vec::new();
    if !step.cautions.is_empty() {
        parts.push(format!("with the cautions {}", step.cautions.iter().map(|it| it.value.to_string()).collect::<Vec<_>>().join(", ")));
    } else if !matches!(step.kind, StepKind::CarryOut(_)) {
        parts.push("with no caution".to_owned());
    }
    match &step.kind {
        StepKind::Do(action) => {
            parts.extend(action.wait.as_ref().map(|wait| format!("waiting {}", duration_text(wait.value))));
            parts.extend(action.wait_for.as_ref().map(|it| format!("waiting for `{}`", it.value)));
            parts.extend(action.refer_to.as_ref().map(|it| format!("referring to `{}`", it.value)));
        }
        StepKind::CarryOut(carry_out) => {
            let tells = if differing.contains(&carry_out.procedure.value) { format!(", as {} has it", flow.side) } else { String::new() };
            parts.push(format!("that is `{}`{tells}", carry_out.procedure.value));
        }
        StepKind::Measure(measurement) => {
            parts.push(format!("in {}", if unit(measurement).is_empty() { "no unit" } else { unit(measurement) }))
        }
        StepKind::Ask(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => {}
    }
    parts.extend(step.at_most.as_ref().map(|most| format!("at most {} times", most.value)));
    format!(", {}", parts.join(", "))
}
