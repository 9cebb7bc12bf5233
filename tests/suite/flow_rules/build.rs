//! Small procedures as values, without the reader. Each value gets a line of its own, in the order in which it is made.

use std::cell::Cell;

use stepward::model::body::Section;
use stepward::model::catalogue::{Condition, Hazard, Part, Takes};
use stepward::model::equipment::{Equipment, Model};
use stepward::model::library::Library;
use stepward::model::procedure::{Fault, Kind, Procedure, Status, Waiver};
use stepward::model::step::{
    Action, Answer, Band, ByModel, CarryOut, Effects, Limit, LimitValue, Match, Measurement, NamedWay, Question, Reading, Sorting, Step,
    StepKind, When,
};
use stepward::text::id::Id;
use stepward::text::place::{At, FileId, Place};
use stepward::text::quantity::{Quantity, Unit, decimal, split_number};

use crate::support::flow::empty;

thread_local! {
    static LINE: Cell<u32> = const { Cell::new(0) };
}

fn place() -> Place {
    let line = LINE.get() + 1;
    LINE.set(line);
    Place { file: FileId(0), line, column: 1, start: line * 100, end: line * 100 + 50 }
}

pub fn at<T>(value: T) -> At<T> {
    At::new(value, place())
}

pub fn id(name: &str) -> At<Id> {
    at(Id::new(name))
}

fn text(words: &str) -> At<String> {
    at(words.to_owned())
}

fn number(written: &str) -> At<rust_decimal::Decimal> {
    at(decimal(written).unwrap_or_else(|| panic!("{written} is no number")))
}

fn quantity(written: &str) -> At<Quantity> {
    at(Quantity::parse(written).unwrap_or_else(|| panic!("{written} is no quantity")))
}

pub fn library(mut procedures: Vec<Procedure>, models: Vec<Model>) -> Library {
    procedures.sort_by(|a, b| a.id.cmp(&b.id));
    Library {
        procedures: procedures.into_iter().collect(),
        equipment: Equipment { at: Some(place()), unreadable: false, models },
        ..Library::default()
    }
}

pub fn model(name: &str, figures: &[(&str, &str)], repeats: &[(&str, &str)]) -> Model {
    let entries = |list: &[(&str, &str)]| list.iter().map(|(name, value)| (id(name), quantity(value))).collect();
    Model { id: Id::new(name), at: place(), name: None, figures: entries(figures), repeats: entries(repeats) }
}

/// A condition that takes a figure of the model.
pub fn condition(name: &str, takes: &str) -> Condition {
    Condition {
        id: Id::new(name),
        at: place(),
        name: None,
        clears: vec![],
        words: vec![],
        tried_out: false,
        after: None,
        takes: Some(at(Takes::Figure(Id::new(takes)))),
        shown_by: None,
        must_clear: false,
    }
}

pub fn hazard(name: &str, requires: &str) -> Hazard {
    Hazard {
        id: Id::new(name),
        at: place(),
        name: None,
        kind: None,
        where_at: None,
        signal_word: None,
        sign: None,
        nature: None,
        consequence: None,
        avoid: None,
        spoken: None,
        requires: vec![id(requires)],
        returns_with: vec![],
        least: None,
        words: vec![],
        no_control_because: None,
    }
}

pub fn part(name: &str, hazard: &str) -> Part {
    Part { id: Id::new(name), at: place(), name: None, hazards: vec![id(hazard)], words: vec![] }
}

/// A draft without steps.
pub fn nothing(name: &str) -> Procedure {
    empty(name, place())
}

pub fn procedure(name: &str, steps: Vec<Step>) -> Procedure {
    Procedure { steps, ..nothing(name) }
}

pub fn task(name: &str, steps: Vec<Step>) -> Procedure {
    Procedure { kind: Kind::Task, ..procedure(name, steps) }
}

pub fn released(procedure: Procedure) -> Procedure {
    Procedure { status: Status::Released, ..procedure }
}

pub fn withdrawn(name: &str, successor: &str) -> Procedure {
    Procedure { status: Status::Withdrawn, replaced_by: Some(id(successor)), ..nothing(name) }
}

pub fn section(name: &str) -> Section {
    Section { id: Some(id(name)), ..Section::default() }
}

pub fn fault(name: &str, comes_to: &str) -> Fault {
    Fault { id: Id::new(name), at: place(), name: None, weight: rust_decimal::Decimal::ONE, comes_to: Some(id(comes_to)) }
}

pub fn waiver(step: &str) -> Waiver {
    Waiver { at: place(), step: Some(id(step)), hazard: None, of: None, reason: None, by: None, until: None }
}

fn step(name: &str, kind: impl FnOnce() -> StepKind) -> Step {
    Step {
        id: Id::new(name),
        at: place(),
        kind: kind(),
        seconds: None,
        cost: None,
        cautions: vec![],
        touches: vec![],
        exposes: vec![],
        not_touching: vec![],
        not_changing: vec![],
        requires: vec![],
        least: None,
        stage: None,
        picture: None,
        words_of: None,
        cures: vec![],
        at_most: None,
        otherwise: None,
    }
}

pub fn answer(words: &str, then: &str) -> Answer {
    Answer { at: place(), text: Some(text(words)), then: Some(id(then)), effects: Effects::default(), person: None, when: When::Unsaid }
}

