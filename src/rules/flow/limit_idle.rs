//! `limit-idle` where the paths are not judged: a limit on a step that is in no loop needs no more than the ways between the steps.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Finding, Findings, Group, Rule, rule};
use crate::flow::graph::ways;
use crate::flow::loops::circles;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::text::id::Id;

/// Findings behind which a way may be hidden that closes a loop.
static HIDING: [&Rule; 6] = [
    &rule::STEP_KIND_UNCLEAR,
    &rule::UNKNOWN_STEP,
    &rule::BRANCH_WITHOUT_ACTION,
    &rule::UNSURE_MISSING,
    &rule::OTHERWISE_MISSING,
    &rule::OUTCOME_UNMAPPED,
];

/// The idle limits of a procedure whose paths are not judged, if all its ways are known. Every way counts, whatever the model.
pub fn of_unjudged(procedure: &Procedure, findings: &Findings) -> Findings {
    let mut found = Findings::default();
    let own = findings.iter().filter(|finding| finding.procedure.as_ref() == Some(&procedure.id));
    let hides = |finding: &Finding| HIDING.contains(&finding.rule) || (finding.rule.group == Group::Reading && finding.step.is_some());
    if procedure.is_withdrawn() || procedure.steps.iter().all(|step| step.at_most.is_none()) || own.into_iter().any(hides) {
        return found;
    }
    let index: BTreeMap<&Id, usize> = procedure.steps.iter().enumerate().map(|(at, step)| (&step.id, at)).collect();
    let targets = |step: &Step| ways(step).iter().filter_map(|way| index.get(&way.then?.value).copied()).collect();
    let edges: Vec<Vec<usize>> = procedure.steps.iter().map(targets).collect();
    let turning: BTreeSet<usize> = circles(&edges, &vec![true; edges.len()]).into_iter().flatten().collect();
    for (_, step) in procedure.steps.iter().enumerate().filter(|(at, step)| step.at_most.is_some() && !turning.contains(at)) {
        found.push(finding(procedure, step));
    }
    found
}

pub fn finding(procedure: &Procedure, step: &Step) -> Finding {
    let at = step.at_most.as_ref().map_or(step.at, |limit| limit.at);
    let message = format!("`{}` has `at-most` and is in no loop", step.id);
    let help = "take `at-most` and `otherwise` out, or lead a way back to the step";
    Finding::new(&rule::LIMIT_IDLE, at, message).procedure(&procedure.id).step(&step.id).help(help)
}
