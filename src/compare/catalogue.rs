//! What changed in the safety catalogue: hazards, conditions, parts, how long a caution counts.

use crate::compare::change::{Changes, Spot, only_in};
use crate::compare::kind::{self, Kind};
use crate::compare::said::plain;
use crate::compare::uses;
use crate::model::catalogue::{Condition, Hazard, Part, Person, ShownBy, Takes};
use crate::model::library::Library;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::duration_text;

pub fn compare(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let (before, after) = (&old.catalogue, &new.catalogue);
    for hazard in &before.hazards {
        let using = uses::hazard(old, &hazard.id);
        match after.hazard(&hazard.id) {
            Some(now) => hazards(hazard, now, uses::hazard(new, &hazard.id), out),
            None => gone(&kind::HAZARD_GONE, "hazard", &hazard.id, hazard.at, &hazard.name, using, out),
        }
    }
    for hazard in after.hazards.iter().filter(|it| before.hazard(&it.id).is_none()) {
        come(&kind::HAZARD_NEW, "hazard", &hazard.id, hazard.at, &hazard.name, uses::hazard(new, &hazard.id), out);
    }
    for condition in &before.conditions {
        let using = uses::condition(old, &condition.id);
        match after.condition(&condition.id) {
            Some(now) => conditions(condition, now, uses::condition(new, &condition.id), out),
            None => gone(&kind::CONDITION_GONE, "condition", &condition.id, condition.at, &condition.name, using, out),
        }
    }
    for it in after.conditions.iter().filter(|it| before.condition(&it.id).is_none()) {
        come(&kind::CONDITION_NEW, "condition", &it.id, it.at, &it.name, uses::condition(new, &it.id), out);
    }
    for part in &before.parts {
        match after.part(&part.id) {
            Some(now) => parts(part, now, uses::part(new, &part.id), out),
            None => gone(&kind::PART_GONE, "part", &part.id, part.at, &part.name, uses::part(old, &part.id), out),
        }
    }
    for part in after.parts.iter().filter(|it| before.part(&it.id).is_none()) {
        come(&kind::PART_NEW, "part", &part.id, part.at, &part.name, uses::part(new, &part.id), out);
    }
    within(old, new, out);
}

fn gone(kind: &'static Kind, sort: &str, id: &Id, at: Place, name: &Option<At<String>>, using: Vec<Id>, out: &mut Changes<'_>) {
    let change = out.add(kind, Spot::of(Some(at), None), format!("the {sort} `{id}` is gone from the catalogue"));
    change.subject(id.as_str()).words(name.as_ref().map(|name| name.value.clone()), None).used_by(using);
}

fn come(kind: &'static Kind, sort: &str, id: &Id, at: Place, name: &Option<At<String>>, using: Vec<Id>, out: &mut Changes<'_>) {
    let change = out.add(kind, Spot::of(None, Some(at)), format!("the {sort} `{id}` is new in the catalogue"));
    change.subject(id.as_str()).words(None, name.as_ref().map(|name| name.value.clone())).used_by(using);
}

/// One entry of the catalogue in both libraries.
struct Entry<'a, 'b, 'c> {
    id: &'a Id,
    old: Place,
    new: Place,
    using: Vec<Id>,
    out: &'b mut Changes<'c>,
}

impl Entry<'_, '_, '_> {
    fn tell(
        &mut self,
        kind: &'static Kind,
        old: Option<Place>,
        new: Option<Place>,
        message: String,
        words: (Option<String>, Option<String>),
    ) {
        let spot = Spot::of(Some(self.old), Some(self.new)).at(old, new);
        let change = self.out.add(kind, spot, message);
        change.subject(self.id.as_str()).words(words.0, words.1).used_by(self.using.clone());
    }

    /// A list of names: what it lost and what it gained.
    fn names(&mut self, old: &[At<Id>], new: &[At<Id>], lost: &'static Kind, added: &'static Kind, says: [&str; 2]) {
        for id in only_in(old, new) {
            self.tell(lost, Some(id.at), None, format!("`{}` {} `{}`", self.id, says[0], id.value), (Some(id.value.to_string()), None));
        }
        for id in only_in(new, old) {
            self.tell(added, None, Some(id.at), format!("`{}` {} `{}`", self.id, says[1], id.value), (None, Some(id.value.to_string())));
        }
    }

    /// The words that give it away in a text.
    fn phrases(&mut self, old: &[At<String>], new: &[At<String>]) {
        let only = |list: &[At<String>], other: &[At<String>]| {
            let others: Vec<String> = other.iter().map(|it| plain(it).to_lowercase()).collect();
            list.iter().filter(|it| !others.contains(&plain(it).to_lowercase())).cloned().collect::<Vec<_>>()
        };
        for word in only(old, new) {
            let words = (Some(word.value.clone()), None);
            self.tell(
                &kind::WORDS_LOST,
                Some(word.at),
                None,
                format!("`{}` is no longer given away by \"{}\"", self.id, plain(&word)),
                words,
            );
        }
        for word in only(new, old) {
            let words = (None, Some(word.value.clone()));
            self.tell(&kind::WORDS_ADDED, None, Some(word.at), format!("`{}` is now given away by \"{}\"", self.id, plain(&word)), words);
        }
    }

    fn text(&mut self, kind: &'static Kind, what: &str, old: &Option<At<String>>, new: &Option<At<String>>) {
        let said = |text: &Option<At<String>>| text.as_ref().map(|text| plain(text));
        if said(old) != said(new) {
            let at = |text: &Option<At<String>>| text.as_ref().map(|text| text.at);
            self.tell(kind, at(old), at(new), format!("`{}`: {what} changed", self.id), (said(old), said(new)));
        }
    }
}

