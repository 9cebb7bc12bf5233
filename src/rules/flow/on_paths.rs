//! `step-unreachable`, `no-way-out`, `loop-unbounded`, `limit-idle`: what the graph of a procedure shows on its paths.

use crate::finding::{Finding, Findings, rule};
use crate::flow::proof::Proof;
use crate::model::procedure::Procedure;
use crate::rules::flow::limit_idle;
use crate::rules::paths::at_step;

pub fn report(procedure: &Procedure, proof: &Proof, findings: &mut Findings) {
    let steps = |nodes: &[usize]| nodes.iter().filter_map(|node| procedure.steps.get(*node)).collect::<Vec<_>>();
    for step in steps(&proof.unreachable) {
        let message = format!("no way from the start leads to `{}`", step.id);
        let help = "lead an answer or a `then` to it, or take it out";
        findings.push(Finding::new(&rule::STEP_UNREACHABLE, step.at, message).procedure(&procedure.id).step(&step.id).help(help));
    }
    for seen in &proof.trapped {
        let message = "no ending can be reached from here".to_owned();
        let help = "lead one of its ways to an ending, or to a step that has one before it".to_owned();
        findings.push_some(at_step(&rule::NO_WAY_OUT, procedure, seen, message, help));
    }
    for seen in &proof.unbounded {
        let message = "the flow can go round here for ever".to_owned();
        let help = "give a step of the circle `at-most` and an `otherwise` that leads out of it".to_owned();
        findings.push_some(at_step(&rule::LOOP_UNBOUNDED, procedure, seen, message, help));
    }
    for step in steps(&proof.idle_limits) {
        findings.push(limit_idle::finding(procedure, step));
    }
}
