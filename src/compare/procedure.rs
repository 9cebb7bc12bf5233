//! What changed in a procedure outside its steps: who and what it is for, what it requires, its status, its words.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::change::{Changes, Spot, only_in};
use crate::compare::denials;
use crate::compare::kind::{self, Kind};
use crate::compare::said::{self, plain};
use crate::compare::steps::Pair;
use crate::model::procedure::{Fault, Kind as ProcedureKind, Procedure, Status};
use crate::text::id::Id;
use crate::text::place::At;

pub fn compare(pair: Pair<'_>, out: &mut Changes<'_>) {
    begins(pair, out);
    denials::of_procedure(pair, out);
    status(pair, out);
    front(pair, out);
    faults(pair, out);
    sections(pair, out);
}

/// What must be so when it begins.
fn begins(pair: Pair<'_>, out: &mut Changes<'_>) {
    let (spot, id) = (pair.spot(), &pair.new.id);
    let (old, new) = (pair.old, pair.new);
    if old.person != new.person {
        let kind = if new.person < old.person { &kind::FOR_LOWERED } else { &kind::FOR_RAISED };
        let message = format!("`{id}` is for {} persons now, before for {}", new.person.as_str(), old.person.as_str());
        out.add(kind, spot, message).words(Some(old.person.as_str().to_owned()), Some(new.person.as_str().to_owned()));
    }
    for lost in only_in(&old.requires, &new.requires) {
        let message = format!("`{id}` no longer requires `{}` when it begins", lost.value);
        out.add(&kind::REQUIREMENT_LOST, spot.at(Some(lost.at), None), message).subject(lost.as_str());
    }
    for added in only_in(&new.requires, &old.requires) {
        let message = format!("`{id}` now requires `{}` when it begins", added.value);
        out.add(&kind::REQUIREMENT_ADDED, spot.at(None, Some(added.at)), message).subject(added.as_str());
    }
    let start = |procedure: &Procedure| procedure.start_step().map(|step| (step.id.to_string(), step.at));
    let (was, is) = (start(old), start(new));
    if was.as_ref().map(|it| &it.0) != is.as_ref().map(|it| &it.0) {
        let says = |it: &Option<(String, _)>| it.as_ref().map_or_else(|| "nothing".to_owned(), |it| it.0.clone());
        let message = format!("`{id}` begins with `{}` now, before with `{}`", says(&is), says(&was));
        let spot = spot.at(was.as_ref().map(|it| it.1), is.as_ref().map(|it| it.1));
        out.add(&kind::START_CHANGED, spot, message).words(Some(says(&was)), Some(says(&is)));
    }
    let outcomes = |procedure: &Procedure| procedure.outcome_names().iter().map(ToString::to_string).collect::<BTreeSet<_>>();
    if old.kind == new.kind && outcomes(old) != outcomes(new) {
        let list = |set: BTreeSet<String>| Some(set.into_iter().collect::<Vec<_>>().join(", "));
        out.add(&kind::OUTCOMES_CHANGED, spot, format!("`{id}` can end in other ways")).words(list(outcomes(old)), list(outcomes(new)));
    }
    let models = |library: &crate::model::library::Library, procedure: &Procedure| {
        let models: Vec<String> = library.models_of(procedure).iter().map(ToString::to_string).collect();
        (procedure.equipment.is_none(), models)
    };
    let (was, is) = (models(pair.libraries.0, old), models(pair.libraries.1, new));
    if was.1 != is.1 {
        let says = |it: &(bool, Vec<String>)| Some(if it.1.is_empty() { "none".to_owned() } else { it.1.join(", ") });
        out.add(&kind::MODELS_CHANGED, spot, format!("`{id}` is for other models")).words(says(&was), says(&is));
    }
}

fn status(pair: Pair<'_>, out: &mut Changes<'_>) {
    let (was, is) = (pair.old.status, pair.new.status);
    let id = &pair.new.id;
    if was != is {
        let kind = match is {
            Status::Withdrawn => &kind::PROCEDURE_WITHDRAWN,
            Status::Released => &kind::PROCEDURE_RELEASED,
            Status::Draft | Status::InReview => &kind::STATUS_CHANGED,
        };
        let message = format!("`{id}` is {} now, it was {}", is.as_str(), was.as_str());
        out.add(kind, pair.spot(), message).words(Some(was.as_str().to_owned()), Some(is.as_str().to_owned()));
    }
    if pair.old.kind != pair.new.kind {
        let says = |kind: ProcedureKind| if kind == ProcedureKind::Task { "a task" } else { "for fault finding" };
        let message = format!("`{id}` is {} now, it was {}", says(pair.new.kind), says(pair.old.kind));
        out.add(&kind::PROCEDURE_KIND_CHANGED, pair.spot(), message);
    }
}

