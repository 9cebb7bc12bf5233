//! What a step or a way changes of the conditions, and which steps keep something in check by that.

use crate::compare::change::{Changes, Spot, only_in};
use crate::compare::kind;
use crate::model::step::{Effects, Sorting, Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;

/// `what` names the step or way, as a subject of a sentence.
pub fn compare(spot: Spot<'_>, what: &str, old: &Effects, new: &Effects, out: &mut Changes<'_>) {
    for (verb, before, after) in [("sets", &old.sets, &new.sets), ("clears", &old.clears, &new.clears)] {
        for lost in only_in(before, after) {
            let message = format!("{what} no longer {verb} `{}`", lost.value);
            out.add(&kind::EFFECT_LOST, spot.at(Some(lost.at), None), message).subject(lost.as_str());
        }
        for added in only_in(after, before) {
            let message = format!("{what} now {verb} `{}`", added.value);
            out.add(&kind::EFFECT_ADDED, spot.at(None, Some(added.at)), message).subject(added.as_str());
        }
        let common = |list: &[At<Id>], other: &[At<Id>]| {
            let shared = list.iter().filter(|id| other.iter().any(|it| it.value == id.value));
            shared.map(|id| id.value.to_string()).collect::<Vec<_>>()
        };
        let (was, is) = (common(before, after), common(after, before));
        if was != is {
            let message = format!("{what} {verb} its conditions in another order");
            out.add(&kind::EFFECTS_REORDERED, spot, message).words(Some(was.join(", ")), Some(is.join(", ")));
        }
    }
}

/// What a step did to keep hazards in check, in words; `None` if nothing.
pub fn gate(step: &Step) -> Option<String> {
    let set = |effects: &Effects| effects.sets.first().map(|condition| format!("set `{}`", condition.value));
    match &step.kind {
        StepKind::Ask(question) => {
            let person = question.answers.iter().find_map(|answer| answer.person.as_ref());
            let asked = person.map(|person| format!("asked for a person who is {}", person.value.as_str()));
            asked.or_else(|| question.answers.iter().find_map(|answer| set(&answer.effects)))
        }
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => bands.iter().find_map(|band| set(&band.effects)),
            Sorting::Match(_) | Sorting::Missing => None,
        },
        StepKind::Do(action) => {
            let waited = action.wait_for.as_ref().map(|condition| format!("waited for `{}`", condition.value));
            waited.or_else(|| set(&action.effects)).or_else(|| action.wait.as_ref().map(|_| "waited".to_owned()))
        }
        StepKind::CarryOut(carry_out) => Some(format!("carried out `{}`", carry_out.procedure.value)),
        StepKind::ByModel(_) | StepKind::Unclear(_) => None,
    }
}
