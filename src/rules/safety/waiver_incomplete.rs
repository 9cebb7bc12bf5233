//! `waiver-incomplete`: a waiver lacks something, reaches too far, or waives what is not there.

use jiff::{Span, civil::Date};

use crate::finding::rule::WAIVER_INCOMPLETE;
use crate::finding::{Finding, Findings};
use crate::model::catalogue::Catalogue;
use crate::model::procedure::{Procedure, Status, Waiver};
use crate::rules::Context;
use crate::rules::earlier::misread_within;
use crate::rules::safety::exposure;
use crate::rules::wording::{listed, named};
use crate::text::place::{At, Place};

/// One thing that is wrong with a waiver: where, what, and the cure.
struct Defect {
    at: Place,
    message: String,
    help: String,
}

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in context.library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn) {
        for waiver in &procedure.waivers {
            // A value that could not be read looks as if it were not there.
            let misread = misread_within(findings, waiver.at.file, waiver.at.start..end_of(procedure, waiver));
            let missing = missing(waiver).filter(|_| !misread);
            let mut defects: Vec<Defect> = missing.into_iter().chain(wrong(context, procedure, waiver)).collect();
            // In the order of the file: the finding stands at the first.
            defects.sort_by_key(|defect| defect.at.start);
            let mut defects = defects.into_iter();
            if let Some(first) = defects.next() {
                let finding = finding(procedure, waiver, first);
                findings.push(defects.fold(finding, |finding, defect| finding.also(defect.at, defect.message)));
            }
        }
    }
}

fn finding(procedure: &Procedure, waiver: &Waiver, defect: Defect) -> Finding {
    let mut finding = Finding::new(&WAIVER_INCOMPLETE, defect.at, defect.message).procedure(&procedure.id).help(defect.help);
    finding.step = waiver.step.as_ref().map(|step| step.value.clone());
    finding.subject = waiver.hazard.as_ref().map(|hazard| hazard.to_string());
    finding
}

fn missing(waiver: &Waiver) -> Option<Defect> {
    let blank = |text: &Option<At<String>>| text.as_ref().is_none_or(|text| text.trim().is_empty());
    let needs = [
        ("step", waiver.step.is_none()),
        ("hazard", waiver.hazard.is_none()),
        ("of", waiver.of.is_none()),
        ("reason", blank(&waiver.reason)),
        ("by", blank(&waiver.by)),
        ("until", waiver.until.is_none()),
    ];
    let keys: Vec<String> = needs.iter().filter(|(_, lacking)| *lacking).map(|(key, _)| format!("`{key}`")).collect();
    let help = "a waiver says `step`, `hazard`, `of`, `reason`, `by` and `until`".to_owned();
    (!keys.is_empty()).then(|| Defect { at: waiver.at, message: format!("the waiver lacks {}", listed(&keys)), help })
}

/// What is wrong with the values that are there.
fn wrong(context: &Context<'_>, procedure: &Procedure, waiver: &Waiver) -> impl Iterator<Item = Defect> {
    [too_far(context.today, waiver), signed_by_owner(procedure, waiver), idle(context, procedure, waiver)].into_iter().flatten()
}

/// Whether a waiver waives anything: one with a finding does not.
pub fn waives(context: &Context<'_>, procedure: &Procedure, waiver: &Waiver) -> bool {
    let roles = &context.library.settings.roles;
    let signed = waiver.by.as_ref().is_some_and(|by| roles.iter().any(|role| role.value == by.value));
    let in_time = waiver.until.as_ref().is_some_and(|until| context.today <= until.value);
    signed && in_time && missing(waiver).is_none() && wrong(context, procedure, waiver).next().is_none()
}

/// Later than the same day next year; of 29 February that is 28 February.
fn too_far(today: Date, waiver: &Waiver) -> Option<Defect> {
    let until = waiver.until.as_ref()?;
    let last = today.checked_add(Span::new().years(1)).unwrap_or(Date::MAX);
    let message = format!("the waiver is meant to last until {}, over a year from today", **until);
    (until.value > last).then(|| Defect { at: until.at, message, help: format!("the last day it can have is {last}") })
}

/// The reader judges whether `by` is a role at all.
fn signed_by_owner(procedure: &Procedure, waiver: &Waiver) -> Option<Defect> {
    let by = waiver.by.as_ref()?;
    let owns = procedure.owner.as_ref().is_some_and(|owner| owner.value == by.value);
    let message = format!("{} owns the procedure and waives its own exposure", named(by.trim()));
    owns.then(|| Defect { at: by.at, message, help: "have it signed by another of the `roles` in `library.yaml`".to_owned() })
}

/// It names a known step and a known hazard, and the step does not expose to it. Unknown names are findings of their own.
fn idle(context: &Context<'_>, procedure: &Procedure, waiver: &Waiver) -> Option<Defect> {
    let catalogue: &Catalogue = &context.library.catalogue;
    let hazard = waiver.hazard.as_ref()?;
    let step = procedure.step(waiver.step.as_ref()?)?;
    let known = !catalogue.unreadable && catalogue.hazard(hazard).is_some() && !exposure::is_unsure(catalogue, step);
    let idle = known && !catalogue.exposed(step).iter().any(|exposed| exposed.id == hazard.value);
    let message = format!("the step does not expose to {}", named(hazard.as_str()));
    idle.then(|| Defect { at: hazard.at, message, help: "take the waiver out, or name a hazard that the step exposes to".to_owned() })
}

/// Where the next waiver or the steps begin.
fn end_of(procedure: &Procedure, waiver: &Waiver) -> u32 {
    let waivers = procedure.waivers.iter().map(|waiver| waiver.at.start);
    let steps = procedure.steps.iter().map(|step| step.at.start);
    waivers.chain(steps).filter(|start| *start > waiver.at.start).min().unwrap_or(procedure.body.start.max(waiver.at.end))
}
