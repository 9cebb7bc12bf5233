//! What changed in the ways on from a step: where they lead, which there are, what each changes.

use crate::compare::bands;
use crate::compare::change::{Changes, Spot};
use crate::compare::effects;
use crate::compare::kind;
use crate::compare::pair::{LEAST_LIKENESS, likeness};
use crate::compare::said::plain;
use crate::compare::steps::Pair;
use crate::finding::WayKind;
use crate::flow::graph::{Way, ways};
use crate::formula::Formula;
use crate::model::catalogue::Person;
use crate::model::step::{Effects, Measurement, NamedWay, Sorting, Step, StepKind, When};
use crate::text::id::Id;
use crate::text::place::At;

pub fn compare(pair: Pair<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let spot = pair.step(old, new);
    let mut except_bands = false;
    if let (StepKind::Measure(before), StepKind::Measure(after)) = (&old.kind, &new.kind) {
        measured(spot, before, after, out);
        // Bands with the same limits are told like answers; with other limits it is the values that matter.
        except_bands = !bands::same_limits(before, after);
        if except_bands || bands::uses_figures(before, after) {
            bands::compare(pair, spot, before, after, out);
        }
    }
    if let (StepKind::CarryOut(before), StepKind::CarryOut(after)) = (&old.kind, &new.kind)
        && before.procedure.value != after.procedure.value
    {
        let (was, is) = (&before.procedure, &after.procedure);
        let message = format!("`{}` carries out `{}` now, before `{}`", new.id, is.value, was.value);
        let words = (Some(was.value.to_string()), Some(is.value.to_string()));
        out.add(&kind::CARRIES_OUT_OTHER, spot.at(Some(was.at), Some(is.at)), message).subject(is.as_str()).words(words.0, words.1);
    }
    let keep = |way: &Way<'_>| !(except_bands && way.kind == WayKind::Band);
    let (before, after): (Vec<_>, Vec<_>) = (ways(old).into_iter().filter(keep).collect(), ways(new).into_iter().filter(keep).collect());
    let matched = matched(spot, &before, &after, out);
    targets(spot, &matched, out);
    for (was, is) in &matched {
        alone(spot, was, is, out);
    }
    whens(spot, old, new, out);
}

/// Whether two ways of a step are one: by kind and text.
fn same(old: &Way<'_>, new: &Way<'_>) -> bool {
    old.kind == new.kind && old.text.as_deref().map(plain) == new.text.as_deref().map(plain)
}

