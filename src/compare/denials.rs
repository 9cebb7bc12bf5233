//! What an author says to quieten the proof: waivers, and denials that words touch or change something.

use crate::compare::change::{Changes, Spot};
use crate::compare::kind;
use crate::compare::said::plain;
use crate::compare::steps::Pair;
use crate::model::procedure::{Denial, Waiver};
use crate::model::step::Step;

pub fn of_step(spot: Spot<'_>, old: &Step, new: &Step, out: &mut Changes<'_>) {
    let id = &new.id;
    denials(spot, &format!("`{id}`"), "touches", &old.not_touching, &new.not_touching, out);
    denials(spot, &format!("`{id}`"), "changes", &old.not_changing, &new.not_changing, out);
}

pub fn of_procedure(pair: Pair<'_>, out: &mut Changes<'_>) {
    denials(pair.spot(), "the introduction", "touches", &pair.old.not_touching, &pair.new.not_touching, out);
    for waiver in &pair.new.waivers {
        match pair.old.waivers.iter().find(|it| key(it) == key(waiver)) {
            Some(before) => waivers(pair, before, waiver, out),
            None => {
                let spot = Spot { step: waiver.step.as_ref().map(|it| &it.value), old: None, new: Some(waiver.at), ..pair.spot() };
                out.add(&kind::WAIVER_NEW, spot, format!("a waiver is new: {}", says(waiver))).words(None, reason(waiver));
            }
        }
    }
    for waiver in pair.old.waivers.iter().filter(|old| !pair.new.waivers.iter().any(|new| key(new) == key(old))) {
        let spot = Spot { step: waiver.step.as_ref().map(|it| &it.value), old: Some(waiver.at), new: None, ..pair.spot() };
        out.add(&kind::WAIVER_GONE, spot, format!("a waiver is gone: {}", says(waiver))).words(reason(waiver), None);
    }
}

fn key(waiver: &Waiver) -> (Option<&str>, Option<&str>, Option<&str>) {
    (
        waiver.step.as_ref().map(|it| it.as_str()),
        waiver.hazard.as_ref().map(|it| it.as_str()),
        waiver.of.as_ref().map(|of| of.value.as_str()),
    )
}

fn says(waiver: &Waiver) -> String {
    let (step, hazard, of) = key(waiver);
    format!("`{}` of `{}` at `{}`", of.unwrap_or("nothing"), hazard.unwrap_or("nothing"), step.unwrap_or("no step"))
}

fn reason(waiver: &Waiver) -> Option<String> {
    waiver.reason.as_ref().map(|reason| plain(reason))
}

fn waivers(pair: Pair<'_>, old: &Waiver, new: &Waiver, out: &mut Changes<'_>) {
    let spot = Spot { step: new.step.as_ref().map(|it| &it.value), old: Some(old.at), new: Some(new.at), ..pair.spot() };
    let until = |waiver: &Waiver| waiver.until.as_ref().map(|until| until.value);
    if until(old) != until(new) {
        let day = |waiver: &Waiver| until(waiver).map_or_else(|| "no day".to_owned(), |day| day.to_string());
        let extended = until(new) > until(old);
        let kind = if extended { &kind::WAIVER_EXTENDED } else { &kind::WAIVER_CHANGED };
        let message = format!("a waiver holds until {} now, before until {}: {}", day(new), day(old), says(new));
        out.add(kind, spot, message).words(Some(day(old)), Some(day(new)));
    }
    let by = |waiver: &Waiver| waiver.by.as_ref().map(|by| plain(by));
    if by(old) != by(new) {
        let message = format!("a waiver has another author: {}", says(new));
        out.add(&kind::WAIVER_CHANGED, spot, message).words(by(old), by(new));
    }
    if reason(old) != reason(new) {
        let message = format!("a waiver has another reason: {}", says(new));
        out.add(&kind::WAIVER_CHANGED, spot, message).words(reason(old), reason(new));
    }
}

fn denials(spot: Spot<'_>, who: &str, verb: &str, old: &[Denial], new: &[Denial], out: &mut Changes<'_>) {
    for denial in new {
        let of = &denial.of;
        match old.iter().find(|it| it.of.value == of.value) {
            None => {
                let message = format!("{who} now denies that it {verb} `{}`", of.value);
                let change = out.add(&kind::DENIAL_NEW, spot.at(None, Some(of.at)), message);
                change.subject(of.as_str()).words(None, Some(plain(&denial.reason)));
            }
            Some(before) if plain(&before.reason) != plain(&denial.reason) => {
                let message = format!("{who} denies for another reason that it {verb} `{}`", of.value);
                let change = out.add(&kind::DENIAL_CHANGED, spot.at(Some(before.of.at), Some(of.at)), message);
                change.subject(of.as_str()).words(Some(plain(&before.reason)), Some(plain(&denial.reason)));
            }
            Some(_) => {}
        }
    }
    for denial in old.iter().filter(|old| !new.iter().any(|new| new.of.value == old.of.value)) {
        let message = format!("{who} no longer denies that it {verb} `{}`", denial.of.value);
        let change = out.add(&kind::DENIAL_GONE, spot.at(Some(denial.of.at), None), message);
        change.subject(denial.of.as_str()).words(Some(plain(&denial.reason)), None);
    }
}
