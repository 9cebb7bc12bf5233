//! `unknown-step`: a name that should be a step of the procedure is none.

use crate::finding::{Finding, Findings, rule};
use crate::flow::graph::ways;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::rules::Context;
use crate::rules::flow::scope::{Hints, judged, short, step_ids, unreadable};
use crate::text::id::Id;
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut hints = Hints::new();
    for procedure in judged(context.library).filter(|procedure| !unreadable(context, procedure)) {
        let known = step_ids(procedure);
        for (step, target) in targets(procedure) {
            if !known.contains(&target.value) {
                findings.push(finding(procedure, step, target, &mut hints));
            }
        }
    }
}

/// Every place that names a step, with the step it belongs to.
fn targets(procedure: &Procedure) -> Vec<(Option<&Step>, &At<Id>)> {
    let start = procedure.start.iter().map(|start| (None, start));
    let waived = procedure.waivers.iter().filter_map(|waiver| waiver.step.as_ref()).map(|target| (None, target));
    let steps = procedure.steps.iter().flat_map(|step| {
        let on = ways(step).into_iter().filter_map(|way| way.then);
        on.chain(&step.words_of).map(move |target| (Some(step), target))
    });
    start.chain(waived).chain(steps).collect()
}

fn finding(procedure: &Procedure, step: Option<&Step>, target: &At<Id>, hints: &mut Hints) -> Finding {
    let message = format!("`{}` names no step of this procedure", short(target.as_str()));
    let known = procedure.steps.iter().map(|step| &step.id);
    let advice = "write the step under `steps`, or name one that is there";
    let finding = Finding::new(&rule::UNKNOWN_STEP, target.at, message)
        .procedure(&procedure.id)
        .subject(target.as_str())
        .help(hints.hint(target, known, advice));
    match step {
        Some(step) => finding.step(&step.id),
        None => finding,
    }
}
