//! `cautions-many`: more cautions at one step than anybody takes in.

use std::collections::BTreeSet;

use crate::finding::rule::CAUTIONS_MANY;
use crate::finding::{Finding, Findings};
use crate::model::procedure::Procedure;
use crate::rules::Context;

/// Common practice, no source.
const MOST: usize = 3;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in context.library.procedures.iter().filter(|procedure| !procedure.is_withdrawn()) {
        findings_of(procedure).into_iter().for_each(|finding| findings.push(finding));
    }
}

fn findings_of(procedure: &Procedure) -> Vec<Finding> {
    let many = |count: &usize| *count > MOST;
    let counted =
        procedure.steps.iter().map(|step| (step, step.cautions.iter().map(|hazard| &hazard.value).collect::<BTreeSet<_>>().len()));
    let over = counted.filter(|(_, count)| many(count)).map(|(step, count)| {
        let message = format!("{count} cautions are shown at this step, more than {MOST}");
        let finding = Finding::new(&CAUTIONS_MANY, step.at, message).procedure(&procedure.id).step(&step.id);
        finding.help("make two steps of it, each with the cautions for what it does")
    });
    over.collect()
}
