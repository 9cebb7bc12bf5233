//! What changed in the steps of a procedure: new and gone ones, cautions, demands, waits, words.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::change::{Changes, Spot, only_in};
use crate::compare::denials;
use crate::compare::effects;
use crate::compare::kind;
use crate::compare::rename::kind_of;
use crate::compare::said::plain;
use crate::compare::ways;
use crate::model::catalogue::Person;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Action, Step, StepKind};
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::duration_text;

/// Both libraries and one procedure of both.
#[derive(Clone, Copy)]
pub struct Pair<'a> {
    pub libraries: (&'a Library, &'a Library),
    pub old: &'a Procedure,
    pub new: &'a Procedure,
}

impl<'a> Pair<'a> {
    pub fn spot(&self) -> Spot<'a> {
        Spot { procedure: Some(&self.new.id), step: None, old: Some(self.old.at), new: Some(self.new.at) }
    }

    pub fn step(&self, old: &Step, new: &'a Step) -> Spot<'a> {
        Spot { procedure: Some(&self.new.id), step: Some(&new.id), old: Some(old.at), new: Some(new.at) }
    }
}

pub fn compare(pair: Pair<'_>, out: &mut Changes<'_>) {
    cautions(pair, out);
    for old in &pair.old.steps {
        match pair.new.step(&old.id) {
            Some(new) => step(pair, old, new, out),
            None => gone(pair, old, out),
        }
    }
    for new in pair.new.steps.iter().filter(|step| pair.old.step(&step.id).is_none()) {
        let kind = if new.outcome().is_some() { &kind::ENDING_NEW } else { &kind::STEP_NEW };
        let spot = Spot { procedure: Some(&pair.new.id), step: Some(&new.id), old: None, new: Some(new.at) };
        let message = match new.outcome() {
            Some(outcome) => format!("the ending `{}` is new: {}", new.id, outcome.value),
            None => format!("the step `{}` is new", new.id),
        };
        out.add(kind, spot, message).words(None, title(new));
    }
}

fn title(step: &Step) -> Option<String> {
    step.text().map(|text| plain(text))
}

/// A step that OLD had. If it kept something in check, that is told first.
fn gone(pair: Pair<'_>, old: &Step, out: &mut Changes<'_>) {
    let spot = Spot { procedure: Some(&pair.new.id), step: Some(&old.id), old: Some(old.at), new: None };
    if let Some(kept) = effects::gate(old) {
        out.add(&kind::GATE_REMOVED, spot, format!("the step `{}` is gone, which {kept}", old.id)).words(title(old), None);
    }
    let (kind, message) = match old.outcome() {
        Some(outcome) => (&kind::ENDING_GONE, format!("the ending `{}` is gone: {}", old.id, outcome.value)),
        None => (&kind::STEP_GONE, format!("the step `{}` is gone", old.id)),
    };
    out.add(kind, spot, message).words(title(old), None);
}

/// Where each caution is shown: lost, moved to another step, or new.
fn cautions(pair: Pair<'_>, out: &mut Changes<'_>) {
    let shown = |procedure: &Procedure| {
        let mut at: BTreeMap<Id, Vec<(Id, Place)>> = BTreeMap::new();
        for step in &procedure.steps {
            for caution in &step.cautions {
                at.entry(caution.value.clone()).or_default().push((step.id.clone(), caution.at));
            }
        }
        at
    };
    let (before, after) = (shown(pair.old), shown(pair.new));
    let hazards: BTreeSet<&Id> = before.keys().chain(after.keys()).collect();
    for hazard in hazards {
        let none = Vec::new();
        let (was, is) = (before.get(hazard).unwrap_or(&none), after.get(hazard).unwrap_or(&none));
        let lost: Vec<_> = was.iter().filter(|(step, _)| !is.iter().any(|(it, _)| it == step)).collect();
        let added: Vec<_> = is.iter().filter(|(step, _)| !was.iter().any(|(it, _)| it == step)).collect();
        for (number, (step, at)) in lost.iter().enumerate() {
            let spot = Spot { procedure: Some(&pair.new.id), step: Some(step), old: Some(*at), new: None };
            let here = pair.new.step(step).map(|step| step.at);
            if let Some((to, place)) = added.get(number) {
                let spot = spot.at(None, Some(*place));
                let message = format!("the caution `{hazard}` is shown at `{to}` now, before at `{step}`");
                out.add(&kind::CAUTION_MOVED, spot, message).subject(hazard.as_str());
            } else {
                let message = format!("the caution `{hazard}` is no longer shown at `{step}`");
                out.add(&kind::CAUTION_LOST, spot.at(None, here), message).subject(hazard.as_str());
            }
        }
        for (step, at) in added.iter().skip(lost.len()) {
            let old = pair.old.step(step).map(|step| step.at);
            let spot = Spot { procedure: Some(&pair.new.id), step: Some(step), old, new: Some(*at) };
            out.add(&kind::CAUTION_ADDED, spot, format!("the caution `{hazard}` is now shown at `{step}`")).subject(hazard.as_str());
        }
    }
}

