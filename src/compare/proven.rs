//! What the proof says otherwise: exposures, conditions held, how a procedure leaves things for its callers, and findings.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::Judged;
use crate::compare::change::{Changes, Spot};
use crate::compare::cover::{End, Known};
use crate::compare::kind::{self, Kind};
use crate::compare::steps::Pair;
use crate::finding::{Finding, Severity};
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;

pub fn exposures(pair: Pair<'_>, old: &Known, new: &Known, out: &mut Changes<'_>) {
    let all: BTreeSet<&(Id, Id)> = old.exposures.keys().chain(new.exposures.keys()).collect();
    for key in all {
        let (step, hazard) = key;
        let place = |procedure: &Procedure| procedure.step(step).map(|step| step.at);
        let spot = Spot { procedure: Some(&pair.new.id), step: Some(step), old: place(pair.old), new: place(pair.new) };
        let reached = |known: &Known| known.exposures.get(key).filter(|exposure| exposure.reachable).cloned();
        let lacks = |lacks: &BTreeSet<&str>| lacks.iter().copied().collect::<Vec<_>>().join("; ");
        let (kind, message, words): (&'static Kind, String, (Option<String>, Option<String>)) = match (reached(old), reached(new)) {
            (None, None) => continue,
            (None, Some(is)) => {
                let proven = if is.lacks.is_empty() { "proven".to_owned() } else { format!("not proven: {}", lacks(&is.lacks)) };
                (&kind::EXPOSURE_NEW, format!("`{step}` exposes to `{hazard}`, which it did not; {proven}"), (None, None))
            }
            (Some(_), None) => (&kind::EXPOSURE_GONE, format!("`{step}` no longer exposes to `{hazard}`"), (None, None)),
            (Some(was), Some(is)) if was.lacks.is_empty() && !is.lacks.is_empty() => {
                let message = format!("`{hazard}` at `{step}` is no longer proven: {}", lacks(&is.lacks));
                (&kind::EXPOSURE_UNPROVEN, message, (None, Some(lacks(&is.lacks))))
            }
            (Some(was), Some(is)) if !was.lacks.is_empty() && is.lacks.is_empty() => {
                (&kind::EXPOSURE_PROVEN, format!("`{hazard}` at `{step}` is proven now"), (Some(lacks(&was.lacks)), None))
            }
            (Some(was), Some(is)) if is.lacks.is_empty() && was.shown_at != is.shown_at => {
                let message = format!("`{hazard}` at `{step}` is covered by the caution of another step");
                (&kind::COVERED_OTHERWISE, message, (Some(at(pair, &was.shown_at)), Some(at(pair, &is.shown_at))))
            }
            _ => continue,
        };
        out.add(kind, spot, message).subject(hazard.as_str()).words(words.0, words.1);
    }
}

