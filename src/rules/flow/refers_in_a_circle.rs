//! `refers-in-a-circle`: whoever follows the references is only ever sent on.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Findings, rule};
use crate::flow::graph::ways;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::leads::{LeadKind, leads};
use crate::rules::flow::scope::{judged, on_step, short};
use crate::text::id::Id;
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let ends = come_to_an_end(context.library);
    for procedure in judged(context.library).filter(|procedure| !ends.contains(&procedure.id)) {
        let Some((step, to)) = procedure.steps.iter().find_map(|step| Some((step, refers_to(step)?))) else { continue };
        let message = format!("from `{}` on, every ending only refers further", short(to.as_str()));
        let finding = on_step(&rule::REFERS_IN_A_CIRCLE, procedure, step, to.at, message).subject(to.as_str());
        findings.push(finding.help("give one of the procedures an ending other than `referred`, such as `handed-over`"));
    }
}

/// The procedures from which an ending other than `referred` can be reached along references. What is reported elsewhere (a name of no
/// procedure, a withdrawn or broken one, no ending at all) counts as one.
fn come_to_an_end(library: &Library) -> BTreeSet<Id> {
    let coded = || judged(library).filter(|procedure| !procedure.codes.is_empty());
    let mut referrers: BTreeMap<&Id, Vec<&Id>> = BTreeMap::new();
    let mut open: Vec<&Id> = Vec::new();
    for procedure in &library.procedures {
        let mut targets: Vec<&Id> =
            leads(procedure).iter().filter(|lead| lead.kind == LeadKind::RefersTo).map(|lead| &lead.to.value).collect();
        if by_code(procedure) {
            targets.extend(coded().map(|other| &other.id));
        }
        if targets.is_empty() || ends_otherwise(procedure) || targets.iter().any(|target| library.procedure(target).is_none()) {
            open.push(&procedure.id);
        }
        for target in targets {
            referrers.entry(target).or_default().push(&procedure.id);
        }
    }
    let mut found: BTreeSet<Id> = BTreeSet::new();
    while let Some(id) = open.pop() {
        if found.insert(id.clone()) {
            open.extend(referrers.get(id).into_iter().flatten());
        }
    }
    found
}

fn by_code(procedure: &Procedure) -> bool {
    procedure.referrals().any(|to| *to == "by-code")
}

fn refers_to(step: &Step) -> Option<&At<Id>> {
    match &step.kind {
        StepKind::Do(action) => action.refer_to.as_ref(),
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    }
}

/// Whether a step can be reached, or may be by a way that is not known, that ends in another way.
fn ends_otherwise(procedure: &Procedure) -> bool {
    let start = procedure.start.as_ref().map(|start| &start.value).or_else(|| procedure.steps.first().map(|step| &step.id));
    let steps: BTreeMap<&Id, &Step> = procedure.steps.iter().map(|step| (&step.id, step)).collect();
    let mut seen: BTreeSet<&Id> = BTreeSet::new();
    let mut open: Vec<&Id> = start.into_iter().collect();
    while let Some(id) = open.pop() {
        let Some(step) = steps.get(id) else { return true };
        if !seen.insert(id) {
            continue;
        }
        if let Some(outcome) = step.outcome() {
            if outcome.value != "referred" {
                return true;
            }
            continue;
        }
        let ways = ways(step);
        let unsaid = match &step.kind {
            StepKind::Ask(question) => question.unsure.is_none(),
            StepKind::Measure(measurement) => measurement.unsure.is_none(),
            StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => false,
        };
        if unsaid || ways.is_empty() || ways.iter().any(|way| way.then.is_none()) {
            return true;
        }
        open.extend(ways.iter().filter_map(|way| Some(&way.then?.value)));
    }
    false
}