/// Ways of both, and what was reworded, is gone, is new or stands in another order.
fn matched<'w, 'a>(spot: Spot<'_>, old: &'w [Way<'a>], new: &'w [Way<'a>], out: &mut Changes<'_>) -> Vec<(&'w Way<'a>, &'w Way<'a>)> {
    let mut pairs: Vec<(&Way<'_>, &Way<'_>)> =
        old.iter().filter_map(|was| new.iter().find(|is| same(was, is)).map(|is| (was, is))).collect();
    let left: Vec<&Way<'_>> = old.iter().filter(|was| !new.iter().any(|is| same(was, is))).collect();
    let mut right: Vec<&Way<'_>> = new.iter().filter(|is| !old.iter().any(|was| same(was, is))).collect();
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    for was in left {
        let like = |is: &&Way<'_>| {
            let texts = (was.text.as_deref().unwrap_or_default(), is.text.as_deref().unwrap_or_default());
            let led = |way: &Way<'_>| way.then.map(|then| then.value.clone());
            is.kind == WayKind::Answer
                && was.kind == WayKind::Answer
                && (likeness(texts.0, texts.1) >= LEAST_LIKENESS || led(was) == led(is))
        };
        match right.iter().position(like) {
            Some(index) => {
                let is = right.remove(index);
                let message = format!("an answer of `{id}` has other words");
                let change = out.add(&kind::ANSWER_REWORDED, spot.at(Some(was.at), Some(is.at)), message);
                change.words(was.text.as_deref().map(plain), is.text.as_deref().map(plain));
                pairs.push((was, is));
            }
            None => {
                let to = was.then.map(|then| format!(", which led to `{}`", then.value)).unwrap_or_default();
                let message = format!("`{id}` has no way \"{}\" any more{to}", was.words());
                out.add(&kind::WAY_GONE, spot.at(Some(was.at), None), message).subject(was.words()).words(Some(was.words()), None);
                if let Some(effects) = was.effects {
                    effects::compare(spot, &format!("`{id}`, \"{}\",", was.words()), effects, &Effects::default(), out);
                }
            }
        }
    }
    for is in right {
        let to = is.then.map(|then| format!(", which leads to `{}`", then.value)).unwrap_or_default();
        let message = format!("`{id}` has the new way \"{}\"{to}", is.words());
        out.add(&kind::WAY_NEW, spot.at(None, Some(is.at)), message).subject(is.words()).words(None, Some(is.words()));
        if let Some(effects) = is.effects {
            effects::compare(spot, &format!("`{id}`, \"{}\",", is.words()), &Effects::default(), effects, out);
        }
    }
    reordered(spot, &pairs, out);
    pairs
}

fn reordered(spot: Spot<'_>, pairs: &[(&Way<'_>, &Way<'_>)], out: &mut Changes<'_>) {
    // Only the order of what a person chooses from counts.
    let mut chosen: Vec<_> = pairs.iter().filter(|(was, _)| was.kind == WayKind::Answer).collect();
    chosen.sort_by_key(|(was, _)| was.at.start);
    let before: Vec<String> = chosen.iter().map(|(_, is)| is.words()).collect();
    chosen.sort_by_key(|(_, is)| is.at.start);
    let after: Vec<String> = chosen.iter().map(|(_, is)| is.words()).collect();
    if before != after {
        let id = spot.step.map(ToString::to_string).unwrap_or_default();
        let words = (Some(before.join(" / ")), Some(after.join(" / ")));
        out.add(&kind::WAYS_REORDERED, spot, format!("the answers of `{id}` stand in another order")).words(words.0, words.1);
    }
}

fn leads(way: &Way<'_>) -> String {
    way.then.map_or_else(|| "nowhere".to_owned(), |then| then.value.to_string())
}

/// Two ways that exchanged where they lead are told as that, before any other change of a target.
fn targets(spot: Spot<'_>, pairs: &[(&Way<'_>, &Way<'_>)], out: &mut Changes<'_>) {
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    let changed: Vec<_> = pairs.iter().filter(|(was, is)| leads(was) != leads(is)).collect();
    let mut told = vec![false; changed.len()];
    for i in 0..changed.len() {
        let other = (i + 1..changed.len()).find(|j| {
            let ((a, b), (c, d)) = (changed[i], changed[*j]);
            !told[i] && !told[*j] && leads(a) == leads(d) && leads(b) == leads(c)
        });
        let Some(j) = other else { continue };
        (told[i], told[j]) = (true, true);
        let ((was, is), (_, second)) = (changed[i], changed[j]);
        let message = format!("\"{}\" and \"{}\" of `{id}` exchanged where they lead", is.words(), second.words());
        let line = |first: String, next: String| Some(format!("{} → {first}; {} → {next}", is.words(), second.words()));
        let words = (line(leads(was), leads(changed[j].0)), line(leads(is), leads(second)));
        let place = |way: &Way<'_>| Some(way.then.map_or(way.at, |then| then.at));
        out.add(&kind::TARGETS_SWAPPED, spot.at(place(was), place(is)), message).words(words.0, words.1);
    }
    for ((was, is), _) in changed.iter().zip(&told).filter(|(_, told)| !**told) {
        let message = format!("`{id}`, \"{}\", leads to `{}` now, before to `{}`", is.words(), leads(is), leads(was));
        let place = |way: &Way<'_>| Some(way.then.map_or(way.at, |then| then.at));
        let change = out.add(&kind::TARGET_CHANGED, spot.at(place(was), place(is)), message);
        change.subject(is.words()).words(Some(leads(was)), Some(leads(is)));
    }
}

/// What a way does beside leading somewhere.
fn alone(spot: Spot<'_>, was: &Way<'_>, is: &Way<'_>, out: &mut Changes<'_>) {
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    let spot = spot.at(Some(was.at), Some(is.at));
    let what = format!("`{id}`, \"{}\",", is.words());
    if let (Some(before), Some(after)) = (was.effects, is.effects) {
        effects::compare(spot, &what, before, after, out);
    }
    if was.person != is.person {
        let says = |person: Option<Person>| person.map_or("nobody else", Person::as_str);
        let claimed = is.person > was.person;
        let kind = if claimed { &kind::PERSON_CLAIMED } else { &kind::PERSON_UNCLAIMED };
        let message = format!("from {what} on the person is taken to be {}, before {}", says(is.person), says(was.person));
        out.add(kind, spot, message).words(Some(says(was.person).to_owned()), Some(says(is.person).to_owned()));
    }
    if was.fixed != is.fixed {
        let verb = if is.fixed { "now says" } else { "no longer says" };
        out.add(&kind::CHECK_CHANGED, spot, format!("{what} {verb} that the cure was checked and holds")).subject(is.words());
    }
}

/// How a value comes about: unit, range, readings, formula, table.
fn measured(spot: Spot<'_>, old: &Measurement, new: &Measurement, out: &mut Changes<'_>) {
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    let range = |it: &Measurement| {
        let edge =
            |edge: &Option<At<rust_decimal::Decimal>>| edge.as_ref().map_or_else(|| "?".to_owned(), |it| it.value.normalize().to_string());
        format!("{} to {}", edge(&it.from), edge(&it.to))
    };
    if range(old) != range(new) {
        let message = format!("`{id}` takes readings of {} now, before of {}", range(new), range(old));
        out.add(&kind::RANGE_CHANGED, spot, message).words(Some(range(old)), Some(range(new)));
    }
    let unit = |it: &Measurement| it.unit.as_ref().map_or("none", |unit| unit.value.as_str()).to_owned();
    let formula = |it: &Measurement| it.formula.as_ref().map(|text| plain(text));
    let tokens = |it: &Measurement| it.formula.as_ref().map(|text| Formula::parse(text).map_err(|_| plain(text)));
    let readings = |it: &Measurement| {
        let edge = |edge: &Option<At<rust_decimal::Decimal>>| edge.as_ref().map(|it| it.value.normalize().to_string()).unwrap_or_default();
        let one = |it: &crate::model::step::Reading| {
            let ask = it.ask.as_ref().map(|ask| plain(ask)).unwrap_or_default();
            let unit = it.unit.as_ref().map_or("", |unit| unit.value.as_str());
            let whole = if it.whole { ", whole" } else { "" };
            format!("{}: {ask}, {} to {} {unit}{whole}", it.id, edge(&it.from), edge(&it.to))
        };
        it.readings.iter().map(one).collect::<Vec<_>>().join("; ")
    };
    let mut told = |what: &str, was: Option<String>, is: Option<String>| {
        out.add(&kind::MEASURED_OTHERWISE, spot, format!("`{id}`: {what} changed")).words(was, is);
    };
    if unit(old) != unit(new) {
        told("its unit", Some(unit(old)), Some(unit(new)));
    }
    if tokens(old) != tokens(new) {
        told("its formula", formula(old), formula(new));
    }
    if readings(old) != readings(new) {
        told("its readings", Some(readings(old)), Some(readings(new)));
    }
    let table = |it: &Measurement| match &it.sorting {
        Sorting::Match(table) => {
            let name = table.table.as_ref().map(|it| it.value.to_string()).unwrap_or_default();
            let within = table.within.as_ref().map(|it| it.value.normalize().to_string()).unwrap_or_default();
            Some(format!("table {name}, within {within}"))
        }
        Sorting::Bands(_) | Sorting::Missing => None,
    };
    if table(old) != table(new) {
        told("the table its readings are matched with", table(old), table(new));
    }
}

/// Which faults give which answer.
fn whens(spot: Spot<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let (before, after) = (all_whens(old), all_whens(new));
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    for (name, when) in &after {
        let Some((_, was)) = before.iter().find(|(other, _)| other == name) else { continue };
        if was != when {
            let message = format!("`{id}`, \"{name}\", is given by other faults or chances");
            out.add(&kind::WHEN_CHANGED, spot, message).subject(name).words(Some(was.clone()), Some(when.clone()));
        }
    }
}

fn all_whens(step: &Step) -> Vec<(String, String)> {
    let named = |way: &NamedWay| (way.name.value.as_str().replace('-', " "), when(&way.when));
    match &step.kind {
        StepKind::Ask(question) => question
            .answers
            .iter()
            .map(|answer| (answer.text.as_ref().map(|it| plain(it)).unwrap_or_default(), when(&answer.when)))
            .collect(),
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(list) => {
                let unit = measurement.unit.as_ref().map_or(crate::text::quantity::Unit::NONE, |unit| unit.value);
                list.iter().map(|band| (crate::flow::graph::band_text(band, unit), when(&band.when))).collect()
            }
            Sorting::Match(table) => table.parts.iter().chain(&table.several).chain(&table.none).map(named).collect(),
            Sorting::Missing => Vec::new(),
        },
        StepKind::CarryOut(carry_out) => carry_out.outcomes.iter().map(named).collect(),
        StepKind::Do(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => Vec::new(),
    }
}

fn when(when: &When) -> String {
    match when {
        When::Unsaid => "unsaid".to_owned(),
        When::Rest(_) => "every other fault".to_owned(),
        When::Faults(faults) => {
            let one = |(id, chance): &(At<Id>, Option<At<rust_decimal::Decimal>>)| match chance {
                Some(chance) => format!("{} {}", id.value, chance.value.normalize()),
                None => id.value.to_string(),
            };
            let mut all: Vec<String> = faults.iter().map(one).collect();
            all.sort();
            all.join(", ")
        }
    }
}