pub fn ask(name: &str, answers: &[(&str, &str)], unsure: Option<&str>) -> Step {
    step(name, || {
        let answers = answers.iter().map(|(words, then)| answer(words, then)).collect();
        StepKind::Ask(Question { text: text("Is the page clean?"), answers, unsure: unsure.map(id) })
    })
}

fn do_it(name: &str, then: Option<&str>, outcome: Option<&str>, refer_to: Option<&str>) -> Step {
    step(name, || {
        StepKind::Do(Action {
            text: text("Print a test page"),
            then: then.map(id),
            outcome: outcome.map(id),
            refer_to: refer_to.map(id),
            wait: None,
            wait_for: None,
            effects: Effects::default(),
        })
    })
}

pub fn act(name: &str, then: &str) -> Step {
    do_it(name, Some(then), None, None)
}

pub fn end(name: &str, outcome: &str) -> Step {
    do_it(name, None, Some(outcome), None)
}

pub fn refer(name: &str, to: &str) -> Step {
    do_it(name, None, Some("referred"), Some(to))
}

pub fn carry(name: &str, procedure: &str, outcomes: &[(&str, &str)]) -> Step {
    step(name, || {
        let procedure = id(procedure);
        let outcomes = outcomes.iter().map(|(outcome, then)| named(outcome, Some(then))).collect();
        StepKind::CarryOut(CarryOut { procedure, name: None, outcomes })
    })
}

pub fn by_model(name: &str, ways: &[(&str, &str)], others: Option<&str>) -> Step {
    step(name, || {
        let ways = ways.iter().map(|(model, then)| (id(model), id(then))).collect();
        StepKind::ByModel(ByModel { at: place(), ways, others: others.map(id) })
    })
}

fn named(name: &str, then: Option<&str>) -> NamedWay {
    NamedWay { name: id(name), then: then.map(id), when: When::Unsaid }
}

fn band(limit: Option<(bool, &str)>, then: &str) -> Band {
    let edge = |(inside, written): (bool, &str)| {
        let (figures, unit) = split_number(written);
        let value = match decimal(figures) {
            Some(value) => LimitValue::Number(value, (!unit.is_empty()).then(|| unit.to_owned())),
            None => LimitValue::Figure(Id::new(written)),
        };
        at(Limit { inside, value })
    };
    Band { at: place(), limit: limit.map(edge), then: Some(id(then)), effects: Effects::default(), when: When::Unsaid }
}

pub fn below(limit: &str, then: &str) -> Band {
    band(Some((false, limit)), then)
}

pub fn up_to(limit: &str, then: &str) -> Band {
    band(Some((true, limit)), then)
}

pub fn rest(then: &str) -> Band {
    band(None, then)
}

fn measuring(name: &str, unit: &str, range: (&str, &str), sorting: Sorting) -> Step {
    step(name, || {
        StepKind::Measure(Box::new(Measurement {
            text: text("Distance between two marks"),
            unit: Unit::parse(unit).map(at),
            from: Some(number(range.0)),
            to: Some(number(range.1)),
            sorting,
            readings: vec![],
            formula: None,
            unsure: Some(id("hand-over")),
        }))
    })
}

pub fn measure(name: &str, unit: &str, from: &str, to: &str, bands: Vec<Band>, unsure: &str) -> Step {
    let mut step = measuring(name, unit, (from, to), Sorting::Bands(bands));
    measurement(&mut step).unsure = Some(id(unsure));
    step
}

/// A computed measurement with one band.
pub fn measured(name: &str, formula: &str, readings: Vec<Reading>) -> Step {
    let mut step = measure(name, "mm", "0", "5000", vec![rest("close")], "hand-over");
    measurement(&mut step).readings = readings;
    measurement(&mut step).formula = Some(text(formula));
    step
}

pub fn reading(name: &str, from: &str, to: &str) -> Reading {
    Reading {
        id: Id::new(name),
        at: place(),
        ask: Some(text("Width")),
        unit: None,
        from: Some(number(from)),
        to: Some(number(to)),
        whole: false,
    }
}

/// A measurement that matches the table `repeats`: parts, and `none` and `several` among them.
pub fn matched(name: &str, unit: &str, ways: &[(&str, Option<&str>)]) -> Step {
    let way = |wanted: &str| ways.iter().find(|(name, _)| *name == wanted).map(|(name, then)| named(name, *then));
    let parts = ways.iter().filter(|(name, _)| !matches!(*name, "none" | "several")).map(|(name, then)| named(name, *then)).collect();
    let (several, none) = (way("several"), way("none"));
    let table = Match { at: place(), table: Some(id("repeats")), within: Some(number("1.5")), parts, several, none };
    measuring(name, unit, ("5", "400"), Sorting::Match(Box::new(table)))
}

pub fn question(step: &mut Step) -> &mut Question {
    match &mut step.kind {
        StepKind::Ask(question) => question,
        _ => panic!("{:?} is no question", step.id),
    }
}

pub fn action(step: &mut Step) -> &mut Action {
    match &mut step.kind {
        StepKind::Do(action) => action,
        _ => panic!("{:?} is no action", step.id),
    }
}

pub fn measurement(step: &mut Step) -> &mut Measurement {
    match &mut step.kind {
        StepKind::Measure(measurement) => measurement,
        _ => panic!("{:?} is no measurement", step.id),
    }
}

pub fn bands(step: &mut Step) -> &mut Vec<Band> {
    match &mut measurement(step).sorting {
        Sorting::Bands(bands) => bands,
        _ => panic!("a measurement without bands"),
    }
}
