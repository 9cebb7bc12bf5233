//! What a measurement asks for: blanks with unit and range, the formula, and the figures of the models it needs.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use crate::model::equipment::Model;
use crate::model::procedure::Procedure;
use crate::model::step::{LimitValue, Measurement, Sorting};
use crate::render::escape;
use crate::render::frame::Frame;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::{Quantity, Unit};

/// Everything somebody needs to take the reading by hand.
pub fn blanks(frame: &Frame<'_>, procedure: &Procedure, measurement: &Measurement) -> String {
    let mut out = String::new();
    for reading in &measurement.readings {
        let name = reading.ask.as_ref().map_or(reading.id.as_str(), |ask| ask.value.as_str());
        let whole = if reading.whole { frame.word("step", "whole") } else { String::new() };
        let label = format!("{} <span class=\"figures\">({})</span>", escape::text(name), escape::text(reading.id.as_str()));
        out.push_str(&blank(frame, &label, reading.unit.as_ref(), (&reading.from, &reading.to), &whole));
    }
    if let Some(formula) = &measurement.formula {
        out.push_str(&format!("<p>{}: <code>{}</code></p>\n", frame.word("step", "formula"), escape::text(formula)));
    }
    out.push_str(&blank(frame, &frame.word("step", "result"), measurement.unit.as_ref(), (&measurement.from, &measurement.to), ""));
    out.push_str(&figures(frame, procedure, measurement));
    out.push_str(&repeats(frame, procedure, measurement));
    out
}

type Edges<'a> = (&'a Option<At<Decimal>>, &'a Option<At<Decimal>>);

fn blank(frame: &Frame<'_>, label: &str, unit: Option<&At<Unit>>, (from, to): Edges<'_>, note: &str) -> String {
    let unit = escape::text(unit.map_or("", |unit| unit.value.as_str()));
    let edge = |value: &Option<At<Decimal>>| value.as_ref().map(|value| value.value.to_string()).unwrap_or_default();
    let (low, high) = (edge(from), edge(to));
    let range = frame.fill("step", "range", &[("from", &low), ("to", &high), ("unit", &unit)]);
    format!(
        "<div class=\"reading\"><div>{label}<br><span class=\"reading__range\">{} {note}</span></div><div class=\"reading__blank\">{}</div></div>\n",
        range.trim_end(),
        if unit.is_empty() { "&nbsp;" } else { &unit },
    )
}

/// The figures of each model that the formula or a band's edge names.
fn figures(frame: &Frame<'_>, procedure: &Procedure, measurement: &Measurement) -> String {
    let mut names: BTreeSet<Id> = BTreeSet::new();
    if let Sorting::Bands(bands) = &measurement.sorting {
        for band in bands {
            if let Some(LimitValue::Figure(figure)) = band.limit.as_ref().map(|limit| &limit.value.value) {
                names.insert(figure.clone());
            }
        }
    }
    let formula = measurement.formula.as_ref().map_or("", |formula| formula.value.as_str());
    let words = formula.split(|c: char| !c.is_ascii_alphanumeric() && c != '-').filter(|word| !word.is_empty());
    names.extend(words.map(Id::new).filter(|word| measurement.readings.iter().all(|reading| reading.id != *word)));
    let rows = names.iter().map(|name| (escape::text(&name.as_str().replace('-', " ")), name));
    by_model(frame, procedure, ("figures", "figure"), rows, |model, name| model.figure(name))
}

/// The distances of each part on each model, for a reading that is matched with them.
fn repeats(frame: &Frame<'_>, procedure: &Procedure, measurement: &Measurement) -> String {
    let Sorting::Match(matched) = &measurement.sorting else { return String::new() };
    let rows = matched.parts.iter().map(|part| (frame.part_title(&part.name), &part.name.value));
    let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
    let within = matched.within.as_ref().map(|within| within.value.to_string()).unwrap_or_default();
    let note = frame.fill("step", "within", &[("value", &within), ("unit", unit)]);
    format!("<p>{note}</p>\n{}", by_model(frame, procedure, ("repeats", "part"), rows, |model, part| model.repeat(part)))
}

/// A table with a column for each model and a row for each name that any of them has a value for; nothing if there is no such row.
fn by_model<'n>(
    frame: &Frame<'_>,
    procedure: &Procedure,
    (caption, first): (&str, &str),
    names: impl Iterator<Item = (String, &'n Id)>,
    value: impl for<'m> Fn(&'m Model, &Id) -> Option<&'m At<Quantity>>,
) -> String {
    let models: Vec<&Model> = frame.library.models_of(procedure).into_iter().filter_map(|id| frame.library.equipment.model(id)).collect();
    let mut rows = String::new();
    for (title, name) in names {
        let values: Vec<_> = models.iter().map(|model| value(model, name)).collect();
        if values.iter().any(Option::is_some) {
            let cell =
                |found: &Option<&At<Quantity>>| found.map_or_else(|| frame.word("page", "none"), |found| escape::text(&found.to_string()));
            let cells: String = values.iter().map(|found| format!("<td>{}</td>", cell(found))).collect();
            rows.push_str(&format!("<tr><th scope=\"row\">{title}</th>{cells}</tr>"));
        }
    }
    if rows.is_empty() {
        return String::new();
    }
    let (caption, first) = (frame.word("step", caption), frame.word("step", first));
    let heads: String = models.iter().map(|model| format!("<th scope=\"col\">{}</th>", escape::text(model.title()))).collect();
    format!(
        "<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{caption}\"><table><caption class=\"out-of-sight\">{caption}</caption>\
         <thead><tr><th scope=\"col\">{first}</th>{heads}</tr></thead><tbody>{rows}</tbody></table></div>\n"
    )
}
