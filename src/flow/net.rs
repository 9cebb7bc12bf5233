//! A procedure made ready for the analysis on one model: steps by number, ways resolved, conditions and hazards by number.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use crate::finding::WayKind;
use crate::flow::facts::Facts;
use crate::flow::graph::{Way, ways};
use crate::model::catalogue::{Condition, Person};
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure, WaiverOf};
use crate::model::step::{Action, Effects, LimitValue, Measurement, Sorting, Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Net {
    pub procedure: Id,
    pub is_task: bool,
    pub person: Person,
    pub requires: Vec<usize>,
    /// `None` if it has no steps.
    pub start: Option<usize>,
    /// In file order.
    pub nodes: Vec<Node>,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    pub step: Id,
    pub role: Role,
    pub cautions: Vec<usize>,
    pub exposed: Vec<Exposed>,
    pub requires: Vec<usize>,
    /// The persons it asks for: its own `least`, and who a procedure referred to is for.
    pub asks_for: Vec<Person>,
    pub wait: u32,
    pub wait_for: Option<usize>,
    pub changes: Vec<Change>,
    pub cures: bool,
    /// Working time in seconds.
    pub seconds: u32,
    pub limit: Option<u32>,
    pub outcome: Option<Id>,
    pub ways: Vec<NetWay>,
    /// A `by-model` that gives this model no way, which is a finding of its own.
    pub no_way_for_model: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// A question, a measurement, an action.
    Plain,
    CarryOut(Id),
    ByModel,
}

/// A hazard that somebody is exposed to at a step, and what is waived of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exposed {
    pub hazard: usize,
    pub requires_waived: bool,
    pub least_waived: bool,
}

/// What happens to a condition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    Clear(usize),
    Set(usize),
    /// Set by a `do`, though somebody must have tried it. Counts as set.
    SetUntried(usize),
    /// Set by something that does not show that its time has passed (and perhaps that nobody tried out). Not set.
    TooShort {
        condition: usize,
        untried: bool,
    },
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NetWay {
    pub kind: WayKind,
    pub text: Option<String>,
    pub target: usize,
    pub changes: Vec<Change>,
    pub person: Option<Person>,
    pub fixed: bool,
}

