//! `unknown-step`: a name that should be a step of the procedure is none.

use crate::finding::{Finding, Findings, rule};
use crate::flow::graph::ways;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::rules::Context;
use crate::rules::flow::scope::{hint, judged, short, unreadable};
use crate::text::id::Id;
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in judged(context.library).filter(|procedure| !unreadable(context, procedure)) {
        for (step, target) in targets(procedure) {
            if procedure.step(&target.value).is_none() {
                findings.push(finding(procedure, step, target));
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

fn finding(procedure: &Procedure, step: Option<&Step>, target: &At<Id>) -> Finding {
    let message = format!("`{}` names no step of this procedure", short(target.as_str()));
    let known = procedure.steps.iter().map(|step| &step.id);
    let advice = "write the step under `steps`, or name one that is there";
    let finding = Finding::new(&rule::UNKNOWN_STEP, target.at, message)
        .procedure(&procedure.id)
        .subject(target.as_str())
        .help(hint(target, known, advice));
    match step {
        Some(step) => finding.step(&step.id),
        None => finding,
    }
}
