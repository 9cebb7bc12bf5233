//! `formula-invalid`: a formula that cannot be read, names something unknown or twice, or may have no value within its readings' ranges.

use crate::finding::{Finding, Findings, rule};
use crate::formula::Formula;
use crate::formula::check::{Range, RangeFault, RangeFaultKind, range};
use crate::formula::evaluate::nearest_double;
use crate::model::equipment::Model;
use crate::model::procedure::Procedure;
use crate::model::step::{Measurement, Reading, Step};
use crate::rules::Context;
use crate::rules::flow::models::{listed, models_of};
use crate::rules::flow::scope::{Amiss, Hints, measurements, on_step, short};
use crate::text::id::Id;
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(context.library, findings);
    let mut hints = Hints::new();
    for (procedure, step, measurement) in measurements(context.library) {
        let Some(text) = &measurement.formula else { continue };
        let place = Where { procedure, step, text };
        let formula = match Formula::parse(text) {
            Ok(formula) => formula,
            Err(fault) => {
                let position = text.get(..fault.offset).map_or(fault.offset, |before| before.chars().count()) + 1;
                let message = format!("the formula breaks off at character {position}");
                found.push(place.finding(message).help(format!("expected there: {}", fault.expected)));
                continue;
            }
        };
        let Some(models) = models_of(context.library, procedure) else { continue };
        let names = name_findings(&place, &formula, measurement, &models, &mut hints);
        // Readings that were refused are neither unknown nor without a range.
        let amiss_here = amiss.in_step(procedure, step);
        let ranged = measurement.readings.iter().all(|reading| reading.from.is_some() && reading.to.is_some());
        let upside_down = measurement.readings.iter().any(upside_down);
        if names.is_empty() && (ranged || !amiss_here) && !upside_down {
            check_ranges(&place, &formula, measurement, &models, &mut found);
        }
        let lost =
            |name: &str| amiss.at_keys(procedure, Some(step), &[name, "readings"]) || (measurement.readings.is_empty() && amiss_here);
        names.into_iter().filter(|finding| !finding.subject.as_deref().is_some_and(lost)).for_each(|finding| found.push(finding));
    }
    findings.extend(found);
}

/// The formula in its step.
struct Where<'a> {
    procedure: &'a Procedure,
    step: &'a Step,
    text: &'a At<String>,
}

impl Where<'_> {
    fn finding(&self, message: String) -> Finding {
        on_step(&rule::FORMULA_INVALID, self.procedure, self.step, self.text.at, message)
    }
}

/// A name is a reading or a figure, not both. A figure that only some models have is `model-uncovered`.
fn name_findings(place: &Where<'_>, formula: &Formula, measurement: &Measurement, models: &[&Model], hints: &mut Hints) -> Vec<Finding> {
    let figures = || models.iter().flat_map(|model| model.figures.iter().map(|(name, _)| &name.value));
    let readings = || measurement.readings.iter().map(|reading| &reading.id);
    let mut found = Vec::new();
    for name in formula.names() {
        let (message, help) = match (readings().any(|id| id == name), figures().any(|id| id == name)) {
            (true, true) => (
                format!("`{}` is a reading and a figure of the machine", short(name)),
                "give the reading another name, so that it is clear which of the two is meant".to_owned(),
            ),
            (false, false) => (
                format!("`{}` is neither a reading of the step nor a figure", short(name)),
                hints.hint(
                    &Id::new(name),
                    readings().chain(figures()),
                    "declare it under `readings`, or as a figure of every model; a minus has spaces",
                ),
            ),
            (true, false) | (false, true) => continue,
        };
        found.push(place.finding(message).subject(name).help(help));
    }
    found
}

fn check_ranges(place: &Where<'_>, formula: &Formula, measurement: &Measurement, models: &[&Model], findings: &mut Findings) {
    let reads = |name: &str| measurement.readings.iter().find(|reading| reading.id == name);
    let figures: Vec<&str> = formula.names().into_iter().filter(|name| reads(name).is_none()).collect();
    if figures.is_empty() {
        let of = |name: &str| reads(name).and_then(reading_range);
        if let Err(fault) = range(formula, &of) {
            findings.push(range_finding(place, &fault));
        }
        return;
    }
    let mut first: Option<RangeFault> = None;
    let mut failing = Vec::new();
    for model in models.iter().copied() {
        let figure = |name: &str| {
            model.figures.iter().find(|(id, _)| id.value == name).and_then(|(_, quantity)| nearest_double(quantity.value.value))
        };
        if figures.iter().any(|name| figure(name).is_none()) {
            continue;
        }
        let of = |name: &str| reads(name).map_or_else(|| figure(name).map(Range::point), reading_range);
        if let Err(fault) = range(formula, &of) {
            first.get_or_insert(fault);
            failing.push(model);
        }
    }
    if let Some(fault) = first {
        let mut finding = range_finding(place, &fault);
        finding.models = listed(&failing, models);
        findings.push(finding);
    }
}

/// Its range is a finding of the reader's.
fn upside_down(reading: &Reading) -> bool {
    matches!((&reading.from, &reading.to), (Some(from), Some(to)) if to.value < from.value)
}

fn reading_range(reading: &Reading) -> Option<Range> {
    let edge = |edge: &Option<At<_>>| edge.as_ref().and_then(|edge| nearest_double(edge.value));
    Some(Range { low: edge(&reading.from)?, high: edge(&reading.to)? })
}

fn range_finding(place: &Where<'_>, fault: &RangeFault) -> Finding {
    let (low, high) = (fault.range.low, fault.range.high);
    let names: Vec<String> = fault.names.iter().map(|name| format!("`{name}`")).collect();
    let narrow = match names.len() {
        0 => "change the formula".to_owned(),
        _ => format!("narrow `from` and `to` of {}, or change the formula", names.join(", ")),
    };
    let (message, help) = match fault.kind {
        RangeFaultKind::DivisionByZero => (
            "the formula can divide by zero".to_owned(),
            format!("the divisor is {low:.4e} to {high:.4e}: {narrow} so that this leaves out 0"),
        ),
        RangeFaultKind::Overflow => ("the formula can come to more than a number holds".to_owned(), narrow),
        RangeFaultKind::Domain(operation) => (
            format!("the formula can leave what `{}` is defined for", operation.word()),
            format!("its operand is {low:.4e} to {high:.4e}: {narrow} so that it stays above 0"),
        ),
        RangeFaultKind::Unknown => (
            format!("{} has no range to prove the formula on", names.join(", ")),
            "give the reading `from` and `to`, the lesser first".to_owned(),
        ),
    };
    place.finding(message).help(help)
}
