//! `refers-in-a-circle`: whoever follows the references is only ever sent on.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Findings, rule};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::StepKind;
use crate::rules::Context;
use crate::rules::flow::leads::{LeadKind, leads};
use crate::rules::flow::scope::{judged, on_step, short};
use crate::text::id::Id;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let ends = come_to_an_end(context.library);
    for procedure in judged(context.library).filter(|procedure| !ends.contains(&procedure.id)) {
        let Some(lead) = leads(procedure).into_iter().find(|lead| lead.kind == LeadKind::RefersTo) else { continue };
        let Some(step) = lead.step else { continue };
        let message = format!("from `{}` on, every ending only refers further", short(lead.to.as_str()));
        let finding = on_step(&rule::REFERS_IN_A_CIRCLE, procedure, step, lead.to.at, message).subject(lead.to.as_str());
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
    let refers = |kind: &StepKind| matches!(kind, StepKind::Do(action) if action.refer_to.as_ref().is_some_and(|to| to.value == "by-code"));
    procedure.steps.iter().any(|step| refers(&step.kind))
}

fn ends_otherwise(procedure: &Procedure) -> bool {
    procedure.steps.iter().filter_map(|step| step.outcome()).any(|outcome| outcome.value != "referred")
}
