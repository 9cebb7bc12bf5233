//! `unknown-model`: a model that the equipment lacks.

use crate::finding::{Finding, Findings, rule};
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::scope::{Hints, short};
use crate::text::id::Id;
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let equipment = &context.library.equipment;
    if equipment.unreadable {
        return;
    }
    let mut hints = Hints::new();
    for procedure in &context.library.procedures {
        for (step, name) in named(procedure) {
            if equipment.model(name).is_some() {
                continue;
            }
            let message = format!("`{}` is no model of the equipment", short(name.as_str()));
            let known = equipment.models.iter().map(|model| &model.id);
            let mut finding = Finding::new(&rule::UNKNOWN_MODEL, name.at, message).procedure(&procedure.id).subject(name.as_str());
            finding.step = step.map(|step| step.id.clone());
            findings.push(finding.help(hints.hint(name, known, "declare it under `models` in `equipment.yaml`")));
        }
    }
}

/// The models a procedure names: for itself, and in its ways by model. The steps of a withdrawn procedure are not judged.
fn named(procedure: &Procedure) -> Vec<(Option<&Step>, &At<Id>)> {
    let own = procedure.equipment.iter().flatten().map(|name| (None, name));
    let steps: &[Step] = if procedure.status == Status::Withdrawn { &[] } else { &procedure.steps };
    let ways = steps.iter().flat_map(|step| {
        let ways = match &step.kind {
            StepKind::ByModel(by_model) => by_model.ways.as_slice(),
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::Unclear(_) => &[],
        };
        ways.iter().map(move |(model, _)| (Some(step), model))
    });
    own.chain(ways).collect()
}
