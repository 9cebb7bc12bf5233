//! What changed in a library outside its procedures and its safety catalogue: stop card, rules, machines, stages, leaflets, pictures.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::Judged;
use crate::compare::change::{Changes, Spot};
use crate::compare::kind;
use crate::compare::said::{plain, whole};
use crate::compare::uses;
use crate::finding::rule;
use crate::model::equipment::Stage;
use crate::model::library::{Library, RuleSetting};
use crate::text::id::Id;
use crate::text::place::{At, Place};

pub fn compare(old: &Library, new: &Library, pictures: (&Judged<'_>, &Judged<'_>), out: &mut Changes<'_>) {
    stop_card(old, new, out);
    rules(old, new, out);
    settings(old, new, out);
    equipment(old, new, out);
    stages(old, new, out);
    leaflets(old, new, out);
    let (before, after) = (&pictures.0.pictures, &pictures.1.pictures);
    let all: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    for path in all.into_iter().filter(|path| before.get(*path) != after.get(*path)) {
        let message = match (before.contains_key(path), after.contains_key(path)) {
            (true, false) => format!("the picture `{path}` is gone"),
            (false, _) => format!("the picture `{path}` is new"),
            _ => format!("the picture `{path}` is another one"),
        };
        let mut using = uses::picture(new, path);
        using.extend(uses::picture(old, path));
        using.sort();
        using.dedup();
        out.add(&kind::PICTURE_CHANGED, Spot::default(), message).subject(path).used_by(using);
    }
}

fn stop_card(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let card = |library: &Library| {
        library
            .stop_card
            .as_ref()
            .map(|card| (card.at, format!("{}\n{}", card.title.as_ref().map_or("", |it| it.as_str()), whole(&card.body))))
    };
    let (was, is) = (card(old), card(new));
    if was.as_ref().map(|it| plain(&it.1)) == is.as_ref().map(|it| plain(&it.1)) {
        return;
    }
    let (kind, message) = match (&was, &is) {
        (Some(_), None) => (&kind::STOP_CARD_GONE, "the stop card is gone"),
        (None, _) => (&kind::STOP_CARD_NEW, "the stop card is new"),
        _ => (&kind::STOP_CARD_CHANGED, "the stop card changed"),
    };
    let spot = Spot::of(was.as_ref().map(|it| it.0), is.as_ref().map(|it| it.0));
    out.add(kind, spot, message).words(was.map(|it| it.1.trim().to_owned()), is.map(|it| it.1.trim().to_owned()));
}

/// How strict a severity is: the greater the stricter.
fn strictness(severity: &str) -> u8 {
    match severity {
        "error" => 3,
        "warning" => 2,
        "note" => 1,
        _ => 0,
    }
}

fn rules(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let of = |library: &Library| {
        let entry = |it: &RuleSetting| {
            let severity = it.severity.as_ref().map(|it| it.value.clone()).unwrap_or_default();
            (it.rule.value.to_string(), (severity, it.reason.as_ref().map(|it| plain(it)).unwrap_or_default(), it.rule.at))
        };
        library.settings.rules.iter().map(entry).collect::<BTreeMap<_, _>>()
    };
    let (before, after) = (of(old), of(new));
    let all: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    for name in all {
        let usual = rule::by_name(name).map_or("unknown", |rule| rule.severity.as_str());
        let severity = |setting: Option<&(String, String, Place)>| setting.map_or_else(|| usual.to_owned(), |it| it.0.clone());
        let (was, is) = (before.get(name), after.get(name));
        let spot = Spot::of(was.map(|it| it.2), is.map(|it| it.2));
        let reasons = (was.map(|it| it.1.clone()), is.map(|it| it.1.clone()));
        if severity(was) != severity(is) {
            let lowered = strictness(&severity(is)) < strictness(&severity(was));
            let kind = if lowered { &kind::RULE_LOWERED } else { &kind::RULE_RAISED };
            let message = format!("the rule `{name}` counts as {} now, before as {}", severity(is), severity(was));
            out.add(kind, spot, message).subject(name).words(reasons.0, reasons.1);
        } else if reasons.0 != reasons.1 {
            let message = format!("the rule `{name}` is set for another reason");
            out.add(&kind::SETTING_CHANGED, spot, message).subject(name).words(reasons.0, reasons.1);
        }
    }
}

