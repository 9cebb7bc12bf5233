//! The catalogue and the procedures as one machine model sees them, and the concrete facts at one moment of one visit.

use rust_decimal::Decimal;
use stepward::model::catalogue::{Person, Takes};
use stepward::model::equipment::Model;
use stepward::model::library::Library;
use stepward::model::procedure::{Procedure, WaiverOf};
use stepward::model::step::{Band, LimitValue, Measurement, Sorting, Step};
use stepward::text::id::Id;
use stepward::text::quantity::{Unit, seconds};

/// A condition, others named by their place in the catalogue.
pub struct Condition {
    pub name: String,
    pub after: Option<usize>,
    pub takes: Option<u32>,
    pub clears: Vec<usize>,
    pub shown: Option<(Unit, Option<Decimal>, Decimal)>,
    pub must_clear: bool,
    pub tried_out: bool,
}

pub struct Hazard {
    pub name: String,
    pub requires: Vec<usize>,
    pub returns_with: Vec<usize>,
    pub least: Option<Person>,
}

pub struct World<'a> {
    pub library: &'a Library,
    pub model: Option<&'a Model>,
    pub conditions: Vec<Condition>,
    pub hazards: Vec<Hazard>,
    pub steps: u32,
    pub seconds: u32,
    /// The day of the run, as text.
    pub today: &'a str,
}

/// Everything that is true at one moment.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Facts {
    /// For each condition: how much was waited (as much as it takes means that it holds), or 1 and 0 for one that takes no time.
    pub conditions: Vec<u32>,
    /// For each hazard: steps and seconds since the caution was shown.
    pub ages: Vec<Option<(u32, u32)>>,
    pub person: Person,
    pub checked: bool,
    pub unchecked_cure: bool,
}

impl<'a> World<'a> {
    pub fn new(library: &'a Library, model: Option<&'a Model>, today: &'a str) -> Self {
        let place = |id: &Id| library.catalogue.conditions.iter().position(|one| one.id == *id).expect("a known condition");
        let conditions = library.catalogue.conditions.iter().map(|one| Condition {
            name: one.id.to_string(),
            after: one.after.as_ref().map(|id| place(&id.value)),
            takes: one.takes.as_ref().map(|takes| match &takes.value {
                Takes::Seconds(length) => *length,
                Takes::Figure(figure) => {
                    let figure = model.and_then(|model| model.figure(figure)).expect("every model has the figure");
                    seconds(figure.value.value, figure.value.unit.as_str()).expect("a time")
                }
            }),
            clears: one.clears.iter().map(|id| place(&id.value)).collect(),
            shown: one.shown_by.as_ref().map(|shown| (shown.unit, shown.from, shown.up_to)),
            must_clear: one.must_clear,
            tried_out: one.tried_out,
        });
        let hazards = library.catalogue.hazards.iter().map(|one| Hazard {
            name: one.id.to_string(),
            requires: one.requires.iter().map(|id| place(&id.value)).collect(),
            returns_with: one.returns_with.iter().map(|id| place(&id.value)).collect(),
            least: one.least.as_ref().map(|least| least.value),
        });
        let within = library.catalogue.caution_within;
        Self {
            library,
            model,
            conditions: conditions.collect(),
            hazards: hazards.collect(),
            steps: within.steps,
            seconds: within.seconds,
            today,
        }
    }

    pub fn condition(&self, id: &Id) -> usize {
        self.conditions.iter().position(|one| one.name == id.as_str()).expect("a known condition")
    }

    pub fn hazard(&self, id: &Id) -> usize {
        self.hazards.iter().position(|one| one.name == id.as_str()).expect("a known hazard")
    }

    /// What a step exposes somebody to: its own list and what it touches.
    pub fn exposed(&self, step: &Step) -> Vec<usize> {
        let parts = step.touches.iter().filter_map(|part| self.library.catalogue.part(&part.value));
        let touched = parts.flat_map(|part| &part.hazards);
        step.exposes.iter().chain(touched).map(|id| self.hazard(&id.value)).collect()
    }

    pub fn waived(&self, procedure: &Procedure, step: &Step, hazard: usize, what: WaiverOf) -> bool {
        procedure.waivers.iter().any(|waiver| {
            waiver.step.as_ref().is_some_and(|id| id.value == step.id)
                && waiver.hazard.as_ref().is_some_and(|id| self.hazards[hazard].name == id.value.as_str())
                && waiver.of.as_ref().is_some_and(|of| of.value == what)
                && waiver.until.as_ref().is_some_and(|until| until.value.to_string().as_str() >= self.today)
        })
    }

    /// The facts at the start of a procedure: no caution shown, its `requires` granted and all that these come after.
    pub fn start(&self, procedure: &Procedure) -> Facts {
        let mut facts = Facts {
            conditions: vec![0; self.conditions.len()],
            ages: vec![None; self.hazards.len()],
            person: procedure.person,
            checked: false,
            unchecked_cure: false,
        };
        for id in &procedure.requires {
            let mut granted = Some(self.condition(&id.value));
            while let Some(one) = granted {
                facts.conditions[one] = self.full(one);
                granted = self.conditions[one].after;
            }
        }
        facts
    }

    /// The value at which a condition holds.
    pub fn full(&self, condition: usize) -> u32 {
        self.conditions[condition].takes.unwrap_or(1)
    }

    pub fn holds(&self, facts: &Facts, condition: usize) -> bool {
        facts.conditions[condition] == self.full(condition)
    }

    pub fn after_holds(&self, facts: &Facts, condition: usize) -> bool {
        self.conditions[condition].after.is_none_or(|after| self.holds(facts, after))
    }

    /// Whether all readings of a band lie in the range that shows the condition.
    pub fn inside(&self, measurement: &Measurement, index: usize, condition: usize) -> bool {
        let Some((unit, from, up_to)) = self.conditions[condition].shown else { return false };
        let Sorting::Bands(bands) = &measurement.sorting else { return false };
        let low = match index.checked_sub(1) {
            None => measurement.from.as_ref().map(|from| from.value),
            Some(before) => self.limit(&bands[before]),
        };
        let high = self.limit(&bands[index]).or(measurement.to.as_ref().map(|to| to.value));
        let (low, high) = (low.expect("a lower edge"), high.expect("an upper edge"));
        measurement.unit.as_ref().is_some_and(|own| own.value == unit) && from.is_none_or(|from| low >= from) && high <= up_to
    }

    fn limit(&self, band: &Band) -> Option<Decimal> {
        match &band.limit.as_ref()?.value.value {
            LimitValue::Number(number, _) => Some(*number),
            LimitValue::Figure(figure) => {
                Some(self.model.and_then(|model| model.figure(figure)).expect("every model has the figure").value.value)
            }
        }
    }
}
