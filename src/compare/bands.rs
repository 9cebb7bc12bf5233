//! Which measured values go elsewhere: both steps' limits cut the values into stretches, and each stretch is led by one band on either side.

use rust_decimal::Decimal;

use crate::compare::change::{Changes, Spot};
use crate::compare::kind;
use crate::compare::steps::Pair;
use crate::model::equipment::Model;
use crate::model::step::{Band, Effects, LimitValue, Measurement, Sorting};
use crate::text::place::At;

/// An upper edge: the value, and whether it lies inside.
pub type Edge = (Decimal, bool);

/// Whether the bands of both have the same limits, one by one (or neither has bands).
pub fn same_limits(old: &Measurement, new: &Measurement) -> bool {
    let limits = |it: &Measurement| {
        bands(it).map(|bands| bands.iter().map(|band| band.limit.as_ref().map(|it| it.value.clone())).collect::<Vec<_>>())
    };
    limits(old) == limits(new)
}

pub fn uses_figures(old: &Measurement, new: &Measurement) -> bool {
    let figure = |band: &Band| band.limit.as_ref().is_some_and(|limit| matches!(limit.value.value, LimitValue::Figure(_)));
    [old, new].into_iter().filter_map(bands).flatten().any(figure)
}

fn bands(measurement: &Measurement) -> Option<&[Band]> {
    match &measurement.sorting {
        Sorting::Bands(bands) => Some(bands),
        Sorting::Match(_) | Sorting::Missing => None,
    }
}

/// The upper edge of each band for a model; the last one's is `to`. `None` if one is not known.
pub fn edges(measurement: &Measurement, model: Option<&Model>) -> Option<Vec<Edge>> {
    let edge = |band: &Band| match &band.limit {
        None => Some((measurement.to.as_ref()?.value, true)),
        Some(At { value: limit, .. }) => match &limit.value {
            LimitValue::Number(number, _) => Some((*number, limit.inside)),
            LimitValue::Figure(name) => Some((model?.figure(name)?.value.value, limit.inside)),
        },
    };
    bands(measurement)?.iter().map(edge).collect()
}

/// The band that leads the values just below (or, inside, at) an upper edge; `None` outside `from`..`to`.
pub fn band_at(measurement: &Measurement, edges: &[Edge], edge: Edge) -> Option<usize> {
    let from = measurement.from.as_ref()?.value;
    let to = measurement.to.as_ref()?.value;
    if edge.0 > to || edge.0 < from || (edge.0 == from && !edge.1) {
        return None;
    }
    edges.iter().position(|limit| edge <= *limit)
}

/// A stretch of values that lead elsewhere.
struct Moved {
    low: Edge,
    high: Edge,
    old: Option<usize>,
    new: Option<usize>,
}

pub fn compare(pair: Pair<'_>, spot: Spot<'_>, old: &Measurement, new: &Measurement, out: &mut Changes<'_>) {
    let (Some(before), Some(after)) = (bands(old), bands(new)) else {
        let id = spot.step.map(ToString::to_string).unwrap_or_default();
        out.add(&kind::MEASURED_OTHERWISE, spot, format!("`{id}` sorts its readings in another way"));
        return;
    };
    if !uses_figures(old, new) {
        for (moved, text) in stretches(old, new, None, None) {
            tell(spot, (before, after), &moved, &text, "", out);
        }
        return;
    }
    let models = pair.libraries.1.models_of(pair.new);
    let mut told: Vec<String> = Vec::new();
    for model in models {
        let (was, is) = (pair.libraries.0.equipment.model(model), pair.libraries.1.equipment.model(model));
        if same_limits(old, new) && edges(old, was) == edges(new, is) {
            continue;
        }
        for (moved, text) in stretches(old, new, was, is) {
            let on = format!(" on `{model}`");
            if !told.contains(&format!("{text}{on}")) {
                tell(spot, (before, after), &moved, &text, &on, out);
                told.push(format!("{text}{on}"));
            }
        }
    }
}

