//! A step and its ways on. Which faults give an answer, and what a step costs, is no part of it.

use super::procedure::denials;
use super::{decimal, flag, id, ids, number, words};
use crate::formula::{Formula, Token};
use crate::model::step::{
    Action, Answer, Band, ByModel, CarryOut, Effects, Limit, LimitValue, Match, Measurement, NamedWay, Question, Reading, Sorting, Step,
    StepKind,
};
use crate::text::digest::Value;
use crate::text::place::At;

pub fn step(step: &Step) -> Value {
    let Step {
        id: _,
        at: _,
        kind,
        seconds,
        cost: _,
        cautions,
        touches,
        exposes,
        not_touching,
        not_changing,
        requires,
        least,
        stage,
        picture,
        words_of,
        cures,
        at_most,
        otherwise,
    } = step;
    let (called, kind) = of_kind(kind);
    Value::map([
        (called, kind),
        ("seconds", number(seconds.as_ref())),
        ("cautions", ids(cautions)),
        ("touches", ids(touches)),
        ("exposes", ids(exposes)),
        ("not-touching", denials(not_touching)),
        ("not-changing", denials(not_changing)),
        ("requires", ids(requires)),
        ("least", least.as_ref().map(|least| Value::text(least.as_str())).unwrap_or_default()),
        ("stage", id(stage.as_ref())),
        ("picture", words(picture.as_ref())),
        ("words-of", id(words_of.as_ref())),
        ("cures", ids(cures)),
        ("at-most", number(at_most.as_ref())),
        ("otherwise", id(otherwise.as_ref())),
    ])
}

fn of_kind(kind: &StepKind) -> (&'static str, Value) {
    match kind {
        StepKind::Ask(asked) => ("ask", question(asked)),
        StepKind::Measure(measured) => ("measure", measurement(measured)),
        StepKind::Do(done) => ("do", action(done)),
        StepKind::CarryOut(CarryOut { procedure, name, outcomes }) => {
            ("carry-out", Value::list([Value::text(procedure.as_str()), words(name.as_ref()), named(outcomes)]))
        }
        StepKind::ByModel(ByModel { at: _, ways, others }) => {
            let ways = Value::map(ways.iter().map(|(model, step)| (model.to_string(), Value::text(step.as_str()))));
            ("by-model", Value::list([ways, id(others.as_ref())]))
        }
        StepKind::Unclear(keys) => ("unclear", Value::list(keys.iter().map(|key| Value::text(key.as_str())))),
    }
}

/// The answers in the order in which they are offered.
fn question(question: &Question) -> Value {
    let Question { text, answers, unsure } = question;
    let answers = answers.iter().map(|answer| {
        let Answer { at: _, text, then, effects: changes, person, when: _ } = answer;
        let person = person.as_ref().map(|person| Value::text(person.as_str())).unwrap_or_default();
        Value::list([words(text.as_ref()), id(then.as_ref()), effects(changes), person])
    });
    Value::list([Value::words(text), Value::list(answers), id(unsure.as_ref())])
}

fn action(action: &Action) -> Value {
    let Action { text, then, outcome, refer_to, wait, wait_for, effects: changes } = action;
    Value::map([
        ("text", Value::words(text)),
        ("then", id(then.as_ref())),
        ("outcome", id(outcome.as_ref())),
        ("refer-to", id(refer_to.as_ref())),
        ("wait", number(wait.as_ref())),
        ("wait-for", id(wait_for.as_ref())),
        ("changes", effects(changes)),
    ])
}

/// Nothing where nothing changes.
fn effects(effects: &Effects) -> Value {
    let Effects { clears, sets } = effects;
    if clears.is_empty() && sets.is_empty() { Value::Nothing } else { Value::list([ids(clears), ids(sets)]) }
}

fn measurement(measurement: &Measurement) -> Value {
    let Measurement { text, unit, from, to, sorting, readings, formula: computed, unsure } = measurement;
    let sorting = match sorting {
        Sorting::Bands(bands) => ("bands", Value::list(bands.iter().map(band))),
        Sorting::Match(table) => ("match", matched(table)),
        Sorting::Missing => ("sorting", Value::Nothing),
    };
    // Entries of a mapping: their order is that of keys.
    let readings = readings.iter().map(|one| (one.id.as_str(), reading(one))).collect::<Vec<_>>();
    let readings = if readings.is_empty() { Value::Nothing } else { Value::map(readings) };
    Value::map([
        ("text", Value::words(text)),
        ("unit", unit.as_ref().map(|unit| Value::text(unit.as_str())).unwrap_or_default()),
        ("from", edge(from.as_ref())),
        ("to", edge(to.as_ref())),
        sorting,
        ("readings", readings),
        ("formula", computed.as_ref().map(|text| formula(text)).unwrap_or_default()),
        ("unsure", id(unsure.as_ref())),
    ])
}

fn edge(number: Option<&At<rust_decimal::Decimal>>) -> Value {
    decimal(number.map(|number| &number.value))
}

fn reading(reading: &Reading) -> Value {
    let Reading { id: _, at: _, ask, unit, from, to, whole } = reading;
    let unit = unit.as_ref().map(|unit| Value::text(unit.as_str())).unwrap_or_default();
    let edges = [edge(from.as_ref()), edge(to.as_ref())];
    Value::list([words(ask.as_ref()), unit, flag(*whole)].into_iter().chain(edges))
}

/// What it computes; one that does not parse as it is written.
fn formula(text: &str) -> Value {
    let Ok(formula) = Formula::parse(text) else { return Value::words(text) };
    Value::list(formula.rpn().iter().map(|token| match token {
        Token::Number(number) => Value::list([Value::text(number.to_string())]),
        Token::Name(name) => Value::text(format!("${name}")),
        Token::Apply(operation) => Value::text(operation.word()),
    }))
}

fn band(band: &Band) -> Value {
    let Band { at: _, limit, then, effects: changes, when: _ } = band;
    let limit = limit.as_ref().map(|limit| {
        let Limit { inside, value } = &limit.value;
        let value = match value {
            LimitValue::Number(number, unit) => {
                Value::list([decimal(Some(number)), unit.as_ref().map(|unit| Value::words(unit)).unwrap_or_default()])
            }
            LimitValue::Figure(figure) => Value::text(figure.as_str()),
        };
        Value::list([flag(*inside), value])
    });
    Value::list([limit.unwrap_or_default(), id(then.as_ref()), effects(changes)])
}

fn matched(matched: &Match) -> Value {
    let Match { at: _, table, within, parts, several, none } = matched;
    let lone = |way: &Option<NamedWay>| way.as_ref().map(|way| Value::list([id(way.then.as_ref())])).unwrap_or_default();
    Value::list([id(table.as_ref()), edge(within.as_ref()), named(parts), lone(several), lone(none)])
}

/// Ways by what they are called.
fn named(ways: &[NamedWay]) -> Value {
    Value::map(ways.iter().map(|way| {
        let NamedWay { name, then, when: _ } = way;
        (name.to_string(), Value::list([id(then.as_ref())]))
    }))
}