fn step(pair: Pair<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let spot = pair.step(old, new);
    let (was, is) = (kind_of(old), kind_of(new));
    if was != is {
        let message = format!("`{}` is of the kind `{is}` now, it was `{was}`", new.id);
        out.add(&kind::STEP_KIND_CHANGED, spot, message).words(Some(was.to_owned()), Some(is.to_owned()));
        let (ended, ends) = (effects::gate(old), effects::gate(new));
        if let (Some(kept), None) = (ended, ends) {
            out.add(&kind::GATE_REMOVED, spot, format!("`{}` was a step which {kept}, and is none now", new.id));
        }
    }
    demands(spot, old, new, out);
    limit(spot, old, new, out);
    denials::of_step(spot, old, new, out);
    if let (StepKind::Do(before), StepKind::Do(after)) = (&old.kind, &new.kind) {
        action(spot, before, after, out);
    } else if let Some(wait) = waits(old).filter(|_| waits(new).is_none()) {
        out.add(&kind::WAIT_CUT, spot, format!("`{}` no longer waits {wait}", new.id)).words(Some(wait), None);
    }
    ways::compare(pair, old, new, out);
    details(spot, old, new, out);
}

/// How a step waits, in words.
fn waits(step: &Step) -> Option<String> {
    let StepKind::Do(action) = &step.kind else { return None };
    let length = action.wait.as_ref().map(|wait| duration_text(wait.value));
    length.or_else(|| action.wait_for.as_ref().map(|condition| format!("for `{}`", condition.value)))
}

