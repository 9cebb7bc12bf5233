//! The slow walk again, for every exposure: how old its caution can be, who can be at the machine, what holds, and what set that.

use std::collections::{BTreeMap, BTreeSet, HashMap, VecDeque};

use stepward::finding::{WayKind, WitnessEntry};
use stepward::model::catalogue::Person;
use stepward::model::procedure::Procedure;
use stepward::model::step::{Effects, Measurement, Sorting, Step, StepKind};
use stepward::text::id::Id;

use crate::oracle::search;
use crate::oracle::walk::Failures;
use crate::oracle::ways::{Moment, band_text};
use crate::oracle::world::{Facts, World};

/// More moments than this are not followed.
const MOST: usize = 60_000;

/// Steps and seconds since the caution was shown (both one over the limit if longer); `None`: never, or no longer counted.
pub type Age = Option<(u32, u32)>;

/// Ages with which each step of the procedure can be reached, each with the fewest moments that lead there.
pub type Ages = BTreeMap<Id, BTreeMap<Age, usize>>;

/// Procedure, step and way that set a condition; `None`: it held at the start.
pub type Origin = Option<(Id, Id, Option<(WayKind, Option<String>)>)>;

/// What else can be at a step.
#[derive(Default)]
pub struct Standing {
    pub person: Option<Person>,
    /// By condition: whether it always holds, now and after the step's own changes.
    pub holds: Vec<bool>,
    /// By condition: what can have set it, where it holds.
    pub origins: Vec<BTreeSet<Origin>>,
}

/// Follows one hazard's age alone. `None` if there are too many moments.
pub fn ages(world: &World<'_>, procedure: &Procedure, hazard: usize) -> Option<Ages> {
    let only = |facts: &mut Facts| {
        for (_, age) in facts.ages.iter_mut().enumerate().filter(|(other, _)| *other != hazard) {
            *age = None;
        }
        if let Some((steps, seconds)) = &mut facts.ages[hazard]
            && (*steps > world.steps || *seconds > world.seconds)
        {
            (*steps, *seconds) = (world.steps + 1, world.seconds + 1);
        }
        facts.person = Person::Ordinary;
        facts.checked = false;
        facts.unchecked_cure = false;
    };
    let mut first = search::begin(world, procedure);
    only(&mut first.facts);
    let mut depth: HashMap<Moment, usize> = HashMap::from([(first.clone(), 0)]);
    let mut open = VecDeque::from([first]);
    let mut found = Ages::new();
    while let Some(moment) = open.pop_front() {
        let here = depth[&moment];
        if moment.calls.is_empty() {
            found.entry(moment.step.clone()).or_default().entry(moment.facts.ages[hazard]).or_insert(here);
        }
        for mut way in world.pass(&moment).1 {
            only(&mut way.to.facts);
            if !depth.contains_key(&way.to) {
                depth.insert(way.to.clone(), here + 1);
                open.push_back(way.to);
            }
        }
        if depth.len() > MOST {
            return None;
        }
    }
    Some(found)
}

/// Follows conditions and person, ages left aside. `None` if there are too many moments.
pub fn standing(world: &World<'_>, procedure: &Procedure) -> Option<BTreeMap<Id, Standing>> {
    let only = |facts: &mut Facts| {
        facts.ages.fill(None);
        facts.checked = false;
        facts.unchecked_cure = false;
    };
    let mut first = search::begin(world, procedure);
    only(&mut first.facts);
    let origins: Vec<Origin> = vec![None; world.conditions.len()];
    let mut known: std::collections::HashSet<(Moment, Vec<Origin>)> = [(first.clone(), origins.clone())].into();
    let mut open = VecDeque::from([(first, origins)]);
    let mut found: BTreeMap<Id, Standing> = BTreeMap::new();
    while let Some((moment, origins)) = open.pop_front() {
        if moment.calls.is_empty() {
            found.entry(moment.step.clone()).or_default().add(world, procedure, &moment, &origins);
        }
        for mut way in world.pass(&moment).1 {
            only(&mut way.to.facts);
            let after = set(world, &moment, &way.entry, &way.to.facts, &origins);
            let next = (way.to, after);
            if known.insert(next.clone()) {
                open.push_back(next);
            }
        }
        if known.len() > MOST {
            return None;
        }
    }
    Some(found)
}

