//! The sums of the trade: every number worked by hand, to its printed digits; the ranges; and vectors for the browser.

mod vectors;
mod worked;

use std::collections::{BTreeMap, BTreeSet};

use stepward::formula::check::{self, Range};
use stepward::text::id::Id;
use stepward::trade::sum::{Answer, Outcome, Sum, groups, sum};

/// A sum that must be there.
pub fn the(id: &str) -> &'static Sum {
    sum(id).unwrap_or_else(|| panic!("no sum `{id}`"))
}

/// The example's values with some of them changed.
pub fn changed<'s>(of: &'s Sum, values: &[(&'s str, f64)]) -> BTreeMap<&'s str, f64> {
    let mut all = of.example();
    for (name, value) in values {
        assert!(all.insert(name, *value).is_some(), "`{}` has no reading `{name}`", of.id);
    }
    all
}

/// One result as it is shown.
pub fn shown(id: &str, result: &str, values: &[(&str, f64)]) -> String {
    let of = the(id);
    let place = of.results.iter().position(|outcome| outcome.id == result).unwrap_or_else(|| panic!("`{id}` has no `{result}`"));
    match of.answers(&changed(of, values))[place] {
        Answer::Number(value) => of.results[place].shown(value).replace('\u{202f}', " ").replace('\u{2212}', "-"),
        other => format!("{other:?}"),
    }
}

fn all() -> impl Iterator<Item = &'static Sum> {
    groups().iter().flat_map(|group| &group.sums)
}

#[test]
fn every_sum_is_whole() {
    let mut ids = BTreeSet::new();
    for sum in all() {
        assert!(Id::new(&sum.id).fault().is_none() && ids.insert(&sum.id), "{}", sum.id);
        assert!(!sum.purpose.is_empty() && !sum.source.is_empty() && !sum.mind.is_empty(), "{}", sum.id);
        assert_ne!(sum.results.is_empty(), sum.work.is_none(), "{}: results or a work", sum.id);
        assert_eq!(sum.work.is_some(), sum.shown.is_some(), "{}", sum.id);
        let mut names: BTreeSet<&str> = BTreeSet::new();
        for input in &sum.inputs {
            assert!(names.insert(&input.id), "{}: `{}` twice", sum.id, input.id);
            let one_of = usize::from(!input.choices.is_empty()) + usize::from(input.colour) + usize::from(input.models);
            assert_eq!(one_of == 0, input.from < input.to, "{}: `{}` has a range, or is chosen", sum.id, input.id);
            assert!(one_of > 0 || (input.from..=input.to).contains(&input.value), "{}: example of `{}`", sum.id, input.id);
            assert!(!input.choices.is_empty() || input.models || !input.slip.is_empty(), "{}: `{}` names no slip", sum.id, input.id);
            assert!(input.choices.is_empty() || input.choices.iter().any(|(_, value)| *value == input.value), "{}: {}", sum.id, input.id);
        }
        for outcome in &sum.results {
            let needs = outcome.needs.iter().flat_map(|need| need.formula.formula.names());
            let used: Vec<&str> = outcome.formula.formula.names().into_iter().chain(needs).collect();
            assert!(used.iter().all(|name| names.contains(name)), "{}: `{}` uses {used:?}", sum.id, outcome.id);
            assert!(names.insert(&outcome.id), "{}: `{}` twice", sum.id, outcome.id);
        }
    }
    assert!(ids.len() >= 30, "{} sums", ids.len());
}

/// The value at the edges of every range and the middle: all combinations while there are few, else each reading moved by itself.
fn corners(sum: &Sum) -> Vec<BTreeMap<&str, f64>> {
    let mut all = vec![BTreeMap::new()];
    for input in &sum.inputs {
        let values = match input.choices.is_empty() {
            true => vec![input.from, input.to, input.value],
            false => input.choices.iter().map(|(_, value)| *value).collect(),
        };
        all = all
            .iter()
            .flat_map(|point| {
                values.iter().map(move |value| {
                    let mut point: BTreeMap<&str, f64> = point.clone();
                    point.insert(&input.id, *value);
                    point
                })
            })
            .collect();
        assert!(all.len() < 300_000, "{}", sum.id);
    }
    all
}

/// A sum without needs has a value wherever its readings lie, by proof; one with needs has a value wherever they are met, at every corner.
#[test]
fn every_sum_has_a_value_in_its_ranges() {
    let (mut proved, mut tried) = (0, 0);
    for sum in all().filter(|sum| sum.work.is_none()) {
        if sum.results.iter().all(|outcome| outcome.needs.is_none()) && prove(sum) {
            proved += 1;
            continue;
        }
        for point in corners(sum) {
            for (answer, outcome) in sum.answers(&point).into_iter().zip(&sum.results) {
                assert_ne!(answer, Answer::Nothing, "{}: `{}` at {point:?}", sum.id, outcome.id);
                tried += 1;
            }
        }
    }
    assert!(proved >= 20 && tried > 500, "{proved} proved, {tried} tried");
}

fn prove(sum: &Sum) -> bool {
    let mut ranges: BTreeMap<&str, Range> = BTreeMap::new();
    for input in &sum.inputs {
        let chosen = input.choices.iter().map(|(_, value)| *value);
        let (low, high) = chosen.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        ranges.insert(&input.id, if input.choices.is_empty() { Range { low: input.from, high: input.to } } else { Range { low, high } });
    }
    let mut each = |outcome: &'static Outcome| match check::range(&outcome.formula.formula, &|name| ranges.get(name).copied()) {
        Ok(range) => ranges.insert(&outcome.id, range).is_none(),
        Err(_) => false,
    };
    // The sums live as long as the program does.
    all().filter(|one| one.id == sum.id).flat_map(|one| &one.results).all(&mut each)
}

#[test]
fn a_need_that_is_not_met_is_said_and_nothing_builds_on_it() {
    assert!(shown("cooling-time", "wait", &[("room", 40.0), ("safe", 42.0)]).contains("The room is too warm"));
    assert!(shown("load", "months", &[("since", 200_001.0)]).contains("overdue"));
    assert!(shown("first-time-fix", "low", &[("good", 51.0)]).contains("More fixes than visits"));
    assert!(shown("dew-point", "wait", &[("humidity", 95.0)]).contains("so damp"));
    assert_eq!(shown("dew-point", "wait", &[("start", 23.0)]), "0");
}
