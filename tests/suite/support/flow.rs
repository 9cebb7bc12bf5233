//! Procedures from short lines, for tests that need a model and no files:
//! `id | kind | words | key=a,b key=c | answer > step ; answer > step`. Kinds: `ask`, `measure`, `do`, `carry-out`, `by-model`, `end`.
//! An answer `?` is `unsure`, `!` is `otherwise`, `-` is the plain way on of a `do`.

use stepward::model::body::Body;
use stepward::model::catalogue::{Hazard, Person};
use stepward::model::library::Library;
use stepward::model::procedure::{Kind, Procedure, Status};
use stepward::model::step::{Action, Answer, ByModel, CarryOut, Effects, Measurement, NamedWay, Question, Sorting, Step, StepKind, When};
use stepward::text::id::Id;
use stepward::text::place::{At, Place};

/// Hands out places in the order of writing.
#[derive(Default)]
struct Pen(u32);

impl Pen {
    fn at<T>(&mut self, value: T) -> At<T> {
        self.0 += 1;
        At::new(value, Place { start: self.0, end: self.0, ..Place::default() })
    }
    fn id(&mut self, text: &str) -> At<Id> {
        self.at(Id::from(text.trim()))
    }
}

/// A procedure called `flow`.
pub fn procedure(text: &str) -> Procedure {
    let mut pen = Pen::default();
    let steps = text.lines().map(str::trim).filter(|line| !line.is_empty()).map(|line| step(&mut pen, line)).collect();
    Procedure { title: Some(pen.at("A flow".to_owned())), steps, ..empty("flow", Place::default()) }
}

/// A draft without steps.
pub fn empty(id: &str, at: Place) -> Procedure {
    Procedure {
        id: Id::new(id),
        at,
        title: None,
        summary: None,
        symptoms: vec![],
        codes: vec![],
        stages: vec![],
        tools: vec![],
        supplies: vec![],
        kind: Kind::FaultFinding,
        equipment: None,
        person: Person::Ordinary,
        status: Status::Draft,
        revision: None,
        owner: None,
        review_by: None,
        replaced_by: None,
        withdrawn_because: None,
        requires: vec![],
        outcomes: None,
        not_touching: vec![],
        faults: vec![],
        waivers: vec![],
        start: None,
        steps: vec![],
        body: Body::default(),
    }
}

/// A library with one hazard for each `id: signal word: name: condition`.
pub fn library(hazards: &[(&str, &str, &str, &str)]) -> Library {
    let mut pen = Pen::default();
    let mut library = Library::default();
    for (id, signal, name, requires) in hazards {
        let hazard = Hazard {
            id: Id::from(*id),
            at: Place::default(),
            name: Some(pen.at((*name).to_owned())),
            kind: None,
            where_at: None,
            signal_word: Some(pen.at((*signal).to_owned())),
            sign: None,
            nature: None,
            consequence: None,
            avoid: None,
            spoken: None,
            requires: vec![pen.id(requires)],
            returns_with: vec![],
            least: None,
            words: vec![],
            no_control_because: None,
        };
        library.catalogue.hazards.push(hazard);
    }
    library
}

fn step(pen: &mut Pen, line: &str) -> Step {
    let fields: Vec<&str> = line.split('|').map(str::trim).collect();
    let field = |index: usize| fields.get(index).copied().unwrap_or("");
    let id = pen.id(field(0));
    let keys: Vec<(String, Vec<At<Id>>)> = field(3)
        .split_whitespace()
        .filter_map(|key| key.split_once('='))
        .map(|(key, values)| (key.to_owned(), values.split(',').map(|value| pen.id(value)).collect()))
        .collect();
    let key = |name: &str| keys.iter().find(|(key, _)| key == name).map(|(_, values)| values.clone()).unwrap_or_default();
    let ways: Vec<(String, At<Id>)> =
        field(4).split(';').filter_map(|way| way.split_once('>')).map(|(words, to)| (words.trim().to_owned(), pen.id(to))).collect();
    let special = |mark: &str| ways.iter().find(|(words, _)| words == mark).map(|(_, to)| to.clone());
    let otherwise = special("!");
    let plain: Vec<(String, At<Id>)> = ways.iter().filter(|(words, _)| words != "?" && words != "!").cloned().collect();
    let kind = kind(pen, &fields, &plain, special("?"), &key);
    Step {
        id: id.value.clone(),
        at: id.at,
        kind,
        seconds: None,
        cost: None,
        cautions: key("cautions"),
        touches: key("touches"),
        exposes: key("exposes"),
        not_touching: vec![],
        not_changing: vec![],
        requires: vec![],
        least: None,
        stage: None,
        picture: None,
        words_of: None,
        cures: vec![],
        at_most: otherwise.as_ref().map(|_| pen.at(2)),
        otherwise,
    }
}

fn kind(pen: &mut Pen, fields: &[&str], ways: &[(String, At<Id>)], unsure: Option<At<Id>>, key: &dyn Fn(&str) -> Vec<At<Id>>) -> StepKind {
    let text = pen.at(fields[2].to_owned());
    let named = |(words, to): &(String, At<Id>)| NamedWay {
        name: At::new(Id::from(words.as_str()), to.at),
        then: Some(to.clone()),
        when: When::Unsaid,
    };
    match fields[1] {
        "ask" => {
            let answer = |(words, to): &(String, At<Id>)| Answer {
                at: to.at,
                text: Some(At::new(words.clone(), to.at)),
                then: Some(to.clone()),
                effects: Effects::default(),
                person: None,
                when: When::Unsaid,
            };
            StepKind::Ask(Question { text, answers: ways.iter().map(answer).collect(), unsure })
        }
        // The ways of a match go by name, which is all that the chart asks of them.
        "measure" => {
            let table = stepward::model::step::Match {
                at: text.at,
                table: None,
                within: None,
                parts: ways.iter().map(named).collect(),
                several: None,
                none: None,
            };
            StepKind::Measure(Box::new(Measurement {
                text,
                unit: None,
                from: Some(pen.at(rust_decimal::Decimal::from(5))),
                to: Some(pen.at(rust_decimal::Decimal::from(400))),
                sorting: Sorting::Match(Box::new(table)),
                readings: vec![],
                formula: None,
                unsure,
            }))
        }
        "carry-out" => {
            StepKind::CarryOut(CarryOut { procedure: pen.id("isolate"), name: Some(text), outcomes: ways.iter().map(named).collect() })
        }
        "by-model" => StepKind::ByModel(ByModel {
            at: text.at,
            ways: ways.iter().map(|(model, to)| (At::new(Id::from(model.as_str()), to.at), to.clone())).collect(),
            others: None,
        }),
        kind @ ("do" | "end") => StepKind::Do(Action {
            text,
            then: ways.first().map(|(_, to)| to.clone()),
            outcome: (kind == "end")
                .then(|| key("outcome").into_iter().next().unwrap_or_else(|| At::new(Id::from("fixed"), Place::default()))),
            refer_to: key("refer-to").into_iter().next(),
            wait: key("wait").first().map(|minutes| At::new(60 * minutes.as_str().parse::<u32>().expect("whole minutes"), minutes.at)),
            wait_for: key("wait-for").into_iter().next(),
            effects: Effects { clears: vec![], sets: key("sets") },
        }),
        other => panic!("no such kind: {other}"),
    }
}
