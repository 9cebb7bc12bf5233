//! Where somebody can go from one moment to the next, with an open call for each procedure that is being carried out.

use stepward::finding::{WayKind, WitnessEntry};
use stepward::model::procedure::Procedure;
use stepward::model::step::{Band, CarryOut, Effects, LimitValue, Measurement, NamedWay, Sorting, Step, StepKind, When};
use stepward::text::id::Id;

use crate::oracle::walk::{By, Failures, check, cure};
use crate::oracle::world::{Facts, World};

/// Somebody stands before a step.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Moment {
    /// The procedure and step of each open call with the outcome that it will end with, the outermost first.
    pub calls: Vec<(Id, Id, Id)>,
    pub procedure: Id,
    pub step: Id,
    pub facts: Facts,
}

/// One way on, where it is written, and the moment it leads to.
pub struct Onward {
    place: u32,
    pub entry: WitnessEntry,
    pub to: Moment,
}

/// One way as written.
struct Written<'w> {
    place: u32,
    kind: WayKind,
    text: Option<String>,
    to: &'w Id,
    effects: Option<(&'w Effects, By<'w>)>,
    person: Option<stepward::model::catalogue::Person>,
    fixed: bool,
}

impl World<'_> {
    /// Carries out the step of a moment. Gives what fails there and all ways on, in file order.
    pub fn pass(&self, moment: &Moment) -> (Failures, Vec<Onward>) {
        let procedure = self.procedure(&moment.procedure);
        let step = procedure.step(&moment.step).expect("a known step");
        let mut failures = Failures::new();
        let mut onward = Vec::new();
        if let Some(otherwise) = &step.otherwise {
            let mut to = moment.clone();
            to.step = otherwise.value.clone();
            onward.push(Onward { place: otherwise.at.start, entry: entry(moment, Some(WayKind::Otherwise), None), to });
        }
        let mut facts = moment.facts.clone();
        if let StepKind::CarryOut(call) = &step.kind {
            self.call(moment, step, call, facts, &mut failures, &mut onward);
        } else if let Some(outcome) = step.outcome() {
            self.carry_out(procedure, step, &mut facts, &mut failures);
            self.refer(step, &facts, &mut failures);
            self.ended(procedure, outcome.as_str(), &facts, &mut failures);
            self.grow(step, &mut facts);
            onward.extend(self.back(moment, outcome, facts));
        } else {
            self.carry_out(procedure, step, &mut facts, &mut failures);
            for way in self.written(step) {
                onward.push(self.take(moment, step, &way, facts.clone(), &mut failures));
            }
        }
        onward.sort_by_key(|way| way.place);
        (failures, onward)
    }

    pub fn procedure(&self, id: &Id) -> &Procedure {
        self.library.procedure(id).expect("a known procedure")
    }

    fn take(&self, moment: &Moment, step: &Step, way: &Written<'_>, mut facts: Facts, failures: &mut Failures) -> Onward {
        if let Some((effects, by)) = way.effects {
            self.change(effects, by, &mut facts, failures);
        }
        if let Some(person) = way.person {
            facts.person = person;
        }
        if way.fixed {
            check(&mut facts);
        }
        self.grow(step, &mut facts);
        let to = Moment { step: way.to.clone(), facts, ..moment.clone() };
        Onward { place: way.place, entry: entry(moment, Some(way.kind), way.text.clone()), to }
    }

    /// Into another procedure, once for each outcome that the caller goes on from.
    fn call(&self, moment: &Moment, step: &Step, call: &CarryOut, mut facts: Facts, failures: &mut Failures, onward: &mut Vec<Onward>) {
        let callee = self.procedure(&call.procedure.value);
        for id in &callee.requires {
            if !self.holds(&facts, self.condition(&id.value)) {
                failures.insert(("condition-not-met", Some(id.value.to_string())));
            }
        }
        self.person(callee.person, &facts, failures);
        self.grow(step, &mut facts);
        for way in &call.outcomes {
            let mut to = moment.clone();
            to.calls.push((moment.procedure.clone(), moment.step.clone(), way.name.value.clone()));
            to.procedure = callee.id.clone();
            to.step = callee.start_step().expect("a start").id.clone();
            to.facts = facts.clone();
            let text = Some(way.name.value.to_string());
            onward.push(Onward { place: way.name.at.start, entry: entry(moment, Some(WayKind::Outcome), text), to });
        }
    }

    /// Out of a procedure that was carried out, if it ended as the call foresaw.
    fn back(&self, moment: &Moment, outcome: &Id, mut facts: Facts) -> Option<Onward> {
        let mut calls = moment.calls.clone();
        let (caller, step, foreseen) = calls.pop()?;
        if foreseen != *outcome {
            return None;
        }
        let step = self.procedure(&caller).step(&step).expect("a known step");
        let StepKind::CarryOut(call) = &step.kind else { return None };
        let way = call.outcomes.iter().find(|way| way.name.value == *outcome)?;
        if !step.cures.is_empty() {
            cure(&mut facts);
        }
        if says_fixed(&way.when) {
            check(&mut facts);
        }
        let to = Moment { calls, procedure: caller, step: way.then.as_ref()?.value.clone(), facts };
        Some(Onward { place: 0, entry: entry(moment, Some(WayKind::Next), None), to })
    }

    fn refer(&self, step: &Step, facts: &Facts, failures: &mut Failures) {
        let StepKind::Do(action) = &step.kind else { return };
        if let Some(target) = action.refer_to.as_ref().and_then(|id| self.library.procedure(&id.value)) {
            self.person(target.person, facts, failures);
        }
    }

    fn written<'w>(&self, step: &'w Step) -> Vec<Written<'w>> {
        let unsure =
            |to: &'w Option<stepward::text::place::At<Id>>| to.iter().map(|to| plain(WayKind::Unsure, None, to.at.start, &to.value));
        match &step.kind {
            StepKind::Ask(question) => {
                let answers = question.answers.iter().map(|answer| Written {
                    effects: Some((&answer.effects, By::Answer)),
                    person: answer.person.as_ref().map(|person| person.value),
                    fixed: says_fixed(&answer.when),
                    ..plain(WayKind::Answer, answer.text.as_ref().map(|text| text.value.clone()), answer.at.start, target(&answer.then))
                });
                answers.chain(unsure(&question.unsure)).collect()
            }
            StepKind::Measure(measurement) => sorted(measurement).into_iter().chain(unsure(&measurement.unsure)).collect(),
            StepKind::Do(action) => action.then.iter().map(|then| plain(WayKind::Next, None, then.at.start, &then.value)).collect(),
            StepKind::ByModel(choice) => {
                let own = choice.ways.iter().find(|(model, _)| self.model.is_some_and(|own| own.id == model.value));
                let (to, at) = match own {
                    Some((model, to)) => (to, model.at),
                    None => choice.others.as_ref().map(|to| (to, to.at)).expect("every model has a way"),
                };
                let text = self.model.map(|model| model.id.to_string());
                vec![plain(WayKind::Model, text, at.start, &to.value)]
            }
            StepKind::CarryOut(_) | StepKind::Unclear(_) => Vec::new(),
        }
    }
}

