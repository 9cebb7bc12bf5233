//! What happens when somebody carries out one step: the page on safety, word for word, on concrete facts. Nothing is joined here.

use std::collections::BTreeSet;

use stepward::model::catalogue::Person;
use stepward::model::procedure::{Kind, Procedure, WaiverOf};
use stepward::model::step::{Action, Effects, Measurement, Sorting, Step, StepKind};

use crate::oracle::world::{Facts, World};

/// A rule that fails, and its subject.
pub type Failures = BTreeSet<(&'static str, Option<String>)>;

/// Who sets a condition.
#[derive(Clone, Copy)]
pub enum By<'m> {
    Action,
    Answer,
    Band(&'m Measurement, usize),
}

impl World<'_> {
    /// Steps 1 to 4 of the order, and what the step itself changes. The facts are those before any way is taken, ages not yet grown.
    pub fn carry_out(&self, procedure: &Procedure, step: &Step, facts: &mut Facts, failures: &mut Failures) {
        for caution in &step.cautions {
            facts.ages[self.hazard(&caution.value)] = Some((0, 0));
        }
        let exposed = self.exposed(step);
        for hazard in &exposed {
            self.exposure(procedure, step, *hazard, facts, failures);
        }
        for id in &step.requires {
            let condition = self.condition(&id.value);
            if !self.holds(facts, condition) {
                failures.insert(("condition-not-met", Some(self.conditions[condition].name.clone())));
            }
        }
        if let Some(least) = &step.least {
            self.person(least.value, facts, failures);
        }
        let StepKind::Do(action) = &step.kind else { return };
        self.waiting(action, facts, failures);
        self.change(&action.effects, By::Action, facts, failures);
        for hazard in exposed {
            self.controlled(procedure, step, hazard, facts, failures);
        }
        if !step.cures.is_empty() {
            cure(facts);
        }
    }

    fn exposure(&self, procedure: &Procedure, step: &Step, hazard: usize, facts: &Facts, failures: &mut Failures) {
        let name = Some(self.hazards[hazard].name.clone());
        match facts.ages[hazard] {
            None => {
                failures.insert(("caution-missing", name.clone()));
            }
            Some((steps, seconds)) if steps > self.steps || seconds > self.seconds => {
                failures.insert(("caution-out-of-date", name.clone()));
            }
            Some(_) => {}
        }
        self.controlled(procedure, step, hazard, facts, failures);
        let too_low = self.hazards[hazard].least.is_some_and(|least| facts.person < least);
        if too_low && !self.waived(procedure, step, hazard, WaiverOf::Least) {
            failures.insert(("beyond-competence", name));
        }
    }

    fn controlled(&self, procedure: &Procedure, step: &Step, hazard: usize, facts: &Facts, failures: &mut Failures) {
        let controlled = self.hazards[hazard].requires.iter().all(|condition| self.holds(facts, *condition));
        if !controlled && !self.waived(procedure, step, hazard, WaiverOf::Requires) {
            failures.insert(("hazard-uncontrolled", Some(self.hazards[hazard].name.clone())));
        }
    }

    pub fn person(&self, needed: Person, facts: &Facts, failures: &mut Failures) {
        if facts.person < needed {
            failures.insert(("beyond-competence", Some(needed.as_str().to_owned())));
        }
    }

    fn waiting(&self, action: &Action, facts: &mut Facts, failures: &mut Failures) {
        let running: Vec<usize> =
            (0..self.conditions.len()).filter(|one| self.conditions[*one].takes.is_some() && self.after_holds(facts, *one)).collect();
        if let Some(id) = &action.wait_for {
            let condition = self.condition(&id.value);
            if !self.after_holds(facts, condition) {
                self.not_met_before(condition, failures);
            }
        }
        for one in running {
            facts.conditions[one] = (facts.conditions[one] + self.wait(action)).min(self.full(one));
        }
    }

    /// Seconds that an action waits.
    fn wait(&self, action: &Action) -> u32 {
        let for_condition = action.wait_for.as_ref().map(|id| self.full(self.condition(&id.value)));
        for_condition.or(action.wait.as_ref().map(|wait| wait.value)).unwrap_or(0)
    }

    fn not_met_before(&self, condition: usize, failures: &mut Failures) {
        let after = self.conditions[condition].after.expect("it comes after another");
        failures.insert(("condition-not-met", Some(self.conditions[after].name.clone())));
    }

    /// The effects of a step or a way: clears, then sets.
    pub fn change(&self, effects: &Effects, by: By<'_>, facts: &mut Facts, failures: &mut Failures) {
        if let By::Band(measurement, index) = by {
            for condition in self.shown_there(measurement) {
                if !self.inside(measurement, index, condition) {
                    self.clear(condition, facts);
                }
            }
        }
        for id in &effects.clears {
            self.clear(self.condition(&id.value), facts);
        }
        for id in &effects.sets {
            self.set(self.condition(&id.value), by, facts, failures);
        }
    }

    /// The conditions that some band of the measurement sets and that a reading can show. (Where there is no `shown-by`, no reading ends anything.)
    fn shown_there(&self, measurement: &Measurement) -> Vec<usize> {
        let Sorting::Bands(bands) = &measurement.sorting else { return Vec::new() };
        let set = bands.iter().flat_map(|band| &band.effects.sets).map(|id| self.condition(&id.value));
        set.filter(|one| self.conditions[*one].shown.is_some()).collect()
    }

    fn clear(&self, condition: usize, facts: &mut Facts) {
        facts.conditions[condition] = 0;
        for (hazard, age) in self.hazards.iter().zip(&mut facts.ages) {
            if hazard.requires.contains(&condition) {
                *age = None;
            }
        }
        for later in 0..self.conditions.len() {
            if self.conditions[later].after == Some(condition) {
                self.clear(later, facts);
            }
        }
    }

    fn set(&self, condition: usize, by: By<'_>, facts: &mut Facts, failures: &mut Failures) {
        let own = &self.conditions[condition];
        if own.tried_out && matches!(by, By::Action) {
            failures.insert(("not-tried-out", Some(own.name.clone())));
        }
        let shown = matches!(by, By::Band(measurement, index) if self.inside(measurement, index, condition));
        let too_short = own.takes.is_some() && !shown;
        if too_short {
            failures.insert(("wait-too-short", Some(own.name.clone())));
        }
        if !self.after_holds(facts, condition) {
            self.not_met_before(condition, failures);
            return;
        }
        if too_short {
            return;
        }
        facts.conditions[condition] = self.full(condition);
        for other in &own.clears {
            self.clear(*other, facts);
        }
        for (hazard, age) in self.hazards.iter().zip(&mut facts.ages) {
            if hazard.returns_with.contains(&condition) {
                *age = None;
            }
        }
    }

    /// Step 6 of the order.
    pub fn grow(&self, step: &Step, facts: &mut Facts) {
        let seconds = match &step.kind {
            StepKind::Do(action) => working(step) + self.wait(action),
            StepKind::Ask(_) | StepKind::Measure(_) => working(step),
            StepKind::CarryOut(_) => 0,
            StepKind::ByModel(_) | StepKind::Unclear(_) => return,
        };
        for (steps, since) in facts.ages.iter_mut().flatten() {
            *steps = (*steps + 1).min(self.steps + 1);
            *since = (*since + seconds).min(self.seconds + 1);
        }
    }

    /// What is judged when somebody has come to an ending.
    pub fn ended(&self, procedure: &Procedure, outcome: &str, facts: &Facts, failures: &mut Failures) {
        if procedure.kind == Kind::Task {
            return;
        }
        for (index, condition) in self.conditions.iter().enumerate() {
            if condition.must_clear && self.holds(facts, index) {
                failures.insert(("left-behind", Some(condition.name.clone())));
            }
        }
        if (outcome == "fixed" && !facts.checked) || (outcome == "no-fault" && facts.unchecked_cure) {
            failures.insert(("fixed-unchecked", None));
        }
    }
}

fn working(step: &Step) -> u32 {
    step.seconds.as_ref().map_or(60, |seconds| seconds.value)
}

pub fn cure(facts: &mut Facts) {
    facts.checked = false;
    facts.unchecked_cure = true;
}

pub fn check(facts: &mut Facts) {
    facts.checked = true;
    facts.unchecked_cure = false;
}
