//! `procedure-circle`: procedures that carry each other out would never be done.

use std::collections::BTreeMap;

use crate::finding::{Findings, rule};
use crate::flow::loops::circles;
use crate::model::procedure::Procedure;
use crate::rules::Context;
use crate::rules::flow::leads::{Lead, LeadKind, leads};
use crate::rules::flow::scope::{on_step, short};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let procedures = &context.library.procedures;
    let index: BTreeMap<_, _> = procedures.iter().enumerate().map(|(index, procedure)| (&procedure.id, index)).collect();
    let callee = |lead: &Lead<'_>| index.get(&lead.to.value).copied();
    let edges: Vec<Vec<usize>> = procedures.iter().map(|procedure| carried_out(procedure).iter().filter_map(callee).collect()).collect();
    for circle in circles(&edges, &vec![true; edges.len()]) {
        // Procedures are by id, so the first number is the first by id.
        let Some(procedure) = circle.first().and_then(|first| procedures.get(*first)) else { continue };
        let inside = |lead: &Lead<'_>| callee(lead).is_some_and(|there| circle.contains(&there));
        let Some(lead) = carried_out(procedure).into_iter().find(inside) else { continue };
        let Some(step) = lead.step else { continue };
        let message = format!("carrying out `{}` leads back to this procedure", short(lead.to.as_str()));
        let finding = on_step(&rule::PROCEDURE_CIRCLE, procedure, step, lead.to.at, message).subject(lead.to.as_str());
        findings.push(finding.help("write the shared steps as a task of their own that carries out neither"));
    }
}

fn carried_out(procedure: &Procedure) -> Vec<Lead<'_>> {
    leads(procedure).into_iter().filter(|lead| lead.kind == LeadKind::CarriesOut).collect()
}