fn settings(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let (before, after) = (&old.settings, &new.settings);
    let days = |library: &Library| library.settings.offline_days.as_ref().map_or(30, |days| days.value);
    let at = |library: &Library| library.settings.offline_days.as_ref().or(None).map(|days| days.at);
    if days(old) != days(new) {
        let kind = if days(new) > days(old) { &kind::OFFLINE_DAYS_RAISED } else { &kind::OFFLINE_DAYS_LOWERED };
        let message = format!("an offline copy is good for {} days now, before for {}", days(new), days(old));
        out.add(kind, Spot::of(at(old), at(new)), message).words(Some(days(old).to_string()), Some(days(new).to_string()));
    }
    if before.language() != after.language() {
        let message = format!("the language is `{}` now, before `{}`: words are searched otherwise", after.language(), before.language());
        let place = |it: &Option<At<String>>| it.as_ref().map(|it| it.at);
        let spot = Spot::of(place(&before.language), place(&after.language));
        out.add(&kind::LANGUAGE_CHANGED, spot, message).words(Some(before.language().to_owned()), Some(after.language().to_owned()));
    }
    let text = |it: &Option<At<String>>| it.as_ref().map(|it| plain(it));
    let roles = |library: &Library| {
        let mut roles: Vec<String> = library.settings.roles.iter().map(|role| plain(role)).collect();
        roles.sort();
        Some(roles.join(", "))
    };
    let others = [
        ("title", text(&before.title), text(&after.title)),
        ("address of the site", text(&before.site), text(&after.site)),
        ("list of roles", roles(old), roles(new)),
    ];
    for (what, was, is) in others.into_iter().filter(|(_, was, is)| was != is) {
        let place = |it: &Option<At<String>>| it.as_ref().map(|it| it.at);
        let spot = Spot::of(place(&before.title), place(&after.title));
        out.add(&kind::SETTING_CHANGED, spot, format!("the {what} of the library changed")).words(was, is);
    }
}

fn equipment(old: &Library, new: &Library, out: &mut Changes<'_>) {
    for model in &old.equipment.models {
        if new.equipment.model(&model.id).is_none() {
            let message = format!("the model `{}` is gone", model.id);
            out.add(&kind::MODEL_CHANGED, Spot::of(Some(model.at), None), message).subject(model.id.as_str());
        }
    }
    for model in &new.equipment.models {
        let Some(before) = old.equipment.model(&model.id) else {
            let message = format!("the model `{}` is new", model.id);
            out.add(&kind::MODEL_CHANGED, Spot::of(None, Some(model.at)), message).subject(model.id.as_str());
            continue;
        };
        if before.title() != model.title() {
            let message = format!("the model `{}` has another name", model.id);
            let change = out.add(&kind::MODEL_CHANGED, Spot::of(Some(before.at), Some(model.at)), message);
            change.subject(model.id.as_str()).words(Some(plain(before.title())), Some(plain(model.title())));
        }
        let tables = [("figure", &before.figures, &model.figures), ("distance", &before.repeats, &model.repeats)];
        for (what, was, is) in tables {
            let names: BTreeSet<&Id> = was.iter().chain(is.iter()).map(|(name, _)| &name.value).collect();
            for name in names {
                let find = |list: &'_ [(At<Id>, At<crate::text::quantity::Quantity>)]| {
                    list.iter().find(|(id, _)| id.value == *name).map(|(_, quantity)| (quantity.value, quantity.at))
                };
                let (before, after) = (find(was), find(is));
                if before.map(|it| it.0) == after.map(|it| it.0) {
                    continue;
                }
                let says =
                    |it: Option<(crate::text::quantity::Quantity, Place)>| it.map_or_else(|| "none".to_owned(), |it| it.0.to_string());
                let message = format!("`{}`: the {what} `{name}` is {} now, before {}", model.id, says(after), says(before));
                let spot = Spot::of(before.map(|it| it.1), after.map(|it| it.1));
                let mut using = if what == "figure" { uses::figure(new, name) } else { uses::repeats(new) };
                using.extend(if what == "figure" { uses::figure(old, name) } else { Vec::new() });
                using.sort();
                using.dedup();
                let seconds = |it: Option<(crate::text::quantity::Quantity, Place)>| {
                    it.and_then(|it| crate::text::quantity::seconds(it.0.value, it.0.unit.as_str()))
                };
                // A figure that says how long a condition takes is a wait.
                let kind = match (what == "figure" && uses::is_wait(old, new, name), seconds(before), seconds(after)) {
                    (true, Some(was), Some(is)) if is < was => &kind::TAKES_CUT,
                    (true, Some(was), Some(is)) if is > was => &kind::TAKES_GROWN,
                    (true, _, _) => &kind::TAKES_CHANGED,
                    (false, _, _) => &kind::FIGURE_CHANGED,
                };
                let change = out.add(kind, spot, message);
                change.subject(name.as_str()).words(Some(says(before)), Some(says(after))).used_by(using);
            }
        }
    }
}