fn hazards(old: &Hazard, new: &Hazard, using: Vec<Id>, out: &mut Changes<'_>) {
    let mut entry = Entry { id: &new.id, old: old.at, new: new.at, using, out };
    let demands = ["no longer demands", "now demands"];
    entry.names(&old.requires, &new.requires, &kind::HAZARD_DEMAND_LOST, &kind::HAZARD_DEMAND_ADDED, demands);
    let returns = ["no longer returns with", "now returns with"];
    entry.names(&old.returns_with, &new.returns_with, &kind::HAZARD_RETURN_LOST, &kind::HAZARD_RETURN_ADDED, returns);
    let least = |hazard: &Hazard| hazard.least.as_ref().map_or(Person::Ordinary, |least| least.value);
    if least(old) != least(new) {
        let lowered = least(new) < least(old);
        let kind = if lowered { &kind::HAZARD_LEAST_LOWERED } else { &kind::HAZARD_LEAST_RAISED };
        let message = format!("`{}` may now be met by {} persons, before by {}", new.id, least(new).as_str(), least(old).as_str());
        let at = |hazard: &Hazard| hazard.least.as_ref().map(|least| least.at);
        entry.tell(kind, at(old), at(new), message, (Some(least(old).as_str().to_owned()), Some(least(new).as_str().to_owned())));
    }
    signal(old, new, &mut entry);
    let texts = [
        ("its name", &old.name, &new.name),
        ("its kind", &old.kind, &new.kind),
        ("its place", &old.where_at, &new.where_at),
        ("its sign", &old.sign, &new.sign),
        ("what the hazard is", &old.nature, &new.nature),
        ("what can happen", &old.consequence, &new.consequence),
        ("what to do", &old.avoid, &new.avoid),
        ("the words read aloud", &old.spoken, &new.spoken),
        ("why nothing controls it", &old.no_control_because, &new.no_control_because),
    ];
    for (what, before, after) in texts {
        entry.text(&kind::HAZARD_TEXT_CHANGED, what, before, after);
    }
    entry.phrases(&old.words, &new.words);
}

fn signal(old: &Hazard, new: &Hazard, entry: &mut Entry<'_, '_, '_>) {
    let said = |hazard: &Hazard| hazard.signal_word.as_ref().map(|word| plain(word));
    if said(old) == said(new) {
        return;
    }
    // Signal words are ordered with the most severe first; one that is missing or unknown says least.
    let lowered = match (old.signal(), new.signal()) {
        (Some(before), Some(after)) => after > before,
        (_, None) => true,
        (None, Some(_)) => false,
    };
    let kind = if lowered { &kind::SIGNAL_LOWERED } else { &kind::SIGNAL_RAISED };
    let words = |hazard: &Hazard| said(hazard).unwrap_or_else(|| "nothing".to_owned());
    let message = format!("the signal word of `{}` is now {}, it was {}", new.id, words(new), words(old));
    let at = |hazard: &Hazard| hazard.signal_word.as_ref().map(|word| word.at);
    entry.tell(kind, at(old), at(new), message, (said(old), said(new)));
}

fn conditions(old: &Condition, new: &Condition, using: Vec<Id>, out: &mut Changes<'_>) {
    let mut entry = Entry { id: &new.id, old: old.at, new: new.at, using, out };
    let clears = ["no longer ends", "now ends"];
    entry.names(&old.clears, &new.clears, &kind::CONDITION_CLEARS_LOST, &kind::CONDITION_CLEARS_ADDED, clears);
    let id = |after: &Option<At<Id>>| after.as_ref().map(|after| after.value.to_string());
    if id(&old.after) != id(&new.after) {
        let says = |after: Option<String>| after.map_or_else(|| "nothing".to_owned(), |after| format!("`{after}`"));
        let message = format!("`{}` comes after {} now, it came after {}", new.id, says(id(&new.after)), says(id(&old.after)));
        let at = |after: &Option<At<Id>>| after.as_ref().map(|after| after.at);
        entry.tell(&kind::AFTER_CHANGED, at(&old.after), at(&new.after), message, (id(&old.after), id(&new.after)));
    }
    takes(old, new, &mut entry);
    shown_by(old, new, &mut entry);
    if old.tried_out != new.tried_out {
        let kind = if new.tried_out { &kind::TRIED_OUT_ADDED } else { &kind::TRIED_OUT_LOST };
        let message = if new.tried_out { "must now be tried out by somebody" } else { "need no longer be tried out by anybody" };
        entry.tell(kind, None, None, format!("`{}` {message}", new.id), (None, None));
    }
    if old.must_clear != new.must_clear {
        let kind = if new.must_clear { &kind::MUST_CLEAR_ADDED } else { &kind::MUST_CLEAR_LOST };
        let message = if new.must_clear { "must now be cleared before any ending" } else { "may now be left behind at an ending" };
        entry.tell(kind, None, None, format!("`{}` {message}", new.id), (None, None));
    }
    entry.text(&kind::CONDITION_NAME_CHANGED, "its name", &old.name, &new.name);
    entry.phrases(&old.words, &new.words);
}

