//! `model-uncovered`: a procedure is for a model that one of its steps forgets.

use std::collections::BTreeSet;

use crate::finding::{Finding, Findings, rule};
use crate::formula::Formula;
use crate::model::catalogue::{Catalogue, Condition, Takes};
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{ByModel, Effects, LimitValue, Measurement, Sorting, Step, StepKind};
use crate::rules::Context;
use crate::rules::flow::leads::{LeadKind, leads};
use crate::rules::flow::models::{models_of, without};
use crate::rules::flow::scope::{Amiss, judged, short, unreadable};
use crate::text::id::Id;
use crate::text::place::{At, Place};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let library = context.library;
    let mut found = Findings::default();
    let amiss = Amiss::of(library, findings);
    for procedure in judged(library) {
        let Some(models) = models_of(library, procedure) else { continue };
        let mut judge = Judge { procedure, models: &models, findings: &mut found };
        for step in &procedure.steps {
            match &step.kind {
                // A way that was refused is not missing.
                StepKind::ByModel(_) if amiss.in_step(procedure, step) => {}
                StepKind::ByModel(by_model) => judge.by_model(step, by_model),
                StepKind::Measure(measurement) => judge.measurement(step, measurement),
                StepKind::Ask(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::Unclear(_) => {}
            }
        }
        judge.leads(context);
        judge.takes(library);
    }
    findings.extend(found);
}

struct Judge<'a, 'b> {
    procedure: &'a Procedure,
    models: &'b [&'a Model],
    findings: &'b mut Findings,
}

impl Judge<'_, '_> {
    fn by_model(&mut self, step: &Step, by_model: &ByModel) {
        if by_model.others.is_some() {
            return;
        }
        for model in self.models.iter().filter(|model| !by_model.ways.iter().any(|(name, _)| name.value == model.id)) {
            let message = format!("no way is given for the model `{}`", short(model.id.as_str()));
            self.push(Some(step), step.at, Some(model), message, "write a way for it, or `others` for the rest");
        }
    }

    fn measurement(&mut self, step: &Step, measurement: &Measurement) {
        for (figure, at) in figures(measurement, self.models) {
            for model in without(self.models, |model| model.figure(&figure).is_some()) {
                self.lacks(Some(step), at, model, "figure", &figure, "give the model this figure in `equipment.yaml`");
            }
        }
        let Sorting::Match(table) = &measurement.sorting else { return };
        for part in &table.parts {
            for model in without(self.models, |model| model.repeat(&part.name).is_some()) {
                let help = "give the model this part under `repeats` in `equipment.yaml`, or lead the model elsewhere";
                self.lacks(Some(step), part.name.at, model, "part", &part.name, help);
            }
        }
    }

    /// What a procedure carries out or refers to is for every model that it is for itself.
    fn leads(&mut self, context: &Context<'_>) {
        for lead in leads(self.procedure).into_iter().filter(|lead| lead.kind != LeadKind::ReplacedBy) {
            let target = context.library.procedure(lead.to).filter(|target| !unreadable(context, target));
            // A withdrawn procedure is `leads-to-withdrawn`, whatever it was for.
            let Some(target) = target.filter(|target| target.status != Status::Withdrawn) else { continue };
            let Some(theirs) = models_of(context.library, target) else { continue };
            for model in self.models.iter().filter(|model| !theirs.iter().any(|other| other.id == model.id)) {
                let message = format!("`{}` is not for `{}`", short(lead.to.as_str()), short(model.id.as_str()));
                self.push(lead.step, lead.to.at, Some(model), message, "list the model under `equipment` there, or lead it elsewhere here");
            }
        }
    }

    /// A condition that this procedure needs takes a figure of the model: every model has it.
    fn takes(&mut self, library: &Library) {
        for condition in &library.catalogue.conditions {
            let Some(Takes::Figure(figure)) = condition.takes.as_ref().map(|takes| &takes.value) else { continue };
            let lacking = without(self.models, |model| model.figure(figure).is_some());
            if lacking.is_empty() {
                continue;
            }
            let Some((step, at)) = first_need(&library.catalogue, self.procedure, condition) else { continue };
            for model in lacking {
                self.lacks(step, at, model, "figure", figure, "give the model this figure in `equipment.yaml`: a condition takes it");
            }
        }
    }

