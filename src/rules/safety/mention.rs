//! Every place where a name of the safety catalogue is used, and the judgement of names that it lacks.

use std::collections::BTreeMap;

use crate::finding::rule::{UNKNOWN_CONDITION, UNKNOWN_HAZARD, UNKNOWN_PART};
use crate::finding::{Finding, Findings};
use crate::flow::graph;
use crate::model::catalogue::{Catalogue, Condition, Hazard, Part};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status, Waiver};
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::rules::earlier::misread_at;
use crate::rules::wording::named;
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::{At, Place};

/// What a name should name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    Hazard,
    Condition,
    Part,
}

/// A name used somewhere.
#[derive(Clone, Copy, Debug)]
pub struct Mention<'a> {
    pub sort: Sort,
    pub name: &'a At<Id>,
    pub owner: Owner<'a>,
}

/// The step, procedure or entry of the catalogue that uses it.
#[derive(Clone, Copy, Debug)]
pub struct Owner<'a> {
    pub at: Place,
    pub procedure: Option<&'a Id>,
    pub step: Option<&'a Id>,
}

/// `unknown-hazard`, `unknown-condition`, `unknown-part`: names that the catalogue lacks. One finding for each name and owner, at its first place.
pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let catalogue = &context.library.catalogue;
    if catalogue.unreadable {
        return;
    }
    let mut told: BTreeMap<(Place, Option<&Id>, Sort, &Id), Finding> = BTreeMap::new();
    for mention in mentions(context.library).into_iter().filter(|mention| !is_known(catalogue, mention)) {
        if misread_at(findings, mention.name.at) {
            continue;
        }
        let key = (mention.owner.at, mention.owner.step, mention.sort, &mention.name.value);
        match told.remove(&key) {
            Some(finding) => told.insert(key, finding.also(mention.name.at, "and here")),
            None => told.insert(key, finding(catalogue, &mention)),
        };
    }
    told.into_values().for_each(|finding| findings.push(finding));
}

fn is_known(catalogue: &Catalogue, mention: &Mention<'_>) -> bool {
    match mention.sort {
        Sort::Hazard => catalogue.hazard(mention.name).is_some(),
        Sort::Condition => catalogue.condition(mention.name).is_some(),
        Sort::Part => catalogue.part(mention.name).is_some(),
    }
}

fn finding(catalogue: &Catalogue, mention: &Mention<'_>) -> Finding {
    let name = mention.name.as_str();
    let (rule, sort, near) = match mention.sort {
        Sort::Hazard => (&UNKNOWN_HAZARD, "hazard", nearest(name, catalogue.hazards.iter().map(|hazard| hazard.id.as_str()))),
        Sort::Condition => {
            (&UNKNOWN_CONDITION, "condition", nearest(name, catalogue.conditions.iter().map(|condition| condition.id.as_str())))
        }
        Sort::Part => (&UNKNOWN_PART, "part", nearest(name, catalogue.parts.iter().map(|part| part.id.as_str()))),
    };
    let help = match near {
        Some(near) => format!("the nearest {sort} is `{near}`"),
        None => format!("declare the {sort} in `safety.yaml`, or name one that is there"),
    };
    let mut finding =
        Finding::new(rule, mention.name.at, format!("{} is no {sort} of the catalogue", named(name))).subject(name).help(help);
    finding.procedure = mention.owner.procedure.cloned();
    finding.step = mention.owner.step.cloned();
    finding
}

/// All of them. Steps and waivers of withdrawn procedures are not judged.
pub fn mentions(library: &Library) -> Vec<Mention<'_>> {
    let mut all = Vec::new();
    let catalogue = &library.catalogue;
    catalogue.conditions.iter().for_each(|condition| in_condition(condition, &mut all));
    catalogue.hazards.iter().for_each(|hazard| in_hazard(hazard, &mut all));
    catalogue.parts.iter().for_each(|part| in_part(part, &mut all));
    library.procedures.iter().for_each(|procedure| in_procedure(procedure, &mut all));
    all
}

impl<'a> Owner<'a> {
    fn entry(at: Place) -> Self {
        Self { at, procedure: None, step: None }
    }

    fn add(self, sort: Sort, names: impl IntoIterator<Item = &'a At<Id>>, all: &mut Vec<Mention<'a>>) {
        all.extend(names.into_iter().map(|name| Mention { sort, name, owner: self }));
    }
}

fn in_condition<'a>(condition: &'a Condition, all: &mut Vec<Mention<'a>>) {
    Owner::entry(condition.at).add(Sort::Condition, condition.clears.iter().chain(&condition.after), all);
}

fn in_hazard<'a>(hazard: &'a Hazard, all: &mut Vec<Mention<'a>>) {
    Owner::entry(hazard.at).add(Sort::Condition, hazard.requires.iter().chain(&hazard.returns_with), all);
}

fn in_part<'a>(part: &'a Part, all: &mut Vec<Mention<'a>>) {
    Owner::entry(part.at).add(Sort::Hazard, &part.hazards, all);
}

fn in_procedure<'a>(procedure: &'a Procedure, all: &mut Vec<Mention<'a>>) {
    let owner = Owner { at: procedure.at, procedure: Some(&procedure.id), step: None };
    owner.add(Sort::Condition, &procedure.requires, all);
    owner.add(Sort::Part, procedure.not_touching.iter().map(|denial| &denial.of), all);
    if procedure.status != Status::Withdrawn {
        procedure.waivers.iter().for_each(|waiver| in_waiver(procedure, waiver, all));
        procedure.steps.iter().for_each(|step| in_step(procedure, step, all));
    }
}

fn in_waiver<'a>(procedure: &'a Procedure, waiver: &'a Waiver, all: &mut Vec<Mention<'a>>) {
    let step = waiver.step.as_ref().map(|step| &step.value);
    let owner = Owner { at: waiver.at, procedure: Some(&procedure.id), step };
    owner.add(Sort::Hazard, &waiver.hazard, all);
}

fn in_step<'a>(procedure: &'a Procedure, step: &'a Step, all: &mut Vec<Mention<'a>>) {
    let owner = Owner { at: step.at, procedure: Some(&procedure.id), step: Some(&step.id) };
    owner.add(Sort::Hazard, step.cautions.iter().chain(&step.exposes), all);
    owner.add(Sort::Part, step.touches.iter().chain(step.not_touching.iter().map(|denial| &denial.of)), all);
    owner.add(Sort::Condition, step.requires.iter().chain(step.not_changing.iter().map(|denial| &denial.of)), all);
    let ways = graph::ways(step);
    let mut effects: Vec<_> = ways.iter().filter_map(|way| way.effects).collect();
    if let StepKind::Do(action) = &step.kind {
        owner.add(Sort::Condition, &action.wait_for, all);
        effects.push(&action.effects);
    }
    effects.into_iter().for_each(|effect| owner.add(Sort::Condition, effect.clears.iter().chain(&effect.sets), all));
}