impl Standing {
    fn add(&mut self, world: &World<'_>, procedure: &Procedure, moment: &Moment, origins: &[Origin]) {
        let facts = &moment.facts;
        let step = procedure.step(&moment.step).expect("a known step");
        let mut after = facts.clone();
        world.carry_out(procedure, step, &mut after, &mut Failures::new());
        self.person = Some(self.person.map_or(facts.person, |known| known.min(facts.person)));
        self.holds.resize(world.conditions.len(), true);
        self.origins.resize(world.conditions.len(), BTreeSet::new());
        for condition in 0..world.conditions.len() {
            self.holds[condition] &= world.holds(facts, condition) && world.holds(&after, condition);
            if world.holds(facts, condition) {
                self.origins[condition].insert(origins[condition].clone());
            }
        }
    }
}

/// What set each condition once a way was taken. Conditions that do not hold have no origin worth the name.
fn set(world: &World<'_>, moment: &Moment, entry: &WitnessEntry, after: &Facts, origins: &[Origin]) -> Vec<Origin> {
    let step = world.procedure(&moment.procedure).step(&moment.step).expect("a known step");
    let carried_out = !matches!(entry.way, Some(WayKind::Otherwise | WayKind::Model | WayKind::Outcome));
    let by = by(step, entry);
    let one = |condition: usize| {
        if !world.holds(after, condition) {
            return None;
        }
        let came = !world.holds(&moment.facts, condition);
        let written = by.is_some_and(|(effects, _)| effects.sets.iter().any(|id| world.condition(&id.value) == condition));
        // A condition that takes time is set by a reading that shows it, not by a word.
        let reading = band(step, entry).is_some_and(|(measurement, index)| world.inside(measurement, index, condition));
        let shows = world.conditions[condition].takes.is_none() || reading;
        if carried_out && (came || (written && shows)) {
            let way = by.and_then(|(_, own)| own.then(|| (entry.way.expect("a way"), entry.answer.clone())));
            return Some((moment.procedure.clone(), moment.step.clone(), way));
        }
        origins[condition].clone()
    };
    (0..world.conditions.len()).map(one).collect()
}

/// The effects of what happens there, and whether they are the way's own.
fn by<'s>(step: &'s Step, entry: &WitnessEntry) -> Option<(&'s Effects, bool)> {
    match (&step.kind, entry.way) {
        (StepKind::Do(action), _) => Some((&action.effects, false)),
        (StepKind::Ask(question), Some(WayKind::Answer)) => {
            let is = |text: &Option<stepward::text::place::At<String>>| text.as_ref().map(|text| &text.value) == entry.answer.as_ref();
            question.answers.iter().find(|answer| is(&answer.text)).map(|answer| (&answer.effects, true))
        }
        (StepKind::Measure(_), Some(WayKind::Band)) => {
            let (measurement, index) = band(step, entry)?;
            let Sorting::Bands(bands) = &measurement.sorting else { return None };
            bands.get(index).map(|band| (&band.effects, true))
        }
        _ => None,
    }
}

/// The band taken.
fn band<'s>(step: &'s Step, entry: &WitnessEntry) -> Option<(&'s Measurement, usize)> {
    let (StepKind::Measure(measurement), Some(WayKind::Band)) = (&step.kind, entry.way) else { return None };
    let Sorting::Bands(bands) = &measurement.sorting else { return None };
    let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
    let index = bands.iter().position(|band| Some(band_text(band, unit)) == entry.answer)?;
    Some((measurement, index))
}
