//! Sums that take more than an expression. Each gives rows: the key of a sentence of the interface, and the values in it (`script/trade/work.js`).

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::trade::number::{Digits, shown};
use crate::trade::order::{self, Check};
use crate::trade::roller::{self, Roller, SURE};
use crate::trade::{colour, count, paper};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Work {
    WhichRoller,
    PaperSize,
    JamRate,
    CheckOrder,
    Contrast,
}

/// A sentence of the interface with its values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    pub key: &'static str,
    pub values: Vec<(&'static str, String)>,
}

fn row(key: &'static str, values: Vec<(&'static str, String)>) -> Row {
    Row { key, values }
}

impl Work {
    pub fn as_str(self) -> &'static str {
        match self {
            Work::WhichRoller => "which-roller",
            Work::PaperSize => "paper-size",
            Work::JamRate => "jam-rate",
            Work::CheckOrder => "check-order",
            Work::Contrast => "contrast",
        }
    }

    /// The rows for these readings; `rollers` are those of the chosen model.
    pub fn rows(self, values: &BTreeMap<&str, f64>, rollers: &[Roller]) -> Vec<Row> {
        let of = |name: &str| values.get(name).copied().unwrap_or(0.0);
        match self {
            Work::WhichRoller => which_roller(rollers, of("length"), of("gaps")),
            Work::PaperSize => paper_size(of("width"), of("length")),
            Work::JamRate => jam_rate(of("faults"), of("sheets")),
            Work::CheckOrder => check_order(&checks(values), of("setup")),
            Work::Contrast => contrast(of("front"), of("ground")),
        }
    }
}

fn places(value: f64, places: u32) -> String {
    shown(value, Digits::Places(places))
}

fn which_roller(rollers: &[Roller], length: f64, gaps: f64) -> Vec<Row> {
    let step = length / gaps;
    let mut rows = vec![row("roller-step", vec![("step", places(step, 1)), ("doubt", places(roller::doubt(gaps), 2))])];
    match roller::shares(rollers, step, gaps) {
        None => rows.push(row("roller-none", vec![])),
        Some(shares) => {
            let mut all: Vec<(&Roller, f64)> = rollers.iter().zip(shares).filter(|(_, share)| *share >= 0.005).collect();
            all.sort_by(|a, b| b.1.total_cmp(&a.1));
            let sure = all.first().is_some_and(|(_, share)| *share >= SURE);
            rows.extend(all.into_iter().map(|(one, share)| {
                let values = vec![("roller", one.name.clone()), ("distance", places(one.distance, 1)), ("share", places(share * 100.0, 1))];
                row("roller-share", values)
            }));
            rows.push(match (sure, roller::gaps_to_measure(rollers, step, gaps)) {
                (true, _) => row("roller-sure", vec![]),
                (false, Some(gaps)) => row("roller-more", vec![("gaps", gaps.to_string())]),
                (false, None) => row("roller-alike", vec![]),
            });
        }
    }
    rows.extend(roller::multiples(rollers, step).into_iter().filter_map(|(place, times)| {
        let one = rollers.get(place)?;
        Some(row(
            "roller-multiple",
            vec![("roller", one.name.clone()), ("distance", places(one.distance, 1)), ("times", times.to_string())],
        ))
    }));
    rows
}

fn paper_size(width: f64, length: f64) -> Vec<Row> {
    let fits = paper::sizes_of(width, length);
    let line = |key, size: &paper::Size| {
        row(key, vec![("size", size.name.to_owned()), ("width", places(size.width, 1)), ("length", places(size.length, 1))])
    };
    if fits.is_empty() {
        let near = paper::sizes_of_width(width).into_iter().map(|size| line("paper-width", size));
        return [row("paper-none", vec![])].into_iter().chain(near).collect();
    }
    fits.into_iter().map(|size| line("paper-fits", size)).collect()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between 0 and 500")]
fn jam_rate(faults: f64, sheets: f64) -> Vec<Row> {
    let (low, high) = count::poisson_limits(faults as u32);
    let thousand = |count: f64| shown(count / sheets * 1000.0, Digits::Figures(2));
    vec![row("jam-rate", vec![("rate", thousand(faults)), ("low", thousand(low)), ("high", thousand(high))])]
}

fn checks(values: &BTreeMap<&str, f64>) -> Vec<Check> {
    let of = |name: String| values.get(name.as_str()).copied();
    (1..)
        .map_while(|n| {
            let (share, minutes) = (of(format!("share-{n}"))?, of(format!("minutes-{n}"))?);
            Some(Check { share: share / 100.0, minutes, after_setup: of(format!("after-{n}")) == Some(1.0) })
        })
        .collect()
}

fn check_order(checks: &[Check], setup: f64) -> Vec<Row> {
    if checks.iter().map(|check| check.share).sum::<f64>() > 1.0 + 1e-9 {
        return vec![row("order-too-much", vec![])];
    }
    let named = |order: &[usize]| order.iter().map(|place| (place + 1).to_string()).collect::<Vec<_>>().join(", ");
    let minutes = |order: &[usize]| places(order::expected(checks, order, setup), 1);
    let (best, plain) = (order::best(checks, setup), order::by_ratio(checks));
    let back: Vec<usize> = best.iter().rev().copied().collect();
    [("order-best", best), ("order-plain", plain), ("order-back", back)]
        .into_iter()
        .map(|(key, order)| row(key, vec![("order", named(&order)), ("minutes", minutes(&order))]))
        .collect()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "six hexadecimal digits")]
fn contrast(front: f64, ground: f64) -> Vec<Row> {
    let ratio = colour::contrast(front as u32, ground as u32);
    let verdict = if ratio >= 4.5 {
        "contrast-words"
    } else if ratio >= 3.0 {
        "contrast-large"
    } else {
        "contrast-fails"
    };
    vec![row("contrast", vec![("ratio", places(ratio, 2))]), row(verdict, vec![])]
}