    fn lacks(&mut self, step: Option<&Step>, at: Place, model: Option<&Model>, what: &str, name: &Id, help: &str) {
        let message = match model {
            Some(model) => format!("`{}` lacks the {what} `{}`", short(model.id.as_str()), short(name.as_str())),
            None => format!("there is no model, so none has the {what} `{}`", short(name.as_str())),
        };
        self.push(step, at, model, message, help);
    }

    fn push(&mut self, step: Option<&Step>, at: Place, model: Option<&Model>, message: String, help: &str) {
        let mut finding = Finding::new(&rule::MODEL_UNCOVERED, at, message).procedure(&self.procedure.id).help(help);
        finding.step = step.map(|step| step.id.clone());
        finding.subject = model.map(|model| model.id.to_string());
        finding.models = model.filter(|_| self.models.len() > 1).map(|model| model.id.clone()).into_iter().collect();
        self.findings.push(finding);
    }
}

/// The figures that limits and the formula name, each once. A name in a formula that no model has is `formula-invalid`.
fn figures(measurement: &Measurement, models: &[&Model]) -> Vec<(Id, Place)> {
    let mut found: Vec<(Id, Place)> = Vec::new();
    if let Sorting::Bands(bands) = &measurement.sorting {
        for limit in bands.iter().filter_map(|band| band.limit.as_ref()) {
            if let LimitValue::Figure(figure) = &limit.value.value {
                found.push((figure.clone(), limit.at));
            }
        }
    }
    if let Some(text) = &measurement.formula
        && let Ok(formula) = Formula::parse(text)
    {
        let names = formula.names().into_iter().map(Id::new);
        let figure = |name: &Id| {
            !measurement.readings.iter().any(|reading| reading.id == *name) && models.iter().any(|model| model.figure(name).is_some())
        };
        found.extend(names.filter(figure).map(|name| (name, text.at)));
    }
    let mut seen = BTreeSet::new();
    found.retain(|(name, _)| seen.insert(name.clone()));
    found
}

/// Where a procedure first needs a condition: waits for it, sets it, requires it, or exposes somebody to a hazard that requires it.
fn first_need<'a>(catalogue: &Catalogue, procedure: &'a Procedure, condition: &Condition) -> Option<(Option<&'a Step>, Place)> {
    let own = procedure.requires.iter().find(|name| name.value == condition.id).map(|name| (None, name.at));
    own.or_else(|| procedure.steps.iter().find_map(|step| Some((Some(step), need(catalogue, step, condition)?))))
}

fn need(catalogue: &Catalogue, step: &Step, condition: &Condition) -> Option<Place> {
    let names = |name: &&At<Id>| name.value == condition.id;
    let requires = |hazard: &At<Id>| catalogue.hazard(hazard).is_some_and(|hazard| hazard.requires.iter().any(|name| names(&name)));
    let waited = match &step.kind {
        StepKind::Do(action) => action.wait_for.as_ref().filter(names),
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    };
    let set = effects(step).into_iter().flat_map(|effects| &effects.sets).find(names);
    let exposed = step.exposes.iter().find(|hazard| requires(hazard));
    let touched = step.touches.iter().find(|name| catalogue.part(name).is_some_and(|part| part.hazards.iter().any(requires)));
    let first = waited.or(set).or_else(|| step.requires.iter().find(names)).or(exposed).or(touched);
    first.map(|name| name.at)
}

fn effects(step: &Step) -> Vec<&Effects> {
    match &step.kind {
        StepKind::Ask(question) => question.answers.iter().map(|answer| &answer.effects).collect(),
        StepKind::Do(action) => vec![&action.effects],
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => bands.iter().map(|band| &band.effects).collect(),
            Sorting::Match(_) | Sorting::Missing => Vec::new(),
        },
        StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => Vec::new(),
    }
}
