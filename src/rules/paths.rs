//! Rules that need a path through the flow: what [`Programs`] proved or refuted, said as findings.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Finding, Findings, Group, Rule, rule};
use crate::flow::deep::deeply_each;
use crate::flow::net::Waived;
use crate::flow::proof::{Programs, Proof, Seen};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::rules::known::{self, On};
use crate::rules::{Context, flow, safety};
use crate::text::id::Id;

/// Rules whose findings on a procedure leave its paths unjudged, beside all of the group *reading* and all that begin with `unknown-`.
static BREAKING: [&Rule; 7] = [
    &rule::STEP_KIND_UNCLEAR,
    &rule::BRANCH_WITHOUT_ACTION,
    &rule::UNSURE_MISSING,
    &rule::OTHERWISE_MISSING,
    &rule::BANDS_NOT_ASCENDING,
    &rule::OUTCOME_UNMAPPED,
    &rule::PROCEDURE_CIRCLE,
];

/// The procedures whose paths cannot be judged: something in them is broken, or in what they carry out (a withdrawn one counts as broken).
pub fn broken(library: &Library, findings: &Findings) -> BTreeSet<Id> {
    let breaks = |finding: &&Finding| {
        let rule = finding.rule;
        rule.group == Group::Reading || rule.name.starts_with("unknown-") || BREAKING.contains(&rule)
    };
    let catalogues_unreadable = library.catalogue.unreadable || library.equipment.unreadable;
    let mut broken: BTreeSet<Id> = findings.iter().filter(breaks).filter_map(|finding| finding.procedure.clone()).collect();
    broken.extend(library.procedures.iter().filter(|procedure| procedure.is_withdrawn() || catalogues_unreadable).map(|p| p.id.clone()));
    let mut callers: BTreeMap<&Id, Vec<&Id>> = BTreeMap::new();
    for procedure in &library.procedures {
        for callee in procedure.callees() {
            callers.entry(callee).or_default().push(&procedure.id);
        }
    }
    let mut open: Vec<&Id> = broken.iter().cloned().chain(unknown(library)).filter_map(|id| callers.remove(&id)).flatten().collect();
    while let Some(caller) = open.pop() {
        broken.insert(caller.clone());
        open.extend(callers.remove(caller).into_iter().flatten());
    }
    broken
}

/// Names that are carried out and that no procedure has.
fn unknown(library: &Library) -> Vec<Id> {
    library.procedures.iter().flat_map(Procedure::callees).filter(|id| library.procedure(id).is_none()).cloned().collect()
}

/// The waivers that hold: those without a finding of their own.
pub fn waived(library: &Library, findings: &Findings) -> Waived {
    let mut waived = Waived::default();
    for procedure in &library.procedures {
        for waiver in &procedure.waivers {
            let refused = findings.iter().any(|finding| {
                let own = [rule::WAIVER_INCOMPLETE.name, rule::WAIVER_EXPIRED.name].contains(&finding.rule.name);
                let inside = finding.at.file == waiver.at.file && (waiver.at.start..=waiver.at.end).contains(&finding.at.start);
                own && inside
            });
            if let (false, Some(step), Some(hazard), Some(of)) = (refused, &waiver.step, &waiver.hazard, &waiver.of) {
                waived.add(&procedure.id, &step.value, &hazard.value, of.value);
            }
        }
    }
    waived
}

/// Fewer procedures are not worth a thread.
const PART: usize = 8;

/// Judges every procedure that is not broken. Of the others it says what needs no path.
pub fn check(context: &Context<'_>, waived: &Waived, broken: &BTreeSet<Id>, findings: &mut Findings) {
    let library = context.library;
    let whole: Vec<&Procedure> = library.procedures.iter().filter(|procedure| !broken.contains(&procedure.id)).collect();
    // What a part makes ready it keeps to itself; a large part makes little ready twice.
    let parts: Vec<&[&Procedure]> = whole.chunks(whole.len().div_ceil(rayon::current_num_threads()).max(PART)).collect();
    let proved = |part: usize| {
        let programs = Programs::new(library, waived);
        let of_one = |procedure: &&Procedure| {
            known::of(context.remembered, |known| &known.paths, procedure, On::Below, || of_procedure(library, &programs, procedure))
        };
        parts[part].iter().map(of_one).collect::<Vec<_>>()
    };
    deeply_each(parts.len(), proved).into_iter().flatten().for_each(|found| findings.extend(found));
    for procedure in library.procedures.iter().filter(|procedure| broken.contains(&procedure.id)) {
        let idle = flow::limit_idle::of_unjudged(procedure, findings);
        findings.extend(idle);
    }
}

fn of_procedure(library: &Library, programs: &Programs<'_>, procedure: &Procedure) -> Findings {
    let mut found = Findings::default();
    let proof: Proof = programs.prove(procedure);
    flow::on_paths::report(procedure, &proof, &mut found);
    safety::on_paths::report(library, procedure, &proof, &mut found);
    found
}

/// A finding about a step, with the models it holds for and the way that shows it.
pub fn at_step(rule: &'static Rule, procedure: &Procedure, seen: &Seen, message: String, help: String) -> Option<Finding> {
    let step = procedure.steps.get(seen.node)?;
    let (message, help) = match &seen.remark {
        Some(remark) => (format!("{message} ({})", remark.short), format!("{help}; {}", remark.long)),
        None => (message, help),
    };
    let mut finding = Finding::new(rule, step.at, message).procedure(&procedure.id).step(&step.id).help(help);
    finding.models = seen.models.clone();
    finding.witness = seen.witness.clone();
    Some(finding)
}
