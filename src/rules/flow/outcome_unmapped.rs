//! `outcome-unmapped` and `outcome-impossible`: the outcomes a `carry-out` maps against those the other procedure can end with.

use std::collections::BTreeSet;

use crate::finding::{Finding, Findings, rule};
use crate::flow::proof::Programs;
use crate::model::procedure::{Kind, Procedure};
use crate::model::step::{CarryOut, Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::scope::Amiss;
use crate::text::id::Id;

/// `doubtful`: procedures in which something is broken; what they cannot end with is then not known.
pub fn check(context: &Context<'_>, programs: &Programs<'_>, doubtful: &BTreeSet<Id>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(context.library, findings);
    for procedure in context.library.procedures.iter().filter(|procedure| !procedure.is_withdrawn()) {
        for step in &procedure.steps {
            let StepKind::CarryOut(carry_out) = &step.kind else { continue };
            let Some(callee) = context.library.procedure(&carry_out.procedure.value) else { continue };
            if callee.kind != Kind::Task || callee.is_withdrawn() {
                continue;
            }
            let possible = programs.outcomes(callee);
            // Outcomes that the reader refused are not missing.
            if !amiss.at_keys(procedure, Some(step), &["outcomes"]) {
                unmapped(procedure, step, carry_out, &possible, &mut found);
            }
            if !doubtful.contains(&callee.id) {
                impossible(procedure, step, carry_out, &possible, &mut found);
            }
        }
    }
    findings.extend(found);
}

fn unmapped(procedure: &Procedure, step: &Step, carry_out: &CarryOut, possible: &BTreeSet<Id>, findings: &mut Findings) {
    for outcome in possible.iter().filter(|outcome| !carry_out.outcomes.iter().any(|way| way.name.value == **outcome)) {
        let message = format!("`{}` can end with `{outcome}`, and no way is given for it", carry_out.procedure.value);
        let finding = Finding::new(&rule::OUTCOME_UNMAPPED, step.at, message).procedure(&procedure.id).step(&step.id);
        findings.push(finding.subject(outcome.as_str()).help(format!("add `{outcome}:` and a step to `outcomes`")));
    }
}

fn impossible(procedure: &Procedure, step: &Step, carry_out: &CarryOut, possible: &BTreeSet<Id>, findings: &mut Findings) {
    for way in carry_out.outcomes.iter().filter(|way| !possible.contains(&way.name.value)) {
        let message = format!("`{}` cannot end with `{}`", carry_out.procedure.value, way.name.value);
        let finding = Finding::new(&rule::OUTCOME_IMPOSSIBLE, way.name.at, message).procedure(&procedure.id).step(&step.id);
        findings.push(finding.subject(way.name.value.as_str()).help("take it out of `outcomes`; nothing ever goes this way"));
    }
}
