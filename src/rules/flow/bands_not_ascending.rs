//! `bands-not-ascending`: the limits of a measurement rise, lie in its range, and leave every band something to hold.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::finding::{Findings, rule};
use crate::flow::graph::band_text;
use crate::model::equipment::Model;
use crate::model::procedure::Procedure;
use crate::model::step::{Band, Limit, LimitValue, Measurement, Sorting, Step};
use crate::rules::Context;
use crate::rules::flow::models::{listed, models_of};
use crate::rules::flow::scope::{Amiss, measurements, on_step, short};
use crate::text::quantity::Unit;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(context.library, findings);
    for (procedure, step, measurement) in measurements(context.library) {
        let Sorting::Bands(bands) = &measurement.sorting else { continue };
        check_last(&amiss, procedure, step, measurement, &mut found);
        let figures = bands.iter().any(|band| matches!(&band.limit, Some(limit) if matches!(limit.value.value, LimitValue::Figure(_))));
        let models = if figures { models_of(context.library, procedure).unwrap_or_default() } else { Vec::new() };
        check_order(procedure, step, measurement, &models, &mut found);
    }
    findings.extend(found);
}

/// Every band but the last has a limit.
fn check_last(amiss: &Amiss<'_>, procedure: &Procedure, step: &Step, measurement: &Measurement, found: &mut Findings) {
    let Sorting::Bands(bands) = &measurement.sorting else { return };
    // Of bands that are too many the last is not known.
    let cut = amiss.at_keys(procedure, Some(step), &["bands"]);
    for (index, band) in bands.iter().enumerate() {
        let text = band_text(band, unit(measurement));
        let (at, message, help) = match &band.limit {
            None if index + 1 < bands.len() && !amiss.within(band.at) => {
                (band.at, "the band has no limit and is not the last", "write `below` or `up-to`: where the band ends")
            }
            Some(limit) if index + 1 == bands.len() && !cut => {
                (limit.at, "the last band has a limit", "leave it out: the last band ends at `to`")
            }
            None | Some(_) => continue,
        };
        found.push(on_step(&rule::BANDS_NOT_ASCENDING, procedure, step, at, message).subject(text).help(help));
    }
}

fn check_order(procedure: &Procedure, step: &Step, measurement: &Measurement, models: &[&Model], found: &mut Findings) {
    let Sorting::Bands(bands) = &measurement.sorting else { return };
    let runs: Vec<Option<&Model>> = if models.is_empty() { vec![None] } else { models.iter().copied().map(Some).collect() };
    let mut faults: BTreeMap<usize, (Fault, Vec<&Model>)> = BTreeMap::new();
    for model in runs {
        for (index, fault) in faults_for(measurement, bands, model) {
            faults.entry(index).or_insert((fault, Vec::new())).1.extend(model);
        }
    }
    for (index, (fault, failing)) in faults {
        let Some((band, limit)) = bands.get(index).and_then(|band| Some((band, band.limit.as_ref()?))) else { continue };
        let mut finding = on_step(&rule::BANDS_NOT_ASCENDING, procedure, step, limit.at, fault.message).help(fault.help);
        finding.subject = Some(band_text(band, unit(measurement)));
        finding.models = listed(&failing, models);
        found.push(finding);
    }
}

/// What is wrong with a limit: the fact and the figures behind it.
struct Fault {
    message: String,
    help: String,
}

/// The bands of one model that are out of order. The last band is judged by its having a limit at all.
fn faults_for(measurement: &Measurement, bands: &[Band], model: Option<&Model>) -> Vec<(usize, Fault)> {
    let mut faults = Vec::new();
    let mut before: Option<Decimal> = None;
    for (index, band) in bands.iter().enumerate().take(bands.len().saturating_sub(1)) {
        let Some(limit) = &band.limit else { continue };
        let Some(value) = value(limit, unit(measurement), model) else { continue };
        faults.extend(fault(limit, value, before, measurement).map(|fault| (index, fault)));
        before = before.max(Some(value));
    }
    faults
}

/// An edge at `from` or `to` is inside the range, but the band it would leave must not be empty.
fn fault(limit: &Limit, value: Decimal, before: Option<Decimal>, measurement: &Measurement) -> Option<Fault> {
    let from = measurement.from.as_ref().map(|from| from.value);
    let to = measurement.to.as_ref().map(|to| to.value);
    let words = match &limit.value {
        LimitValue::Number(..) => short(&value.to_string()),
        LimitValue::Figure(figure) => format!("`{}`", short(figure.as_str())),
    };
    if let Some(before) = before.filter(|before| value <= *before) {
        let help = format!("it is {value}, the one before it {before}: put the bands in ascending order");
        return Some(Fault { message: format!("the limit {words} is not above the one before it"), help });
    }
    if let Some(from) = from.filter(|from| value < *from || (value == *from && !limit.inside)) {
        let help = format!("it is {value}, and `from` is {from}: move the limit up, or take the band out");
        return Some(Fault { message: format!("the limit {words} leaves its band nothing above `from`"), help });
    }
    let to = to.filter(|to| value > *to || (value == *to && limit.inside))?;
    let help = format!("it is {value}, and `to` is {to}: move the limit down, or take the next band out");
    Some(Fault { message: format!("the limit {words} leaves the next band nothing up to `to`"), help })
}

/// The limit as a number in the step's unit; `None` if it is in another unit or the model lacks the figure, which other rules say.
fn value(limit: &Limit, unit: Unit, model: Option<&Model>) -> Option<Decimal> {
    match &limit.value {
        LimitValue::Number(number, None) => Some(*number),
        LimitValue::Number(number, Some(written)) => (written == unit.as_str()).then_some(*number),
        LimitValue::Figure(figure) => {
            let quantity = model?.figure(figure)?;
            (quantity.unit == unit).then_some(quantity.value.value)
        }
    }
}

fn unit(measurement: &Measurement) -> Unit {
    measurement.unit.as_ref().map_or(Unit::NONE, |unit| unit.value)
}
