//! What can be said of a value only once the whole library is read.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::rule::VALUE_INVALID;
use crate::finding::{Finding, Findings};
use crate::model::catalogue::{Catalogue, Condition};
use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::read::scope::quoted;
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::At;

/// What is surely known, so that nothing is said about what a broken file might hold.
pub struct Known {
    pub roles: bool,
    /// Procedures whose kind was lost in a broken file.
    pub without_kind: BTreeSet<Id>,
}

pub fn check(library: &Library, known: &Known, findings: &mut Findings) {
    for procedure in &library.procedures {
        if known.roles {
            roles_of(library, procedure, findings);
        }
        if procedure.status != Status::Withdrawn {
            for step in &procedure.steps {
                targets(library, known, procedure, step, findings);
            }
        }
    }
    if known.roles {
        for approval in &library.approvals {
            findings.extend(role(library, &approval.by));
        }
    }
    circles(&library.catalogue, findings);
    returning(&library.catalogue, findings);
}

fn roles_of(library: &Library, procedure: &Procedure, findings: &mut Findings) {
    let waived = procedure.waivers.iter().filter_map(|waiver| waiver.by.as_ref());
    for name in procedure.owner.iter().chain(waived) {
        for finding in role(library, name) {
            findings.push(finding.procedure(&procedure.id));
        }
    }
}

/// A finding if the library has no such role.
fn role(library: &Library, name: &At<String>) -> Findings {
    let mut findings = Findings::default();
    let roles = &library.settings.roles;
    if roles.iter().all(|role| role.value != name.value) {
        let names = || roles.iter().map(|role| role.value.as_str());
        let help = match nearest(&name.value, names()) {
            Some(near) => format!("the nearest role is `{near}`"),
            None if roles.is_empty() => "list the roles in `library.yaml`, under `roles`".to_owned(),
            None => format!("the roles of `library.yaml` are {}", names().collect::<Vec<_>>().join(", ")),
        };
        findings.push(Finding::new(&VALUE_INVALID, name.at, format!("{} is not a role of the library", quoted(&name.value))).help(help));
    }
    findings
}

/// `carry-out` names a task, `refer-to` fault finding.
fn targets(library: &Library, known: &Known, procedure: &Procedure, step: &Step, findings: &mut Findings) {
    let kind = |name: &At<Id>| {
        let target = library.procedure(&name.value)?;
        (!known.without_kind.contains(&target.id)).then_some(target.kind)
    };
    let mut say = |name: &At<Id>, message: String, help: &str| {
        let finding = Finding::new(&VALUE_INVALID, name.at, message).help(help);
        findings.push(finding.procedure(&procedure.id).step(&step.id));
    };
    match &step.kind {
        StepKind::CarryOut(carry_out) if kind(&carry_out.procedure) == Some(Kind::FaultFinding) => {
            let name = &carry_out.procedure;
            let message = format!("`carry-out` names {}, which is fault finding", quoted(name.as_str()));
            say(name, message, "end with `outcome: referred` and `refer-to`, or make it `kind: task`");
        }
        StepKind::Do(action) => {
            if let Some(name) = action.refer_to.as_ref().filter(|name| kind(name) == Some(Kind::Task)) {
                let message = format!("`refer-to` names {}, which is a task", quoted(name.as_str()));
                say(name, message, "carry the task out with `carry-out`");
            }
        }
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => {}
    }
}

/// Conditions that come `after` each other in a circle: one finding a circle, at its first condition in the file.
/// Each condition has at most one `after`, so a walk either ends or comes back to a condition it has seen.
fn circles(catalogue: &Catalogue, findings: &mut Findings) {
    let index: BTreeMap<&Id, usize> = catalogue.conditions.iter().enumerate().rev().map(|(at, one)| (&one.id, at)).collect();
    let next =
        |at: usize| catalogue.conditions.get(at).and_then(|one| one.after.as_ref()).and_then(|after| index.get(&after.value).copied());
    let mut walk_of = vec![usize::MAX; catalogue.conditions.len()];
    for start in 0..catalogue.conditions.len() {
        let mut here = Some(start);
        while let Some(at) = here.filter(|at| walk_of.get(*at) == Some(&usize::MAX)) {
            if let Some(walk) = walk_of.get_mut(at) {
                *walk = start;
            }
            here = next(at);
        }
        // Back at a condition of this very walk: a circle that no walk before it has seen.
        if let Some(at) = here.filter(|at| walk_of.get(*at) == Some(&start)) {
            let mut members = vec![at];
            let mut around = next(at);
            while let Some(other) = around.filter(|other| *other != at) {
                members.push(other);
                around = next(other);
            }
            let first = members.iter().min().and_then(|first| catalogue.conditions.get(*first));
            findings.extend(circle(first, members.len()));
        }
    }
}

fn circle(first: Option<&Condition>, members: usize) -> Findings {
    let mut findings = Findings::default();
    if let Some((condition, after)) = first.and_then(|one| Some((one, one.after.as_ref()?))) {
        let message = match members {
            1 => format!("the condition {} comes after itself", quoted(condition.id.as_str())),
            _ => format!("{} and {} come after each other in a circle", quoted(condition.id.as_str()), quoted(after.as_str())),
        };
        findings.push(Finding::new(&VALUE_INVALID, after.at, message).help("take out one `after` of the circle"));
    }
    findings
}

/// A condition that comes with time cannot bring a hazard back.
fn returning(catalogue: &Catalogue, findings: &mut Findings) {
    let timed: BTreeSet<&Id> = catalogue.conditions.iter().filter(|one| one.takes.is_some()).map(|one| &one.id).collect();
    let names = catalogue.hazards.iter().flat_map(|hazard| &hazard.returns_with);
    for name in names.filter(|name| timed.contains(&name.value)) {
        let message = format!("`returns-with` names {}, a condition with `takes`", quoted(name.as_str()));
        findings.push(Finding::new(&VALUE_INVALID, name.at, message).help("name the condition that ends it instead"));
    }
}
