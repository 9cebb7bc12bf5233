//! What differs from model to model, said in one line: the edge of a band that is a figure, and a way for one model. Plain text, not markup.

use std::collections::BTreeSet;

use crate::finding::WayKind;
use crate::flow::graph::Way;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Limit, LimitValue, Sorting, Step, StepKind};
use crate::text::id::Id;
use crate::text::quantity::Quantity;

/// The values of a figure on the models that a procedure is for, or on one of them, each once and in order. Empty if none has it.
fn values(library: &Library, procedure: &Procedure, only: Option<&str>, figure: &Id) -> Vec<Quantity> {
    let asked = library.models_of(procedure).into_iter().filter(|id| only.is_none_or(|only| id.as_str() == only));
    let models = asked.filter_map(|id| library.equipment.model(id));
    let found: BTreeSet<_> =
        models.filter_map(|model| model.figure(figure)).map(|figure| (figure.value.value, figure.value.unit)).collect();
    found.into_iter().map(|(value, unit)| Quantity { value, unit }).collect()
}

/// The value of a figure, or the least and the most of its values, in numbers of this unit; with units of their own if they have others.
pub fn figure(library: &Library, procedure: &Procedure, only: Option<&str>, figure: &Id, unit: &str) -> Option<Edge> {
    let values = values(library, procedure, only, figure);
    let same = values.iter().all(|quantity| quantity.unit.as_str() == unit);
    let said = |quantity: &Quantity| if same { quantity.value.to_string() } else { quantity.to_string() };
    match values.as_slice() {
        [] => None,
        [one] => Some(Edge::One(said(one))),
        [least, .., most] => Some(Edge::Many(said(least), said(most))),
    }
}

/// What a figure comes to.
pub enum Edge {
    One(String),
    /// The least and the most of the models.
    Many(String, String),
}

/// The words of a way where there is little room: figures as values, of all models or of `only` one; a model by its name up to the comma.
pub fn way_words(library: &Library, procedure: &Procedure, only: Option<&str>, step: &Step, way: &Way<'_>) -> String {
    let own = way.text.as_deref().unwrap_or_default();
    match (way.kind, &step.kind, way.band) {
        (WayKind::Model, ..) => match library.equipment.model(&Id::new(own)) {
            Some(model) => model.title().split(',').next().unwrap_or_default().trim().to_owned(),
            None => way.words(),
        },
        (WayKind::Band, StepKind::Measure(measurement), Some(index)) => {
            let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
            let Sorting::Bands(bands) = &measurement.sorting else { return way.words() };
            let limit = bands.get(index).and_then(|band| band.limit.as_ref());
            let Some(Limit { inside, value: LimitValue::Figure(id) }) = limit.map(|limit| &limit.value) else { return way.words() };
            let side = if *inside { "up to" } else { "below" };
            match figure(library, procedure, only, id, unit) {
                Some(Edge::One(value)) => format!("{side} {value} {unit}").trim_end().to_owned(),
                Some(Edge::Many(least, most)) if unit.is_empty() => format!("{side} {least}–{most} by model"),
                Some(Edge::Many(least, most)) => format!("{side} {least}–{most} {unit} by model"),
                None => way.words(),
            }
        }
        _ => way.words(),
    }
}
