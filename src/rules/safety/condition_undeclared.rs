//! `condition-undeclared`: words name a change of a condition, and the step changes nothing of it.

use std::collections::BTreeSet;

use crate::finding::rule::CONDITION_UNDECLARED;
use crate::finding::{Finding, Findings};
use crate::flow::graph;
use crate::model::catalogue::Catalogue;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Action, Step, StepKind};
use crate::rules::Context;
use crate::rules::known::{self, On};
use crate::rules::safety::own_words::{self, Naming};
use crate::rules::wording::named;
use crate::text::id::Id;
use crate::text::words::Phrases;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut changes = own_words::phrases(context.library);
    for condition in &context.library.catalogue.conditions {
        condition.words.iter().for_each(|words| changes.add(words, &condition.id));
    }
    for procedure in own_words::judged(context) {
        let found =
            known::of(context.remembered, |known| &known.conditions, procedure, On::Below, || of_procedure(context, &changes, procedure));
        findings.extend(found);
    }
}

fn of_procedure(context: &Context<'_>, changes: &Phrases<&Id>, procedure: &Procedure) -> Findings {
    let mut findings = Findings::default();
    for step in &procedure.steps {
        let named = own_words::find(changes, own_words::of_step(procedure, step));
        if named.is_empty() {
            continue;
        }
        let Some(declared) = declared(context, step) else { continue };
        let undeclared = named.into_iter().filter(|(condition, _)| !declared.contains(condition));
        undeclared.for_each(|(condition, naming)| findings.push(finding(procedure, step, condition, naming)));
    }
    findings
}

/// The conditions that a step changes or denies to change. `None` if a name among them is unknown, or what it carries out could not be read:
/// that is a finding already, and whatever would follow from it is not reported again.
fn declared<'a>(context: &Context<'a>, step: &'a Step) -> Option<BTreeSet<&'a Id>> {
    let denied = step.not_changing.iter().map(|denial| &denial.of.value);
    let mut all: BTreeSet<&Id> = denied.chain(changed(&context.library.catalogue, step)).collect();
    if let StepKind::CarryOut(carry_out) = &step.kind {
        all.extend(changed_by_procedure(context, &carry_out.procedure)?);
    }
    all.iter().all(|id| context.library.catalogue.condition(id).is_some()).then_some(all)
}

/// What the steps of a procedure change, and those of whatever it carries out.
fn changed_by_procedure<'a>(context: &Context<'a>, start: &'a Id) -> Option<BTreeSet<&'a Id>> {
    let mut all = BTreeSet::new();
    let mut seen = BTreeSet::new();
    let mut open = vec![start];
    while let Some(id) = open.pop() {
        if !seen.insert(id) {
            continue;
        }
        let procedure = context.library.procedure(id)?;
        if procedure.status == Status::Withdrawn || context.misread.contains(id) {
            return None;
        }
        for step in &procedure.steps {
            all.extend(changed(&context.library.catalogue, step));
            if let StepKind::CarryOut(carry_out) = &step.kind {
                open.push(&carry_out.procedure.value);
            }
        }
    }
    Some(all)
}

/// What a step changes itself: by its `sets`, `clears` and `wait-for`, by those of an answer or band, and by what a condition it sets `clears`.
fn changed<'a>(catalogue: &'a Catalogue, step: &'a Step) -> Vec<&'a Id> {
    let ways = graph::ways(step);
    let mut effects: Vec<_> = ways.iter().filter_map(|way| way.effects).collect();
    let mut all = Vec::new();
    if let StepKind::Do(Action { wait_for, effects: own, .. }) = &step.kind {
        effects.push(own);
        all.extend(wait_for.iter().map(|condition| &condition.value));
    }
    for effect in effects {
        let set = effect.sets.iter().filter_map(|set| catalogue.condition(set));
        all.extend(set.flat_map(|set| &set.clears).map(|cleared| &cleared.value));
        all.extend(effect.sets.iter().chain(&effect.clears).map(|condition| &condition.value));
    }
    all
}

fn finding(procedure: &Procedure, step: &Step, condition: &Id, naming: Naming<'_>) -> Finding {
    let message = format!("the words name a change of {}, and nothing of it changes", named(condition.as_str()));
    let denial = format!("`not-changing: {{ {condition}: REASON }}` if the words only name it");
    let help = match step.kind {
        StepKind::Do(_) => format!("write `sets: [{condition}]`, `clears: [{condition}]` or `wait-for: {condition}`, or {denial}"),
        StepKind::Ask(_) | StepKind::Measure(_) => format!("let an answer or band set or clear `{condition}`, or write {denial}"),
        StepKind::CarryOut(_) => format!("leave these words to the step that changes it, or write {denial}"),
        StepKind::ByModel(_) | StepKind::Unclear(_) => "leave these words to the step that changes it".to_owned(),
    };
    let finding = Finding::new(&CONDITION_UNDECLARED, step.at, message).procedure(&procedure.id).step(&step.id);
    finding.subject(condition.as_str()).help(help).also(naming.at, format!("named here by `{}`", naming.phrase))
}