fn demands(spot: Spot<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let id = &new.id;
    for lost in only_in(&old.requires, &new.requires) {
        let message = format!("`{id}` no longer requires `{}`", lost.value);
        out.add(&kind::REQUIREMENT_LOST, spot.at(Some(lost.at), None), message).subject(lost.as_str());
    }
    for added in only_in(&new.requires, &old.requires) {
        let message = format!("`{id}` now requires `{}`", added.value);
        out.add(&kind::REQUIREMENT_ADDED, spot.at(None, Some(added.at)), message).subject(added.as_str());
    }
    for (what, before, after) in [("touches", &old.touches, &new.touches), ("exposes to", &old.exposes, &new.exposes)] {
        for lost in only_in(before, after) {
            let message = format!("`{id}` no longer says that it {what} `{}`", lost.value);
            out.add(&kind::TOUCH_LOST, spot.at(Some(lost.at), None), message).subject(lost.as_str());
        }
        for added in only_in(after, before) {
            let message = format!("`{id}` now {what} `{}`", added.value);
            out.add(&kind::TOUCH_ADDED, spot.at(None, Some(added.at)), message).subject(added.as_str());
        }
    }
    let least = |step: &Step| step.least.as_ref().map_or(Person::Ordinary, |least| least.value);
    if least(old) != least(new) {
        let kind = if least(new) < least(old) { &kind::LEAST_LOWERED } else { &kind::LEAST_RAISED };
        let message = format!("`{id}` may be done by {} persons now, before by {}", least(new).as_str(), least(old).as_str());
        let at = |step: &Step| step.least.as_ref().map(|least| least.at);
        let words = |step: &Step| Some(least(step).as_str().to_owned());
        out.add(kind, spot.at(at(old), at(new)), message).words(words(old), words(new));
    }
    let names = |list: &[At<Id>]| list.iter().map(|id| id.value.clone()).collect::<Vec<_>>();
    let (was, is) = (names(&old.cautions), names(&new.cautions));
    let common = |list: &[Id], other: &[Id]| list.iter().filter(|id| other.contains(id)).cloned().collect::<Vec<_>>();
    if common(&was, &is) != common(&is, &was) {
        let words = |list: &[Id]| Some(list.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "));
        out.add(&kind::CAUTIONS_REORDERED, spot, format!("the cautions of `{id}` stand in another order")).words(words(&was), words(&is));
    }
    let (was, is): (BTreeSet<Id>, BTreeSet<Id>) = (names(&old.cures).into_iter().collect(), names(&new.cures).into_iter().collect());
    if was != is {
        let words = |set: &BTreeSet<Id>| Some(set.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "));
        out.add(&kind::CURES_CHANGED, spot, format!("`{id}` cures other faults than before")).words(words(&was), words(&is));
    }
}

fn limit(spot: Spot<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let value = |step: &Step| step.at_most.as_ref().map(|most| most.value);
    if value(old) == value(new) {
        return;
    }
    let raised = match (value(old), value(new)) {
        (Some(was), Some(is)) => is > was,
        (was, _) => was.is_some(),
    };
    let says = |most: Option<u32>| most.map_or_else(|| "without limit".to_owned(), |most| format!("at most {most} times"));
    let message = format!("`{}` may be carried out {} now, before {}", new.id, says(value(new)), says(value(old)));
    let at = |step: &Step| step.at_most.as_ref().map(|most| most.at);
    let kind = if raised { &kind::LIMIT_RAISED } else { &kind::LIMIT_LOWERED };
    out.add(kind, spot.at(at(old), at(new)), message).words(Some(says(value(old))), Some(says(value(new))));
}

fn action(spot: Spot<'_>, old: &Action, new: &Action, out: &mut Changes<'_>) {
    let id = spot.step.map(ToString::to_string).unwrap_or_default();
    let seconds = |action: &Action| action.wait.as_ref().map(|wait| wait.value);
    let at = |action: &Action| action.wait.as_ref().map(|wait| wait.at).or(action.wait_for.as_ref().map(|it| it.at));
    let condition = |action: &Action| action.wait_for.as_ref().map(|it| it.value.clone());
    let says = |action: &Action| match (seconds(action), condition(action)) {
        (Some(wait), _) => duration_text(wait),
        (None, Some(condition)) => format!("for `{condition}`"),
        (None, None) => "not at all".to_owned(),
    };
    if (seconds(old), condition(old)) != (seconds(new), condition(new)) {
        let kind = match ((seconds(old), condition(old)), (seconds(new), condition(new))) {
            ((Some(was), None), (Some(is), None)) if is < was => &kind::WAIT_CUT,
            (_, (None, None)) => &kind::WAIT_CUT,
            ((Some(_), None), (Some(_), None)) | ((None, None), _) => &kind::WAIT_GROWN,
            _ => &kind::WAIT_CHANGED,
        };
        let message = format!("`{id}` waits {} now, before {}", says(new), says(old));
        out.add(kind, spot.at(at(old), at(new)), message).words(Some(says(old)), Some(says(new)));
    }
    effects::compare(spot, &format!("`{id}`"), &old.effects, &new.effects, out);
    let name = |id: &Option<At<Id>>| id.as_ref().map(|id| id.value.to_string());
    if let (Some(was), Some(is)) = (name(&old.outcome), name(&new.outcome))
        && was != is
    {
        let message = format!("the ending `{id}` is `{is}` now, it was `{was}`");
        let place = |action: &Action| action.outcome.as_ref().map(|it| it.at);
        out.add(&kind::OUTCOME_CHANGED, spot.at(place(old), place(new)), message).words(Some(was), Some(is));
    }
    if name(&old.refer_to) != name(&new.refer_to) {
        let says = |id: Option<String>| id.map_or_else(|| "nowhere".to_owned(), |id| format!("to `{id}`"));
        let message = format!("`{id}` refers {} now, before {}", says(name(&new.refer_to)), says(name(&old.refer_to)));
        let place = |action: &Action| action.refer_to.as_ref().map(|it| it.at);
        out.add(&kind::REFERS_ELSEWHERE, spot.at(place(old), place(new)), message).words(name(&old.refer_to), name(&new.refer_to));
    }
}

fn details(spot: Spot<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let id = &new.id;
    let text = |step: &Step| match &step.kind {
        StepKind::CarryOut(carry_out) => carry_out.name.as_ref().map(|name| (plain(name), name.at)),
        _ => step.text().map(|text| (plain(text), text.at)),
    };
    let (was, is) = (text(old), text(new));
    if was.as_ref().map(|it| &it.0) != is.as_ref().map(|it| &it.0) {
        let spot = spot.at(was.as_ref().map(|it| it.1), is.as_ref().map(|it| it.1));
        out.add(&kind::TEXT_CHANGED, spot, format!("the text of `{id}` changed")).words(was.map(|it| it.0), is.map(|it| it.0));
    }
    let seconds = |step: &Step| step.seconds.as_ref().map(|it| it.value);
    if seconds(old) != seconds(new) {
        let says = |it: Option<u32>| it.map_or_else(|| "no minutes".to_owned(), duration_text);
        let message = format!("`{id}` takes {} now, before {}", says(seconds(new)), says(seconds(old)));
        let at = |step: &Step| step.seconds.as_ref().map(|it| it.at);
        out.add(&kind::MINUTES_CHANGED, spot.at(at(old), at(new)), message).words(Some(says(seconds(old))), Some(says(seconds(new))));
    }
    let cost = |step: &Step| step.cost.as_ref().map(|it| it.value.normalize().to_string());
    if cost(old) != cost(new) {
        let says = |it: Option<String>| it.unwrap_or_else(|| "nothing".to_owned());
        let message = format!("`{id}` costs {} now, before {}", says(cost(new)), says(cost(old)));
        out.add(&kind::COST_CHANGED, spot, message).words(cost(old), cost(new));
    }
    let name = |id: &Option<At<Id>>| id.as_ref().map(|id| id.value.to_string());
    let picture = |step: &Step| step.picture.as_ref().map(|it| it.value.clone());
    let others = [
        ("its stage", name(&old.stage), name(&new.stage)),
        ("its picture", picture(old), picture(new)),
        ("the step whose words it takes", name(&old.words_of), name(&new.words_of)),
    ];
    for (what, was, is) in others.into_iter().filter(|(_, was, is)| was != is) {
        out.add(&kind::DETAIL_CHANGED, spot, format!("`{id}`: {what} changed")).words(was, is);
    }
}