/// The stretches on which the two differ in target or in what is changed, each in words.
fn stretches(old: &Measurement, new: &Measurement, was: Option<&Model>, is: Option<&Model>) -> Vec<(Moved, String)> {
    let (Some(olds), Some(news)) = (edges(old, was), edges(new, is)) else { return Vec::new() };
    let start = |it: &Measurement| it.from.as_ref().map(|from| (from.value, false));
    let mut cuts: Vec<Edge> = olds.iter().chain(&news).copied().chain(start(old)).chain(start(new)).collect();
    cuts.sort();
    cuts.dedup();
    let mut found: Vec<Moved> = Vec::new();
    for window in cuts.windows(2) {
        let [low, high] = *window else { continue };
        let (led, leads) = (band_at(old, &olds, high), band_at(new, &news, high));
        if same(old, new, led, leads) {
            continue;
        }
        match found.last_mut() {
            Some(last) if last.high == low && last.old == led && last.new == leads => last.high = high,
            _ => found.push(Moved { low, high, old: led, new: leads }),
        }
    }
    let unit = new.unit.as_ref().map_or("", |unit| unit.value.as_str());
    found.into_iter().map(|moved| (stretch(&moved, unit), moved)).map(|(text, moved)| (moved, text)).collect()
}

/// `from 48 up to 50 °C`, `above 48 below 50 °C`.
fn stretch(moved: &Moved, unit: &str) -> String {
    let ((low, below), (high, inside)) = (moved.low, moved.high);
    let text = if low == high {
        format!("just {high}")
    } else {
        let from = if below { "above" } else { "from" };
        let to = if inside { "up to" } else { "below" };
        format!("{from} {} {to} {}", low.normalize(), high.normalize())
    };
    format!("{text} {unit}").trim_end().to_owned()
}

fn same(old: &Measurement, new: &Measurement, led: Option<usize>, leads: Option<usize>) -> bool {
    let band = |it: &Measurement, index: Option<usize>| index.and_then(|index| bands(it)?.get(index).cloned());
    match (band(old, led), band(new, leads)) {
        (None, None) => true,
        (Some(was), Some(is)) => target(&was) == target(&is) && changes(&was.effects) == changes(&is.effects),
        _ => false,
    }
}

fn target(band: &Band) -> String {
    band.then.as_ref().map_or_else(|| "nowhere".to_owned(), |then| then.value.to_string())
}

fn changes(effects: &Effects) -> String {
    let list = |verb: &str, ids: &[At<crate::text::id::Id>]| ids.iter().map(|id| format!("{verb} {}", id.value)).collect::<Vec<_>>();
    let mut all = list("clears", &effects.clears);
    all.extend(list("sets", &effects.sets));
    if all.is_empty() { "changes nothing".to_owned() } else { all.join(", ") }
}

fn tell(spot: Spot<'_>, (before, after): (&[Band], &[Band]), moved: &Moved, text: &str, on: &str, out: &mut Changes<'_>) {
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    let (was, is) = (moved.old.and_then(|index| before.get(index)), moved.new.and_then(|index| after.get(index)));
    let spot = spot.at(was.map(|band| band.at), is.map(|band| band.at));
    let leads = |band: Option<&Band>| band.map_or_else(|| "nowhere (refused)".to_owned(), target);
    if leads(was) != leads(is) {
        let message = format!("`{id}`: {text} leads to `{}` now, before to `{}`{on}", leads(is), leads(was));
        out.add(&kind::VALUES_MOVED, spot, message).subject(text).words(Some(leads(was)), Some(leads(is)));
    }
    let does = |band: Option<&Band>| band.map_or_else(|| "is refused".to_owned(), |band| changes(&band.effects));
    if does(was) != does(is) && was.is_some() && is.is_some() {
        let message = format!("`{id}`: {text} {} now, before it {}{on}", does(is), does(was));
        out.add(&kind::EFFECT_OF_VALUES, spot, message).subject(text).words(Some(does(was)), Some(does(is)));
    }
}
