//! What is known at a point of a flow (`safety.md`, "State at each point of a flow").
//!
//! One type serves both readings. As a fact about *all* paths to a point, `must` holds the least and `may` the greatest level each condition can have
//! there, ages are those of the worst path. Along *one* path the two levels are equal. What a step does ([`super::carry`]) is the same for both, so
//! the fixed point and the search for a witness cannot drift apart.

use crate::flow::facts::Facts;
use crate::model::catalogue::Person;

/// How long ago a caution was last shown, on the worst path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Age {
    Shown {
        steps: u32,
        seconds: u32,
    },
    /// More steps or seconds ago than the library allows.
    Over,
    /// Not shown on some path, or no longer counted.
    Never,
}

impl Age {
    pub const NOW: Age = Age::Shown { steps: 0, seconds: 0 };

    /// The worse of two; of two shown, the most steps and the most seconds.
    pub fn join(self, other: Age) -> Age {
        match (self, other) {
            (Age::Shown { steps: a, seconds: b }, Age::Shown { steps: c, seconds: d }) => Age::Shown { steps: a.max(c), seconds: b.max(d) },
            (a, b) => a.max(b),
        }
    }

    /// The same so many steps and seconds later.
    pub fn later(self, facts: &Facts, more: u32, seconds_more: u32) -> Age {
        let Age::Shown { steps, seconds } = self else { return self };
        let (steps, seconds) = (steps.saturating_add(more), seconds.saturating_add(seconds_more));
        let over = steps > facts.steps || seconds > facts.seconds;
        if over { Age::Over } else { Age::Shown { steps, seconds } }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct State {
    /// By hazard.
    pub ages: Vec<Age>,
    /// By condition: seconds waited (or 0 and 1), on the path that waited least. The condition holds at [`super::facts::ConditionFacts::full`].
    must: Vec<u32>,
    /// By condition: the same on the path that waited most.
    may: Vec<u32>,
    /// How qualified the person at the machine surely is.
    pub person: Person,
    /// A checking answer was given and nothing cured since, on every path.
    pub checked: bool,
    /// Something was cured and not checked since, on some path.
    pub unchecked_cure: bool,
}

impl State {
    /// The start of a procedure: nothing shown; what it `requires` holds, each with all it comes after.
    pub fn start(facts: &Facts, requires: &[usize], person: Person) -> Self {
        let mut levels = vec![0; facts.conditions.len()];
        for condition in requires.iter().flat_map(|required| facts.with_before(*required)) {
            levels[condition] = facts.conditions[condition].full;
        }
        Self {
            ages: vec![Age::Never; facts.hazards.len()],
            must: levels.clone(),
            may: levels,
            person,
            checked: false,
            unchecked_cure: false,
        }
    }

    /// Holds on every path here.
    pub fn holds(&self, facts: &Facts, condition: usize) -> bool {
        self.must[condition] == facts.conditions[condition].full
    }

    /// Holds on some path here.
    pub fn may_hold(&self, facts: &Facts, condition: usize) -> bool {
        self.may[condition] == facts.conditions[condition].full
    }

    /// Seconds that have surely been waited for a condition.
    pub fn waited(&self, condition: usize) -> u32 {
        self.must[condition]
    }

    /// Seconds that may have been waited for a condition (or 0 and 1), on the path that waited most.
    pub fn waited_at_most(&self, condition: usize) -> u32 {
        self.may[condition]
    }

    /// Two ways meet. Says whether anything changed.
    pub fn join(&mut self, other: &State) -> bool {
        let mut changed = false;
        let mut put = |same: bool| changed |= !same;
        for (age, with) in self.ages.iter_mut().zip(&other.ages) {
            let joined = age.join(*with);
            put(joined == *age);
            *age = joined;
        }
        for (level, with) in self.must.iter_mut().zip(&other.must) {
            put(*level <= *with);
            *level = (*level).min(*with);
        }
        for (level, with) in self.may.iter_mut().zip(&other.may) {
            put(*level >= *with);
            *level = (*level).max(*with);
        }
        put(self.person <= other.person && (!self.checked || other.checked) && (self.unchecked_cure || !other.unchecked_cure));
        self.person = self.person.min(other.person);
        self.checked &= other.checked;
        self.unchecked_cure |= other.unchecked_cure;
        changed
    }

    pub fn show(&mut self, hazard: usize) {
        self.ages[hazard] = Age::NOW;
    }

    /// Time passes: one step, so many seconds.
    pub fn grow(&mut self, facts: &Facts, seconds_more: u32) {
        for age in &mut self.ages {
            *age = age.later(facts, 1, seconds_more);
        }
    }

    /// Waiting counts for every condition whose `after` holds when it begins.
    pub fn wait(&mut self, facts: &Facts, seconds: u32) {
        let surely: Vec<bool> = self.begun(facts, Self::holds);
        let perhaps: Vec<bool> = self.begun(facts, Self::may_hold);
        for (condition, known) in facts.conditions.iter().enumerate() {
            if known.takes_time && surely[condition] {
                self.must[condition] = self.must[condition].saturating_add(seconds).min(known.full);
            }
            if known.takes_time && perhaps[condition] {
                self.may[condition] = self.may[condition].saturating_add(seconds).min(known.full);
            }
        }
    }

    fn begun(&self, facts: &Facts, holding: fn(&Self, &Facts, usize) -> bool) -> Vec<bool> {
        facts.conditions.iter().map(|condition| condition.after.is_some_and(|after| holding(self, facts, after))).collect()
    }

    /// A condition ends, and with it all that come after it. `surely`: on every path, not just on some.
    pub fn clear(&mut self, facts: &Facts, condition: usize, surely: bool) {
        for fallen in &facts.conditions[condition].falls {
            self.must[*fallen] = 0;
            if surely {
                self.may[*fallen] = 0;
            }
            for hazard in &facts.conditions[*fallen].required_by {
                self.ages[*hazard] = Age::Never;
            }
        }
    }

    /// A condition begins to hold, unless the one it comes after does not. Says whether that one surely holds.
    pub fn set(&mut self, facts: &Facts, condition: usize) -> bool {
        let known = &facts.conditions[condition];
        let surely = known.after.is_none_or(|after| self.holds(facts, after));
        let perhaps = known.after.is_none_or(|after| self.may_hold(facts, after));
        if perhaps {
            if surely {
                self.must[condition] = known.full;
            }
            self.may[condition] = known.full;
            // Afterwards: a condition that clears what it comes after falls with it.
            for cleared in &known.clears {
                self.clear(facts, *cleared, surely);
            }
            for hazard in &known.brings_back {
                self.ages[*hazard] = Age::Never;
            }
        }
        surely
    }

    pub fn cure(&mut self) {
        self.checked = false;
        self.unchecked_cure = true;
    }

    pub fn check(&mut self) {
        self.checked = true;
        self.unchecked_cure = false;
    }

    /// Forgets every fact outside `kept`, so that a search for one fault visits few states.
    pub fn keep(&mut self, kept: &Kept) {
        for (hazard, age) in self.ages.iter_mut().enumerate() {
            if kept.hazard != Some(hazard) {
                *age = Age::NOW;
            }
        }
        for condition in 0..self.must.len() {
            if !kept.conditions[condition] {
                self.must[condition] = 0;
                self.may[condition] = 0;
            }
        }
        if !kept.person {
            self.person = Person::Ordinary;
        }
        if !kept.cure {
            self.checked = false;
            self.unchecked_cure = false;
        }
    }
}

/// The facts that decide one question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    pub hazard: Option<usize>,
    /// By condition.
    pub conditions: Vec<bool>,
    pub person: bool,
    pub cure: bool,
}

impl Kept {
    pub fn nothing(facts: &Facts) -> Self {
        Self { hazard: None, conditions: vec![false; facts.conditions.len()], person: false, cure: false }
    }

    /// Adds every condition on which a kept fact depends: what it comes after, and what decides whether a condition that touches it is set at all.
    pub fn close(mut self, facts: &Facts) -> Self {
        loop {
            let before = self.conditions.clone();
            for (number, condition) in facts.conditions.iter().enumerate() {
                if let (true, Some(after)) = (self.conditions[number] || self.touched_by(facts, number), condition.after) {
                    self.conditions[after] = true;
                }
            }
            if before == self.conditions {
                return self;
            }
        }
    }

    /// Whether setting that condition changes a kept fact other than its own level.
    fn touched_by(&self, facts: &Facts, number: usize) -> bool {
        let condition = &facts.conditions[number];
        let falling = condition.clears.iter().flat_map(|cleared| &facts.conditions[*cleared].falls);
        let mut voids = falling.clone().flat_map(|fallen| &facts.conditions[*fallen].required_by).chain(&condition.brings_back);
        let mut clears = falling;
        clears.any(|fallen| self.conditions[*fallen]) || voids.any(|hazard| self.hazard == Some(*hazard))
    }
}
