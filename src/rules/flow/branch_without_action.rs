//! `branch-without-action`: a way that simply ends, or an action of which nobody can say whether it goes on.

use crate::finding::{Finding, Findings, WayKind, rule};
use crate::flow::graph::{Way, ways};
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, short, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(context.library, findings);
    for (procedure, step) in steps(context.library) {
        for way in ways(step).iter().filter(|way| way.then.is_none()) {
            // A part or an outcome is known by the place of its name alone: what was found there lies in the step.
            let named = matches!(way.kind, WayKind::Part | WayKind::Outcome) && amiss.in_step(procedure, step);
            if !named && !amiss.within(way.at) {
                found.push(dead_end(procedure, step, way));
            }
        }
        if let Some(message) = action(step)
            && !amiss.at_keys(procedure, Some(step), &["then", "outcome"])
        {
            let help = "write either `then`, the step it goes on with, or `outcome`, how the flow ends here";
            found.push(on_step(&rule::BRANCH_WITHOUT_ACTION, procedure, step, step.at, message).help(help));
        }
    }
    findings.extend(found);
}

fn dead_end(procedure: &Procedure, step: &Step, way: &Way<'_>) -> Finding {
    let what = match way.kind {
        WayKind::Answer => "answer",
        WayKind::Band => "band",
        WayKind::Outcome => "outcome",
        WayKind::Part | WayKind::Model | WayKind::Unsure | WayKind::Otherwise | WayKind::Next => "way",
    };
    let message = match &way.text {
        Some(text) => format!("the {what} `{}` leads nowhere", short(text)),
        None => format!("the {what} leads nowhere"),
    };
    let finding = on_step(&rule::BRANCH_WITHOUT_ACTION, procedure, step, way.at, message).help("write `then` and the step it leads to");
    match (way.kind, &way.text) {
        (WayKind::Answer | WayKind::Band, Some(text)) => finding.subject(text.as_ref()),
        _ => finding,
    }
}

fn action(step: &Step) -> Option<&'static str> {
    let StepKind::Do(action) = &step.kind else { return None };
    match (&action.then, &action.outcome) {
        (None, None) => Some("the action has neither `then` nor `outcome`"),
        (Some(_), Some(_)) => Some("the action has both `then` and `outcome`"),
        (Some(_), None) | (None, Some(_)) => None,
    }
}