/// The waivers that hold: procedure, step, hazard, and which demand of the hazard is lifted.
#[derive(Clone, Debug, Default)]
pub struct Waived(BTreeSet<(Id, Id, Id, &'static str)>);

impl Waived {
    pub fn add(&mut self, procedure: &Id, step: &Id, hazard: &Id, of: WaiverOf) {
        self.0.insert((procedure.clone(), step.clone(), hazard.clone(), of.as_str()));
    }

    fn lifts(&self, procedure: &Id, step: &Id, hazard: &Id, of: WaiverOf) -> bool {
        !self.0.is_empty() && self.0.contains(&(procedure.clone(), step.clone(), hazard.clone(), of.as_str()))
    }
}

/// Makes a procedure ready. Ways to steps that do not exist are left out (findings of their own).
pub fn net(library: &Library, waived: &Waived, procedure: &Procedure, facts: &Facts, model: Option<&Model>) -> Net {
    let numbers = step_numbers(procedure);
    let build = Build { library, waived, procedure, facts, model, numbers: &numbers };
    Net {
        procedure: procedure.id.clone(),
        is_task: procedure.kind == Kind::Task,
        person: procedure.person,
        requires: build.conditions(&procedure.requires),
        start: procedure.start_step().and_then(|step| numbers.get(&step.id).copied()),
        nodes: procedure.steps.iter().map(|step| build.node(step)).collect(),
    }
}

fn step_numbers(procedure: &Procedure) -> BTreeMap<Id, usize> {
    let mut numbers = BTreeMap::new();
    for (number, step) in procedure.steps.iter().enumerate() {
        numbers.entry(step.id.clone()).or_insert(number);
    }
    numbers
}

struct Build<'a> {
    library: &'a Library,
    waived: &'a Waived,
    procedure: &'a Procedure,
    facts: &'a Facts,
    model: Option<&'a Model>,
    numbers: &'a BTreeMap<Id, usize>,
}

impl Build<'_> {
    fn conditions(&self, ids: &[At<Id>]) -> Vec<usize> {
        ids.iter().filter_map(|id| self.facts.condition(&id.value)).collect()
    }

    fn node(&self, step: &Step) -> Node {
        let action = match &step.kind {
            StepKind::Do(action) => Some(action),
            _ => None,
        };
        let measurement = match &step.kind {
            StepKind::Measure(measurement) => Some(&**measurement),
            _ => None,
        };
        let all_ways = ways(step);
        let net_ways = self.ways(&all_ways, measurement);
        Node {
            step: step.id.clone(),
            role: match &step.kind {
                StepKind::CarryOut(carry_out) => Role::CarryOut(carry_out.procedure.value.clone()),
                StepKind::ByModel(_) => Role::ByModel,
                _ => Role::Plain,
            },
            cautions: step.cautions.iter().filter_map(|hazard| self.facts.hazard(&hazard.value)).collect(),
            exposed: self.exposed(step),
            requires: self.conditions(&step.requires),
            asks_for: step.least.iter().map(|least| least.value).chain(action.and_then(|action| self.referred_person(action))).collect(),
            wait: action.and_then(|action| action.wait.as_ref()).map_or(0, |wait| wait.value),
            wait_for: action.and_then(|action| action.wait_for.as_ref()).and_then(|condition| self.facts.condition(&condition.value)),
            changes: action.map_or_else(Vec::new, |action| self.changes(&action.effects, true, |_| false)),
            cures: !step.cures.is_empty(),
            seconds: step.seconds.as_ref().map_or(60, |seconds| seconds.value),
            limit: step.at_most.as_ref().map(|limit| limit.value),
            outcome: step.outcome().map(|outcome| outcome.value.clone()),
            no_way_for_model: matches!(step.kind, StepKind::ByModel(_)) && net_ways.iter().all(|way| way.kind != WayKind::Model),
            ways: net_ways,
        }
    }

    fn exposed(&self, step: &Step) -> Vec<Exposed> {
        let waived = |hazard: &Id, of: WaiverOf| self.waived.lifts(&self.procedure.id, &step.id, hazard, of);
        let exposed = self.library.catalogue.exposed(step).into_iter().filter_map(|hazard| {
            self.facts.hazard(&hazard.id).map(|number| Exposed {
                hazard: number,
                requires_waived: waived(&hazard.id, WaiverOf::Requires),
                least_waived: waived(&hazard.id, WaiverOf::Least),
            })
        });
        exposed.collect()
    }

    fn referred_person(&self, action: &Action) -> Option<Person> {
        let target = action.refer_to.as_ref()?;
        self.library.procedure(&target.value).map(|procedure| procedure.person)
    }

    /// Clears, then sets, each in the order written. `shown` says whether a condition that takes time is shown by what happens here.
    fn changes(&self, effects: &Effects, by_do: bool, shown: impl Fn(usize) -> bool) -> Vec<Change> {
        let clears = self.conditions(&effects.clears).into_iter().map(Change::Clear);
        let sets = self.conditions(&effects.sets).into_iter().map(|condition| {
            let known = &self.facts.conditions[condition];
            match (known.takes_time && !shown(condition), known.tried_out && by_do) {
                (true, untried) => Change::TooShort { condition, untried },
                (false, true) => Change::SetUntried(condition),
                (false, false) => Change::Set(condition),
            }
        });
        clears.chain(sets).collect()
    }

    fn ways(&self, all: &[Way<'_>], measurement: Option<&Measurement>) -> Vec<NetWay> {
        let ours = all.iter().filter(|way| way.kind != WayKind::Model || self.chosen(way, all));
        ours.filter_map(|way| {
            let target = *self.numbers.get(&way.then?.value)?;
            let changes = match (way.effects, way.band, measurement) {
                (Some(_), Some(band), Some(measurement)) => self.band_changes(measurement, band),
                (Some(effects), _, _) => self.changes(effects, false, |_| false),
                (None, _, _) => Vec::new(),
            };
            // A `by-model` way goes by the model's name, which whoever asks knows: so nets of models that choose alike are equal.
            let text = way.text.as_deref().filter(|_| way.kind != WayKind::Model).map(str::to_owned);
            Some(NetWay { kind: way.kind, text, target, changes, person: way.person, fixed: way.fixed })
        })
        .collect()
    }

    /// Whether a `by-model` takes this way for the model: the one named for it, else `others`.
    fn chosen(&self, way: &Way<'_>, all: &[Way<'_>]) -> bool {
        let named = |way: &Way<'_>| way.text.as_deref().is_some_and(|text| self.model.is_some_and(|model| model.id == text));
        let is_others = way.text.as_deref() == Some("others");
        named(way) || (is_others && !all.iter().any(named))
    }

    /// What a band changes: it first ends every condition that a band of this measurement sets and that its own readings do not show.
    fn band_changes(&self, measurement: &Measurement, index: usize) -> Vec<Change> {
        let Sorting::Bands(bands) = &measurement.sorting else { return Vec::new() };
        let Some(band) = bands.get(index) else { return Vec::new() };
        let mut changes = Vec::new();
        for set in bands.iter().flat_map(|band| self.conditions(&band.effects.sets)) {
            let ends = self.library.catalogue.conditions.get(set).is_some_and(|condition| condition.shown_by.is_some());
            if ends && !self.shows(measurement, index, set) && !changes.contains(&Change::Clear(set)) {
                changes.push(Change::Clear(set));
            }
        }
        changes.extend(self.changes(&band.effects, false, |condition| self.shows(measurement, index, condition)));
        changes
    }

    /// Whether the band lies wholly inside the range that shows the condition.
    fn shows(&self, measurement: &Measurement, index: usize, condition: usize) -> bool {
        let condition: Option<&Condition> = self.library.catalogue.conditions.get(condition);
        let Some(range) = condition.and_then(|condition| condition.shown_by.as_ref()) else { return false };
        let Some((low, high)) = self.edges(measurement, index) else { return false };
        measurement.unit.as_ref().is_some_and(|unit| unit.value == range.unit)
            && range.from.is_none_or(|from| from <= low)
            && high <= range.up_to
    }

    fn edges(&self, measurement: &Measurement, index: usize) -> Option<(Decimal, Decimal)> {
        let Sorting::Bands(bands) = &measurement.sorting else { return None };
        let low = match index.checked_sub(1) {
            None => measurement.from.as_ref()?.value,
            Some(before) => self.limit(&bands.get(before)?.limit.as_ref()?.value.value)?,
        };
        let high = match &bands.get(index)?.limit {
            None => measurement.to.as_ref()?.value,
            Some(limit) => self.limit(&limit.value.value)?,
        };
        Some((low, high))
    }

    fn limit(&self, limit: &LimitValue) -> Option<Decimal> {
        match limit {
            LimitValue::Number(number, _) => Some(*number),
            LimitValue::Figure(name) => self.model?.figure(name).map(|figure| figure.value.value),
        }
    }
}
