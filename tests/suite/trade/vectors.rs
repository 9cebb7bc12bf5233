//! What the browser is held to: every sum at its example, at its edges and between, and every work, as the compiler has them.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use stepward::trade::number::{Digits, shown};
use stepward::trade::paper::SIZES;
use stepward::trade::sum::{Answer, Sum, groups};
use stepward::trade::work::Row;

use super::worked::family;
use crate::flow_data::fixture_text;

/// The example, and each reading at its edges and at a third of the way.
fn points(sum: &Sum) -> Vec<BTreeMap<&str, f64>> {
    let mut all = vec![sum.example()];
    for input in &sum.inputs {
        let third =
            if input.whole { (input.from + (input.to - input.from) / 3.0).floor() } else { input.from + (input.to - input.from) / 3.0 };
        let values = match input.choices.is_empty() {
            true if input.colour => vec![0.0, 16_777_215.0, 7_829_367.0],
            true if input.models => vec![],
            true => vec![input.from, input.to, third],
            false => input.choices.iter().map(|(_, value)| *value).collect(),
        };
        all.extend(values.into_iter().map(|value| {
            let mut point = sum.example();
            point.insert(&input.id, value);
            point
        }));
    }
    all
}

fn rows(rows: &[Row]) -> Value {
    rows.iter()
        .map(|row| json!({ "key": row.key, "values": row.values.iter().map(|(name, value)| json!([name, value])).collect::<Vec<_>>() }))
        .collect()
}

fn cases(sum: &'static Sum) -> Vec<Value> {
    points(sum)
        .into_iter()
        .map(|point| {
            let answers: Vec<Value> = sum
                .answers(&point)
                .into_iter()
                .zip(&sum.results)
                .map(|(answer, outcome)| match answer {
                    Answer::Number(value) => json!({ "value": value, "shown": outcome.shown(value) }),
                    Answer::Refused(says) => json!({ "says": says }),
                    Answer::Nothing => json!({ "nothing": true }),
                })
                .collect();
            let work = sum.work.map(|work| rows(&work.rows(&point, &family())));
            json!({ "values": point, "answers": answers, "rows": work })
        })
        .collect()
}

fn digits() -> Vec<Value> {
    let values =
        [0.0, 0.5, 1.5, 2.5, -2.5, 0.04, -0.04, 0.000_123, 9.999, 99.95, 9999.5, 10_000.0, 123_456.789, 4_356_936.0, -36_808.3, 1e-7];
    let each = values.into_iter().flat_map(|value| {
        let places = (0..4).map(move |places| json!({ "value": value, "places": places, "shown": shown(value, Digits::Places(places)) }));
        let figures =
            (1..5).map(move |figures| json!({ "value": value, "figures": figures, "shown": shown(value, Digits::Figures(figures)) }));
        places.chain(figures)
    });
    each.collect()
}

/// The formulas as they are written, for readers of formulas that are not ours (`tests/outside/sums.test.mjs`).
fn texts(sum: &Sum) -> Vec<&str> {
    sum.results.iter().map(|outcome| outcome.formula.text.as_str()).collect()
}

#[test]
fn the_browser_is_held_to_these_values() {
    let sums: Vec<Value> = groups()
        .iter()
        .flat_map(|group| &group.sums)
        .map(|sum| json!({ "sum": stepward::render::bench_sums::data(sum), "texts": texts(sum), "cases": cases(sum) }))
        .collect();
    let rollers: Vec<Value> =
        family().iter().map(|one| json!({ "name": one.name, "distance": one.distance, "weight": one.weight })).collect();
    let sizes: Vec<Value> = SIZES.iter().map(|size| json!([size.name, size.width, size.length])).collect();
    let lists = [("sums", sums), ("rollers", rollers), ("sizes", sizes), ("digits", digits())];
    // A line for each, so that a difference in one is a difference of one line.
    let lists = lists.map(|(name, list)| {
        let lines: Vec<String> = list.iter().map(Value::to_string).collect();
        format!("\"{name}\": [\n{}\n]", lines.join(",\n"))
    });
    fixture_text("sums.json", format!("{{\n{}\n}}\n", lists.join(",\n")));
}