fn sorted<'m>(measurement: &'m Measurement) -> Vec<Written<'m>> {
    match &measurement.sorting {
        Sorting::Bands(bands) => {
            let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
            bands
                .iter()
                .enumerate()
                .map(|(index, one)| Written {
                    effects: Some((&one.effects, By::Band(measurement, index))),
                    fixed: says_fixed(&one.when),
                    ..plain(WayKind::Band, Some(band_text(one, unit)), one.at.start, target(&one.then))
                })
                .collect()
        }
        Sorting::Match(table) => {
            let part = |way: &'m NamedWay| Written {
                fixed: says_fixed(&way.when),
                ..plain(WayKind::Part, Some(way.name.value.to_string()), way.name.at.start, target(&way.then))
            };
            table.parts.iter().chain(&table.several).chain(&table.none).map(part).collect()
        }
        Sorting::Missing => Vec::new(),
    }
}

fn plain(kind: WayKind, text: Option<String>, place: u32, to: &Id) -> Written<'_> {
    Written { place, kind, text, to, effects: None, person: None, fixed: false }
}

fn target(then: &Option<stepward::text::place::At<Id>>) -> &Id {
    &then.as_ref().expect("every way leads somewhere").value
}

pub fn band_text(band: &Band, unit: &str) -> String {
    let Some(limit) = &band.limit else { return "the rest".to_owned() };
    let side = if limit.value.inside { "up to" } else { "below" };
    match &limit.value.value {
        LimitValue::Number(number, _) => format!("{side} {number} {unit}"),
        LimitValue::Figure(figure) => format!("{side} {figure}"),
    }
}

fn says_fixed(when: &When) -> bool {
    matches!(when, When::Faults(faults) if faults.iter().any(|(name, _)| name.value == "fixed"))
}

fn entry(moment: &Moment, way: Option<WayKind>, answer: Option<String>) -> WitnessEntry {
    WitnessEntry { procedure: moment.procedure.clone(), step: moment.step.clone(), way, answer }
}
