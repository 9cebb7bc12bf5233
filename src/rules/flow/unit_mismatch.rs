//! `unit-mismatch`: a limit, figure or table entry has the very unit of the step it is used in; nothing is converted.

use crate::finding::{Finding, Findings, rule};
use crate::model::catalogue::Takes;
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Limit, LimitValue, Match, Measurement, Sorting, Step};
use crate::rules::Context;
use crate::rules::flow::models::{listed, models_of};
use crate::rules::flow::scope::{measurements, misread, on_step, short};
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::{Quantity, Unit, seconds};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step, measurement) in measurements(context.library) {
        // A unit that the reader refused is compared with nothing.
        if measurement.unit.is_none() && misread(context, procedure) {
            continue;
        }
        let models = models_of(context.library, procedure).unwrap_or_default();
        let place = Where { procedure, step, unit: measurement.unit.as_ref().map_or(Unit::NONE, |unit| unit.value), models: &models };
        check_measurement(&place, measurement, findings);
    }
    check_takes(context.library, findings);
}

/// The step a value is used in.
struct Where<'a> {
    procedure: &'a Procedure,
    step: &'a Step,
    unit: Unit,
    models: &'a [&'a Model],
}

fn check_measurement(place: &Where<'_>, measurement: &Measurement, findings: &mut Findings) {
    match &measurement.sorting {
        Sorting::Bands(bands) => {
            let limits = bands.iter().filter_map(|band| band.limit.as_ref());
            limits.filter_map(|limit| check_limit(place, limit)).for_each(|finding| findings.push(finding));
        }
        Sorting::Match(table) => check_table(place, table).into_iter().for_each(|finding| findings.push(finding)),
        Sorting::Missing => {}
    }
}

fn check_limit(place: &Where<'_>, limit: &At<Limit>) -> Option<Finding> {
    match &limit.value.value {
        LimitValue::Number(_, None) => None,
        LimitValue::Number(_, Some(written)) => {
            let message = format!("the limit is in {}, the step in {}", unit_words(written), unit_words(place.unit.as_str()));
            (written != place.unit.as_str()).then(|| finding(place, limit.at, message, written, &[]))
        }
        LimitValue::Figure(figure) => {
            let other = |model: &Model| model.figure(figure).filter(|quantity| quantity.unit != place.unit).cloned();
            let (failing, first) = failing(place.models, other)?;
            let message = format!("`{}` is {}, the step in {}", short(figure.as_str()), first.value, unit_words(place.unit.as_str()));
            Some(finding(place, limit.at, message, figure.as_str(), &failing).also(first.at, "the figure is here"))
        }
    }
}

/// A table is one finding, however many of its entries differ: the step's unit is what is wrong.
fn check_table(place: &Where<'_>, table: &Match) -> Option<Finding> {
    let name = table.table.as_ref()?;
    let entry = |model: &Model, part: &Id| model.repeat(part).filter(|quantity| quantity.unit != place.unit).cloned();
    let other = |model: &Model| table.parts.iter().find_map(|part| entry(model, &part.name));
    let (failing, first) = failing(place.models, other)?;
    let message = format!("the table has {}, the step is in {}", first.value, unit_words(place.unit.as_str()));
    Some(finding(place, name.at, message, name.as_str(), &failing).also(first.at, "the entry is here"))
}

/// The models with a quantity in another unit, and the first such quantity.
fn failing<'a>(models: &[&'a Model], other: impl Fn(&Model) -> Option<At<Quantity>>) -> Option<(Vec<&'a Model>, At<Quantity>)> {
    let found: Vec<(&Model, At<Quantity>)> = models.iter().filter_map(|model| Some((*model, other(model)?))).collect();
    let first = found.first()?.1.clone();
    Some((found.into_iter().map(|(model, _)| model).collect(), first))
}

fn finding(place: &Where<'_>, at: Place, message: String, subject: &str, failing: &[&Model]) -> Finding {
    let mut finding = on_step(&rule::UNIT_MISMATCH, place.procedure, place.step, at, message);
    finding.subject = (!subject.is_empty()).then(|| subject.to_owned());
    if !failing.is_empty() {
        finding.models = listed(failing, place.models);
    }
    finding.help("write both in one unit: nothing is converted")
}

/// A condition takes a time, so the figure it names is one.
fn check_takes(library: &Library, findings: &mut Findings) {
    let models: Vec<&Model> = library.equipment.models.iter().collect();
    for takes in library.catalogue.conditions.iter().filter_map(|condition| condition.takes.as_ref()) {
        let Takes::Figure(figure) = &takes.value else { continue };
        let no_time = |model: &Model| {
            let quantity = model.figure(figure)?;
            seconds(quantity.value.value, quantity.unit.as_str()).is_none().then(|| quantity.clone())
        };
        let Some((failing, first)) = failing(&models, no_time) else { continue };
        let message = format!("`{}` is {}, which is no time", short(figure.as_str()), first.value);
        let mut finding = Finding::new(&rule::UNIT_MISMATCH, takes.at, message).subject(figure.as_str());
        finding.models = listed(&failing, &models);
        findings.push(finding.also(first.at, "the figure is here").help("give the figure in `s`, `min` or `h`, not below 0"));
    }
}

fn unit_words(unit: &str) -> String {
    if unit.is_empty() { "no unit".to_owned() } else { format!("`{}`", short(unit)) }
}