fn stages(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let says = |stage: &Stage| {
        let text = |it: &Option<At<String>>| it.as_ref().map(|it| plain(it)).unwrap_or_default();
        let faults: Vec<String> = stage.faults.iter().map(|it| plain(it)).collect();
        format!("{}: {} {}", text(&stage.name), text(&stage.does), faults.join("; "))
    };
    let of = |library: &Library| library.stages.iter().map(|it| (it.id.clone(), (says(it), it.at))).collect::<Vec<_>>();
    let (before, after) = (of(old), of(new));
    let find = |list: &[(Id, (String, Place))], id: &Id| list.iter().find(|(it, _)| it == id).map(|it| it.1.clone());
    let all: BTreeSet<&Id> = before.iter().chain(&after).map(|(id, _)| id).collect();
    for id in all {
        let (was, is) = (find(&before, id), find(&after, id));
        if was.as_ref().map(|it| &it.0) != is.as_ref().map(|it| &it.0) {
            let spot = Spot::of(was.as_ref().map(|it| it.1), is.as_ref().map(|it| it.1));
            let message = format!("the stage `{id}` changed");
            out.add(&kind::STAGE_CHANGED, spot, message).subject(id.as_str()).words(was.map(|it| it.0), is.map(|it| it.0));
        }
    }
    // Stages are shown in the order of the process.
    let order = |list: &[(Id, (String, Place))], other: &[(Id, (String, Place))]| {
        list.iter().filter(|(id, _)| find(other, id).is_some()).map(|(id, _)| id.to_string()).collect::<Vec<_>>()
    };
    let (was, is) = (order(&before, &after), order(&after, &before));
    if was != is {
        out.add(&kind::STAGE_CHANGED, Spot::default(), "the stages stand in another order")
            .words(Some(was.join(", ")), Some(is.join(", ")));
    }
}

fn leaflets(old: &Library, new: &Library, out: &mut Changes<'_>) {
    let of = |library: &Library| {
        let entry = |it: &crate::model::library::Leaflet| {
            let text = format!("{}\n{}", it.title.as_ref().map_or("", |title| title.as_str()), whole(&it.body));
            (it.id.clone(), (text.trim().to_owned(), it.at))
        };
        library.leaflets.iter().map(entry).collect::<BTreeMap<_, _>>()
    };
    let (before, after) = (of(old), of(new));
    let all: BTreeSet<&Id> = before.keys().chain(after.keys()).collect();
    for id in all {
        let (was, is) = (before.get(id), after.get(id));
        if was.map(|it| plain(&it.0)) == is.map(|it| plain(&it.0)) {
            continue;
        }
        let message = match (was, is) {
            (Some(_), None) => format!("the leaflet `{id}` is gone"),
            (None, _) => format!("the leaflet `{id}` is new"),
            _ => format!("the leaflet `{id}` changed"),
        };
        let spot = Spot::of(was.map(|it| it.1), is.map(|it| it.1));
        out.add(&kind::LEAFLET_CHANGED, spot, message).subject(id.as_str()).words(was.map(|it| it.0.clone()), is.map(|it| it.0.clone()));
    }
}
