//! The ways on from a step, in the order in which they stand in the file.

use std::borrow::Cow;

use crate::finding::WayKind;
use crate::model::catalogue::Person;
use crate::model::step::{Band, Effects, LimitValue, Match, Measurement, NamedWay, Sorting, Step, StepKind, When};
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::Unit;

/// One way on from a step.
#[derive(Clone, Debug)]
pub struct Way<'a> {
    pub kind: WayKind,
    /// What tells it from the others of its step: the answer, `below 65 mm`, a part, a model, an outcome. `None` for `next`, `unsure`, `otherwise`.
    pub text: Option<Cow<'a, str>>,
    /// `None` where the author forgot it, which is a finding.
    pub then: Option<&'a At<Id>>,
    /// Where the way is written.
    pub at: Place,
    pub effects: Option<&'a Effects>,
    pub person: Option<Person>,
    /// It says that the cure was checked and holds (`when: [fixed]`).
    pub fixed: bool,
    /// Which faults give it; `None` for ways that say nothing of faults.
    pub when: Option<&'a When>,
    /// Index of the band, for a band.
    pub band: Option<usize>,
}

impl<'a> Way<'a> {
    fn plain(kind: WayKind, text: Option<Cow<'a, str>>, then: Option<&'a At<Id>>, at: Place) -> Self {
        Self { kind, text, then, at, effects: None, person: None, fixed: false, when: None, band: None }
    }

    /// The way in words: its text, ids without their hyphens, or what is said for ways without one.
    pub fn words(&self) -> String {
        match (self.text.as_deref(), self.kind) {
            (Some("several"), WayKind::Part) => "more than one fits".to_owned(),
            (Some("none"), WayKind::Part) => "none fits".to_owned(),
            (Some(id), WayKind::Part | WayKind::Outcome) => id.replace('-', " "),
            (Some(text), _) => text.to_owned(),
            (None, WayKind::Unsure) => "cannot tell".to_owned(),
            (None, WayKind::Otherwise) => "tried often enough".to_owned(),
            (None, _) => "next".to_owned(),
        }
    }
}

/// All ways on from a step, in file order. An ending has none. `otherwise` is one of them.
pub fn ways(step: &Step) -> Vec<Way<'_>> {
    let mut ways = own_ways(step);
    if let Some(otherwise) = &step.otherwise {
        ways.push(Way::plain(WayKind::Otherwise, None, Some(otherwise), otherwise.at));
    }
    ways.sort_by_key(|way| way.at.start);
    ways
}

fn own_ways(step: &Step) -> Vec<Way<'_>> {
    match &step.kind {
        StepKind::Ask(question) => {
            let answers = question.answers.iter().map(|answer| Way {
                effects: Some(&answer.effects),
                person: answer.person.as_ref().map(|person| person.value),
                fixed: answer.when.says_fixed(),
                when: Some(&answer.when),
                ..Way::plain(WayKind::Answer, answer.text.as_ref().map(|text| text.value.as_str().into()), answer.then.as_ref(), answer.at)
            });
            answers.chain(unsure(question.unsure.as_ref())).collect()
        }
        StepKind::Measure(measurement) => measurement_ways(measurement),
        StepKind::Do(action) => {
            let next = action.then.as_ref().map(|then| Way::plain(WayKind::Next, None, Some(then), then.at));
            next.into_iter().collect()
        }
        StepKind::CarryOut(carry_out) => carry_out.outcomes.iter().map(|way| named(WayKind::Outcome, way)).collect(),
        StepKind::ByModel(by_model) => {
            let models = by_model
                .ways
                .iter()
                .map(|(model, then)| Way::plain(WayKind::Model, Some(model.value.as_str().into()), Some(then), model.at));
            let others = by_model.others.iter().map(|then| Way::plain(WayKind::Model, Some("others".into()), Some(then), then.at));
            models.chain(others).collect()
        }
        StepKind::Unclear(_) => Vec::new(),
    }
}

fn unsure(target: Option<&At<Id>>) -> Option<Way<'_>> {
    target.map(|target| Way::plain(WayKind::Unsure, None, Some(target), target.at))
}

fn measurement_ways(measurement: &Measurement) -> Vec<Way<'_>> {
    let unit = measurement.unit.as_ref().map_or(Unit::NONE, |unit| unit.value);
    let sorted: Vec<Way<'_>> = match &measurement.sorting {
        Sorting::Bands(bands) => bands.iter().enumerate().map(|(index, band)| band_way(index, band, unit)).collect(),
        Sorting::Match(table) => match_ways(table),
        Sorting::Missing => Vec::new(),
    };
    sorted.into_iter().chain(unsure(measurement.unsure.as_ref())).collect()
}

fn band_way(index: usize, band: &Band, unit: Unit) -> Way<'_> {
    Way {
        effects: Some(&band.effects),
        fixed: band.when.says_fixed(),
        when: Some(&band.when),
        band: Some(index),
        ..Way::plain(WayKind::Band, Some(band_text(band, unit).into()), band.then.as_ref(), band.at)
    }
}

/// `below 65 mm`, `up to 48 °C`, `up to memory` (a figure of the model), `the rest`.
pub fn band_text(band: &Band, unit: Unit) -> String {
    let Some(limit) = &band.limit else { return "the rest".to_owned() };
    let side = if limit.inside { "up to" } else { "below" };
    match &limit.value.value {
        LimitValue::Number(number, None) if unit == Unit::NONE => format!("{side} {number}"),
        LimitValue::Number(number, None) => format!("{side} {number} {}", unit.as_str()),
        LimitValue::Number(number, Some(written)) => format!("{side} {number} {written}"),
        LimitValue::Figure(figure) => format!("{side} {figure}"),
    }
}

fn match_ways(table: &Match) -> Vec<Way<'_>> {
    let all = table.parts.iter().chain(&table.several).chain(&table.none);
    all.map(|way| named(WayKind::Part, way)).collect()
}

fn named(kind: WayKind, way: &NamedWay) -> Way<'_> {
    Way {
        fixed: way.when.says_fixed(),
        when: Some(&way.when),
        ..Way::plain(kind, Some(way.name.value.as_str().into()), way.then.as_ref(), way.name.at)
    }
}
