//! The safety catalogue made ready for the analysis of one model: conditions and hazards by number.

use std::collections::BTreeMap;

use crate::model::catalogue::{Catalogue, Condition, Person, Takes};
use crate::model::equipment::Model;
use crate::text::id::Id;
use crate::text::quantity;

/// What the analysis counts with. Numbers index the catalogue's own lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Facts {
    pub conditions: Vec<ConditionFacts>,
    pub hazards: Vec<HazardFacts>,
    /// A caution is out of date after more steps than this ...
    pub steps: u32,
    /// ... or more seconds.
    pub seconds: u32,
    condition_numbers: BTreeMap<Id, usize>,
    hazard_numbers: BTreeMap<Id, usize>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ConditionFacts {
    pub after: Option<usize>,
    /// The conditions that fall with this one: itself, those that come after it, those after these.
    pub falls: Vec<usize>,
    /// What setting it clears.
    pub clears: Vec<usize>,
    /// The level at which it holds: the seconds it takes, or 1 for one that takes no time.
    pub full: u32,
    pub takes_time: bool,
    pub tried_out: bool,
    pub must_clear: bool,
    /// Hazards that require it: their caution no longer counts once it is cleared.
    pub required_by: Vec<usize>,
    /// Hazards that return with it: their caution no longer counts once it is set.
    pub brings_back: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HazardFacts {
    pub requires: Vec<usize>,
    pub least: Person,
}

impl Facts {
    /// The catalogue for one model, whose figures say how long a condition takes. A figure that is missing (a finding of its own) counts as four
    /// hours, the longest wait there is.
    pub fn new(catalogue: &Catalogue, model: Option<&Model>) -> Self {
        let condition_numbers = numbers(catalogue.conditions.iter().map(|condition| &condition.id));
        let hazard_numbers = numbers(catalogue.hazards.iter().map(|hazard| &hazard.id));
        let known = |ids: &[crate::text::place::At<Id>], numbers: &BTreeMap<Id, usize>| -> Vec<usize> {
            ids.iter().filter_map(|id| numbers.get(&id.value).copied()).collect()
        };
        let hazards: Vec<HazardFacts> = catalogue
            .hazards
            .iter()
            .map(|hazard| HazardFacts {
                requires: known(&hazard.requires, &condition_numbers),
                least: hazard.least.as_ref().map_or(Person::Ordinary, |least| least.value),
            })
            .collect();
        let mut conditions: Vec<ConditionFacts> = catalogue
            .conditions
            .iter()
            .map(|condition| ConditionFacts {
                after: condition.after.as_ref().and_then(|after| condition_numbers.get(&after.value).copied()),
                clears: known(&condition.clears, &condition_numbers),
                full: full(condition, model),
                takes_time: condition.takes.is_some(),
                tried_out: condition.tried_out,
                must_clear: condition.must_clear,
                ..ConditionFacts::default()
            })
            .collect();
        for number in 0..conditions.len() {
            conditions[number].falls = falls(number, &conditions);
        }
        for (number, hazard) in catalogue.hazards.iter().enumerate() {
            for required in known(&hazard.requires, &condition_numbers) {
                conditions[required].required_by.push(number);
            }
            for returning in known(&hazard.returns_with, &condition_numbers) {
                conditions[returning].brings_back.push(number);
            }
        }
        let within = catalogue.caution_within;
        Self { conditions, hazards, steps: within.steps, seconds: within.seconds, condition_numbers, hazard_numbers }
    }

    pub fn condition(&self, id: &Id) -> Option<usize> {
        self.condition_numbers.get(id).copied()
    }

    pub fn hazard(&self, id: &Id) -> Option<usize> {
        self.hazard_numbers.get(id).copied()
    }

    /// A condition and all it comes after. Ends on circles, which are a finding of their own.
    pub fn with_before(&self, condition: usize) -> Vec<usize> {
        let mut chain = vec![condition];
        while let Some(after) = chain.last().and_then(|last| self.conditions[*last].after) {
            if chain.contains(&after) {
                break;
            }
            chain.push(after);
        }
        chain
    }
}

/// First number of each id: of two entries with one name the first counts, the second is a finding.
fn numbers<'a>(ids: impl Iterator<Item = &'a Id>) -> BTreeMap<Id, usize> {
    let mut numbers = BTreeMap::new();
    for (number, id) in ids.enumerate() {
        numbers.entry(id.clone()).or_insert(number);
    }
    numbers
}

fn full(condition: &Condition, model: Option<&Model>) -> u32 {
    match condition.takes.as_ref().map(|takes| &takes.value) {
        None => 1,
        Some(Takes::Seconds(seconds)) => (*seconds).max(1),
        Some(Takes::Figure(name)) => model
            .and_then(|model| model.figure(name))
            .and_then(|figure| quantity::seconds(figure.value.value, figure.value.unit.as_str()))
            .unwrap_or(4 * 3600)
            .max(1),
    }
}

fn falls(number: usize, conditions: &[ConditionFacts]) -> Vec<usize> {
    let mut falling = vec![number];
    let mut next = 0;
    while next < falling.len() {
        let fallen = falling[next];
        for (other, facts) in conditions.iter().enumerate() {
            if facts.after == Some(fallen) && !falling.contains(&other) {
                falling.push(other);
            }
        }
        next += 1;
    }
    falling
}