/// Steps, those of other procedures with its name before.
fn at(pair: Pair<'_>, steps: &BTreeSet<(Id, Id)>) -> String {
    let one = |(procedure, step): &(Id, Id)| if *procedure == pair.new.id { step.to_string() } else { format!("{procedure}/{step}") };
    steps.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// Conditions that surely held at a step where somebody works, and hold no longer; and the other way round.
pub fn conditions(pair: Pair<'_>, old: &Known, new: &Known, out: &mut Changes<'_>) {
    let works = |step: &Step| {
        let demands = !step.requires.is_empty() || !step.touches.is_empty() || !step.exposes.is_empty() || !step.cures.is_empty();
        demands || matches!(step.kind, StepKind::CarryOut(_))
    };
    let mut lost: BTreeMap<&Id, Vec<&Step>> = BTreeMap::new();
    let mut gained: BTreeMap<&Id, Vec<&Step>> = BTreeMap::new();
    for step in pair.new.steps.iter().filter(|step| works(step)) {
        if let (Some(was), Some(is)) = (old.held.get(&step.id), new.held.get(&step.id)) {
            was.difference(is).for_each(|condition| lost.entry(condition).or_default().push(step));
            is.difference(was).for_each(|condition| gained.entry(condition).or_default().push(step));
        }
    }
    let told = [(&kind::CONDITION_NOT_HELD, lost, "no longer surely holds"), (&kind::CONDITION_HELD, gained, "now surely holds")];
    for (kind, found, says) in told {
        for (condition, steps) in found {
            let Some(first) = steps.first() else { continue };
            let more = match steps.len() {
                1 => String::new(),
                2 => " and one step more".to_owned(),
                n => format!(" and {} steps more", n - 1),
            };
            let old_at = pair.old.step(&first.id).map(|step| step.at);
            let spot = Spot { procedure: Some(&pair.new.id), step: Some(&first.id), old: old_at, new: Some(first.at) };
            let change = out.add(kind, spot, format!("`{condition}` {says} at `{}`{more}", first.id));
            change.subject(condition.as_str()).steps = steps.iter().map(|step| step.id.clone()).collect();
        }
    }
}

/// How the procedure leaves things at each outcome, told at every step that carries it out.
pub fn ends(pair: Pair<'_>, old: &Known, new: &Known, callers: &[(&Procedure, &Step)], out: &mut Changes<'_>) {
    for (outcome, is) in &new.ends {
        let Some(was) = old.ends.get(outcome) else { continue };
        let (worse, other) = differences(was, is);
        for (kind, lines) in [(&kind::ENDS_LESS_SAFE, worse), (&kind::ENDS_OTHERWISE, other)] {
            for line in lines {
                for (caller, step) in callers {
                    let spot = Spot { procedure: Some(&caller.id), step: Some(&step.id), old: Some(pair.old.at), new: Some(step.at) };
                    let message = format!("after `{}` has ended with `{outcome}`, {line}", pair.new.id);
                    out.add(kind, spot, message).subject(pair.new.id.as_str());
                }
            }
        }
    }
}

/// What is less safe, and what is only otherwise.
fn differences(was: &End, is: &End) -> (Vec<String>, Vec<String>) {
    let (mut worse, mut other) = (Vec::new(), Vec::new());
    worse.extend(was.sets.difference(&is.sets).map(|it| format!("`{it}` no longer surely holds")));
    let unset = |it: &&Id| !was.sets.contains(*it) || is.sets.contains(*it);
    worse.extend(was.keeps.difference(&is.keeps).filter(unset).map(|it| format!("`{it}` no longer holds on from before")));
    worse.extend(was.cautions.difference(&is.cautions).map(|it| format!("the caution `{it}` shown before no longer counts")));
    if is.person < was.person {
        worse.push(format!("the person is only surely {}", is.person.as_str()));
    }
    if was.checked && !is.checked {
        worse.push("the cure is no longer surely checked".to_owned());
    }
    if is.unchecked_cure && !was.unchecked_cure {
        worse.push("something may have been cured and not checked".to_owned());
    }
    other.extend(is.sets.difference(&was.sets).map(|it| format!("`{it}` now surely holds")));
    let news = |it: &&Id| !is.sets.contains(*it);
    other.extend(is.keeps.difference(&was.keeps).filter(news).map(|it| format!("`{it}` now holds on from before")));
    other.extend(is.may.difference(&was.may).filter(news).map(|it| format!("`{it}` may now hold")));
    if is.person > was.person {
        other.push(format!("the person is now surely {}", is.person.as_str()));
    }
    (worse, other)
}

/// Errors that only one of the libraries has.
pub fn findings(old: &Judged<'_>, new: &Judged<'_>, out: &mut Changes<'_>) {
    let names = out.names;
    let errors =
        |judged: &Judged<'_>| judged.findings.iter().filter(|it| it.severity == Severity::Error).cloned().collect::<Vec<Finding>>();
    type Key = (&'static str, Option<Id>, Option<Id>, Option<String>);
    let before = |finding: &Finding| -> Key {
        let procedure = finding.procedure.as_ref().map(|id| names.procedure(id));
        let step = finding.step.as_ref().map(|step| procedure.as_ref().map_or_else(|| step.clone(), |id| names.step(id, step)));
        let subject = finding.subject.as_ref().map(|subject| names.subject(procedure.as_ref(), subject));
        // Where nothing names what it is about, the message tells one from the other.
        (finding.rule.name, procedure, step, subject.or_else(|| Some(finding.message.clone())))
    };
    let now = |finding: &Finding| -> Key {
        let subject = finding.subject.clone().or_else(|| Some(finding.message.clone()));
        (finding.rule.name, finding.procedure.clone(), finding.step.clone(), subject)
    };
    let (olds, news) = (errors(old), errors(new));
    let known: BTreeSet<Key> = olds.iter().map(before).collect();
    let still: BTreeSet<Key> = news.iter().map(now).collect();
    for finding in news.iter().filter(|finding| !known.contains(&now(finding))) {
        let (rule, procedure, step, _) = now(finding);
        let spot = Spot { procedure: procedure.as_ref(), step: step.as_ref(), old: None, new: Some(finding.at) };
        let change = out.add(&kind::FINDING_NEW, spot, format!("new error `{rule}`: {}", finding.message));
        change.subject = finding.subject.clone();
        change.witness = finding.witness.clone();
    }
    for finding in olds.iter().filter(|finding| !still.contains(&before(finding))) {
        let (rule, procedure, step, _) = before(finding);
        let spot = Spot { procedure: procedure.as_ref(), step: step.as_ref(), old: Some(finding.at), new: None };
        let change = out.add(&kind::FINDING_GONE, spot, format!("gone is the error `{rule}`: {}", finding.message));
        change.subject = finding.subject.clone();
        change.witness = finding.witness.clone();
    }
}