fn takes(old: &Condition, new: &Condition, entry: &mut Entry<'_, '_, '_>) {
    let (before, after) = (old.takes.as_ref().map(|it| &it.value), new.takes.as_ref().map(|it| &it.value));
    if before == after {
        return;
    }
    let kind = match (before, after) {
        (Some(Takes::Seconds(was)), Some(Takes::Seconds(is))) if is < was => &kind::TAKES_CUT,
        (Some(Takes::Seconds(_)), Some(Takes::Seconds(_))) | (None, Some(_)) => &kind::TAKES_GROWN,
        (Some(_), None) => &kind::TAKES_CUT,
        _ => &kind::TAKES_CHANGED,
    };
    let says = |takes: Option<&Takes>| match takes {
        None => "no time".to_owned(),
        Some(Takes::Seconds(seconds)) => duration_text(*seconds),
        Some(Takes::Figure(figure)) => format!("the figure `{figure}`"),
    };
    let message = format!("`{}` takes {} now, it took {}", new.id, says(after), says(before));
    let at = |condition: &Condition| condition.takes.as_ref().map(|takes| takes.at);
    entry.tell(kind, at(old), at(new), message, (Some(says(before)), Some(says(after))));
}

fn shown_by(old: &Condition, new: &Condition, entry: &mut Entry<'_, '_, '_>) {
    let range = |shown: &ShownBy| (shown.unit, shown.from, shown.up_to);
    let (before, after) = (old.shown_by.as_ref(), new.shown_by.as_ref());
    if before.map(range) == after.map(range) {
        return;
    }
    let kind = match (before, after) {
        (Some(was), Some(is)) if was.unit == is.unit => {
            let wider = is.up_to > was.up_to || (was.from.is_some() && is.from < was.from);
            if wider { &kind::SHOWN_BY_WIDENED } else { &kind::SHOWN_BY_NARROWED }
        }
        (None, Some(_)) => &kind::SHOWN_BY_WIDENED,
        (Some(_), None) => &kind::SHOWN_BY_NARROWED,
        _ => &kind::SHOWN_BY_CHANGED,
    };
    let says = |shown: Option<&ShownBy>| match shown {
        None => "no reading".to_owned(),
        Some(it) => {
            let from = it.from.map(|from| format!("from {from} ")).unwrap_or_default();
            format!("readings {from}up to {} {}", it.up_to, it.unit.as_str()).trim_end().to_owned()
        }
    };
    let message = format!("`{}` is shown by {} now, before by {}", new.id, says(after), says(before));
    entry.tell(kind, before.map(|it| it.at), after.map(|it| it.at), message, (Some(says(before)), Some(says(after))));
}

fn parts(old: &Part, new: &Part, using: Vec<Id>, out: &mut Changes<'_>) {
    let mut entry = Entry { id: &new.id, old: old.at, new: new.at, using, out };
    let brings = ["no longer brings", "now brings"];
    entry.names(&old.hazards, &new.hazards, &kind::PART_HAZARD_LOST, &kind::PART_HAZARD_ADDED, brings);
    entry.text(&kind::CONDITION_NAME_CHANGED, "its name", &old.name, &new.name);
    entry.phrases(&old.words, &new.words);
}

fn within(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let (before, after) = (old.catalogue.caution_within, new.catalogue.caution_within);
    if before == after {
        return;
    }
    let raised = after.steps > before.steps || after.seconds > before.seconds;
    let kind = if raised { &kind::CAUTION_WITHIN_RAISED } else { &kind::CAUTION_WITHIN_LOWERED };
    let says = |steps: u32, seconds: u32| format!("{steps} steps and {}", duration_text(seconds));
    let (was, is) = (says(before.steps, before.seconds), says(after.steps, after.seconds));
    let all = new.procedures.iter().filter(|it| it.steps.iter().any(|step| !step.cautions.is_empty())).map(|it| it.id.clone());
    let spot = Spot::of(old.catalogue.at, new.catalogue.at);
    out.add(kind, spot, format!("a caution counts for {is} now, before for {was}")).words(Some(was), Some(is)).used_by(all.collect());
}