/// Texts and lists of the front matter.
fn front(pair: Pair<'_>, out: &mut Changes<'_>) {
    let (old, new, id) = (pair.old, pair.new, &pair.new.id);
    let text = |text: &Option<At<String>>| text.as_ref().map(|text| plain(text));
    let texts = [("title", text(&old.title), text(&new.title)), ("summary", text(&old.summary), text(&new.summary))];
    for (what, was, is) in texts.into_iter().filter(|(_, was, is)| was != is) {
        out.add(&kind::HEADING_CHANGED, pair.spot(), format!("the {what} of `{id}` changed")).words(was, is);
    }
    let list = |list: &[At<String>]| list.iter().map(|it| plain(it)).collect::<BTreeSet<_>>();
    let ids = |list: &[At<Id>]| list.iter().map(|it| it.value.to_string()).collect::<BTreeSet<_>>();
    let lists: [(&'static Kind, &str, BTreeSet<String>, BTreeSet<String>); 5] = [
        (&kind::SYMPTOMS_CHANGED, "symptoms", list(&old.symptoms), list(&new.symptoms)),
        (&kind::CODES_CHANGED, "codes", list(&old.codes), list(&new.codes)),
        (&kind::DETAIL_CHANGED, "tools", list(&old.tools), list(&new.tools)),
        (&kind::DETAIL_CHANGED, "supplies", list(&old.supplies), list(&new.supplies)),
        (&kind::DETAIL_CHANGED, "stages", ids(&old.stages), ids(&new.stages)),
    ];
    for (kind, what, was, is) in lists.into_iter().filter(|(_, _, was, is)| was != is) {
        let joined = |set: BTreeSet<String>| Some(set.into_iter().collect::<Vec<_>>().join(", "));
        out.add(kind, pair.spot(), format!("the {what} of `{id}` changed")).words(joined(was), joined(is));
    }
    let number = |number: &Option<At<u32>>| number.as_ref().map(|it| it.value.to_string());
    let day = |day: &Option<At<jiff::civil::Date>>| day.as_ref().map(|it| it.value.to_string());
    let name = |id: &Option<At<Id>>| id.as_ref().map(|it| it.value.to_string());
    let others = [
        ("revision", number(&old.revision), number(&new.revision)),
        ("owner", text(&old.owner), text(&new.owner)),
        ("day of review", day(&old.review_by), day(&new.review_by)),
        ("procedure that replaces it", name(&old.replaced_by), name(&new.replaced_by)),
        ("reason why it is withdrawn", text(&old.withdrawn_because), text(&new.withdrawn_because)),
    ];
    for (what, was, is) in others.into_iter().filter(|(_, was, is)| was != is) {
        out.add(&kind::DETAIL_CHANGED, pair.spot(), format!("`{id}`: the {what} changed")).words(was, is);
    }
}

fn faults(pair: Pair<'_>, out: &mut Changes<'_>) {
    let says = |fault: &Fault| {
        let name = fault.name.as_ref().map(|name| plain(name)).unwrap_or_default();
        let to = fault.comes_to.as_ref().map(|to| format!(", comes to {}", to.value)).unwrap_or_default();
        format!("{name}, weight {}{to}", fault.weight.normalize())
    };
    let of = |procedure: &'_ Procedure| procedure.faults.iter().map(|it| (it.id.clone(), (says(it), it.at))).collect::<BTreeMap<_, _>>();
    let (before, after) = (of(pair.old), of(pair.new));
    let ids: BTreeSet<&Id> = before.keys().chain(after.keys()).collect();
    for id in ids {
        let (was, is) = (before.get(id), after.get(id));
        if was.map(|it| &it.0) == is.map(|it| &it.0) {
            continue;
        }
        let message = match (was, is) {
            (Some(_), None) => format!("the fault `{id}` is gone"),
            (None, _) => format!("the fault `{id}` is new"),
            _ => format!("the fault `{id}` has another name, weight or end"),
        };
        let spot = Spot { old: was.map(|it| it.1), new: is.map(|it| it.1), ..pair.spot() };
        out.add(&kind::FAULT_CHANGED, spot, message).subject(id.as_str()).words(was.map(|it| it.0.clone()), is.map(|it| it.0.clone()));
    }
}

/// The words of the steps and the introduction.
fn sections(pair: Pair<'_>, out: &mut Changes<'_>) {
    let (mut before, mut after) = (said::sections(&pair.old.body), said::sections(&pair.new.body));
    let all: BTreeSet<Option<Id>> = before.keys().chain(after.keys()).cloned().collect();
    for section in all {
        let (was, is) = (before.remove(&section), after.remove(&section));
        if was == is {
            continue;
        }
        let place = |procedure: &Procedure| {
            let found = procedure.body.sections.iter().find(|it| it.id.as_ref().map(|id| &id.value) == section.as_ref());
            if section.is_none() { Some(procedure.body.introduction.at) } else { found.map(|section| section.at) }
        };
        let message = match &section {
            Some(id) => format!("the words of `{id}` changed"),
            None => "the introduction changed".to_owned(),
        };
        let step = section.as_ref().filter(|id| pair.new.step(id).is_some() || pair.old.step(id).is_some());
        let spot = Spot { step, old: place(pair.old), new: place(pair.new), ..pair.spot() };
        let joined = |blocks: Option<Vec<String>>| blocks.map(|blocks| blocks.join("\n"));
        out.add(&kind::SECTION_CHANGED, spot, message).words(joined(was), joined(is));
    }
}

/// Procedures that only one of the libraries has.
pub fn alone(procedure: &Procedure, new: bool, out: &mut Changes<'_>) {
    let title = Some(procedure.title().to_owned());
    let spot = Spot { procedure: Some(&procedure.id), ..Spot::default() };
    if new {
        let spot = spot.at(None, Some(procedure.at));
        out.add(&kind::PROCEDURE_NEW, spot, format!("the procedure `{}` is new", procedure.id)).words(None, title);
    } else {
        let spot = spot.at(Some(procedure.at), None);
        out.add(&kind::PROCEDURE_GONE, spot, format!("the procedure `{}` is gone", procedure.id)).words(title, None);
    }
}
