//! `unknown-outcome`: an ending, or what a fault comes to, that the kind of procedure does not have.

use crate::finding::{Finding, Findings, rule};
use crate::model::procedure::Procedure;
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, Hints, judged, on_step, short, unreadable};
use crate::text::id::Id;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(context.library, findings);
    let mut hints = Hints::new();
    for procedure in judged(context.library) {
        let names = procedure.outcome_names();
        // Without its kind or its own outcomes nobody knows which it has.
        if names.is_empty() || amiss.at_keys(procedure, None, &["kind", "outcomes"]) {
            continue;
        }
        for (step, outcome) in procedure.steps.iter().filter_map(|step| Some((step, step.outcome()?))) {
            if !names.contains(&outcome.value) {
                let message = format!("`{}` is no outcome of this kind of procedure", short(outcome.as_str()));
                let finding = on_step(&rule::UNKNOWN_OUTCOME, procedure, step, outcome.at, message);
                found.push(finding.subject(outcome.as_str()).help(hints.hint(outcome, &names, &advice(&names))));
            }
        }
        if !unreadable(context, procedure) {
            check_faults(procedure, &names, &mut hints, &mut found);
        }
    }
    findings.extend(found);
}

/// `comes-to` is an outcome or an ending step.
fn check_faults(procedure: &Procedure, names: &[Id], hints: &mut Hints, found: &mut Findings) {
    for target in procedure.faults.iter().filter_map(|fault| fault.comes_to.as_ref()) {
        let ending = procedure.step(target).is_some_and(|step| step.outcome().is_some());
        if ending || names.contains(&target.value) {
            continue;
        }
        let endings = procedure.steps.iter().filter(|step| step.outcome().is_some()).map(|step| &step.id);
        let message = format!("`{}` is neither an outcome nor an ending step", short(target.as_str()));
        let finding = Finding::new(&rule::UNKNOWN_OUTCOME, target.at, message).procedure(&procedure.id).subject(target.as_str());
        found.push(finding.help(hints.hint(target, names.iter().chain(endings), &advice(names))));
    }
}

fn advice(names: &[Id]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!("its outcomes are {}", names.join(", "))
}
