//! What people decided, recorded or have to judge: waivers, denials, approvals, lowered rules, the words behind each condition.

use std::collections::BTreeSet;

use crate::emit::review::conditions::{How, SetBy};
use crate::emit::review::speech::Spoken;
use crate::emit::review::{UNPROVED, denials, waiver_days_left};
use crate::model::catalogue::Condition;
use crate::model::procedure::{Procedure, Waiver};
use crate::render::escape;
use crate::render::review::Desk;
use crate::render::review::setters::Setting;
use crate::render::say::items;
use crate::text::id::Id;

/// A ruled table that scrolls by itself if it must; nothing without rows.
pub fn table(name: &str, heads: &[String], rows: &[Vec<String>]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let head: String = heads.iter().map(|head| format!("<th scope=\"col\">{head}</th>")).collect();
    let cell = |(head, cell): (&String, &String)| format!("<td data-head=\"{head}\">{cell}</td>");
    let row = |row: &Vec<String>| format!("<tr>{}</tr>\n", heads.iter().zip(row).map(cell).collect::<String>());
    let body: String = rows.iter().map(row).collect();
    format!(
        "<table class=\"sheet-table\">\n<caption class=\"out-of-sight\">{name}</caption>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{body}</tbody>\n</table>\n"
    )
}

fn heads(desk: &Desk<'_, '_>, keys: &[&str]) -> Vec<String> {
    keys.iter().map(|key| desk.word(key)).collect()
}

/// The waivers of these procedures. `named` adds a column with the procedure.
pub fn waivers(desk: &Desk<'_, '_>, procedures: &[&Procedure], named: bool) -> String {
    let rows: Vec<Vec<String>> =
        procedures.iter().flat_map(|procedure| procedure.waivers.iter().map(|waiver| waiver_row(desk, procedure, waiver, named))).collect();
    let keys: &[&str] = if named {
        &["procedure", "step", "hazard", "waived-demand", "reason", "by", "last-day"]
    } else {
        &["step", "hazard", "waived-demand", "reason", "by", "last-day"]
    };
    table(&desk.word("waivers"), &heads(desk, keys), &rows)
}

fn waiver_row(desk: &Desk<'_, '_>, procedure: &Procedure, waiver: &Waiver, named: bool) -> Vec<String> {
    let none = || desk.frame.word("page", "none");
    let text = |text: &Option<crate::text::place::At<String>>| text.as_ref().map_or_else(none, |text| escape::text(text));
    let last = match (&waiver.until, waiver_days_left(waiver, desk.review.today)) {
        (Some(until), Some(left)) => format!("<time datetime=\"{0}\">{0}</time>, {1}", until.value, days(desk, left)),
        _ => none(),
    };
    let own = [
        waiver.step.as_ref().map_or_else(none, |step| desk.place(&procedure.id, &procedure.id, &step.value)),
        waiver.hazard.as_ref().map_or_else(none, |hazard| desk.hazard_title(&hazard.value)),
        waiver.of.as_ref().map_or_else(none, |of| desk.word(&format!("of-{}", of.value.as_str()))),
        text(&waiver.reason),
        text(&waiver.by),
        last,
    ];
    named.then(|| desk.procedure_link(&procedure.id)).into_iter().chain(own).collect()
}

/// `12 days left`, `past`.
pub fn days(desk: &Desk<'_, '_>, left: i64) -> String {
    match left {
        ..=-1 => format!("<strong>{}</strong>", desk.word("past")),
        1 => desk.word("day-left"),
        _ => desk.fill("days-left", &[("n", &left.to_string())]),
    }
}

pub fn denied(desk: &Desk<'_, '_>, procedures: &[&Procedure], named: bool) -> String {
    let all = procedures.iter().flat_map(|procedure| denials(procedure).into_iter().map(move |denied| (*procedure, denied)));
    let row = |(procedure, denied): (&Procedure, crate::emit::review::Denied<'_>)| {
        let id = &denied.denial.of.value;
        let of = if denied.key == "not-touching" { desk.frame.part_title(id) } else { desk.condition(id) };
        let place = denied.step.map_or_else(|| desk.word("whole-procedure"), |step| desk.place(&procedure.id, &procedure.id, step));
        let own = [place, format!("{} {of}", desk.word(denied.key)), escape::text(&denied.denial.reason.value)];
        named.then(|| desk.procedure_link(&procedure.id)).into_iter().chain(own).collect()
    };
    let keys: &[&str] = if named { &["procedure", "step", "denied", "reason"] } else { &["step", "denied", "reason"] };
    table(&desk.word("denials"), &heads(desk, keys), &all.map(row).collect::<Vec<_>>())
}

/// As recorded.
pub fn approvals(desk: &Desk<'_, '_>, procedures: &[&Procedure], named: bool) -> String {
    let approvals =
        desk.review.library().approvals.iter().filter(|one| procedures.iter().any(|procedure| procedure.id == one.procedure.value));
    let row = |one: &crate::model::library::Approval| {
        let own = [
            format!("<span class=\"figures\">{}</span>", one.revision.value),
            escape::text(&one.by),
            format!("<time datetime=\"{0}\">{0}</time>", one.on.value),
        ];
        named.then(|| desk.procedure_link(&one.procedure.value)).into_iter().chain(own).collect()
    };
    let keys: &[&str] = if named { &["procedure", "revision", "by", "on"] } else { &["revision", "by", "on"] };
    table(&desk.word("approvals"), &heads(desk, keys), &approvals.map(row).collect::<Vec<_>>())
}

/// Every hazard's caution as a caller hears it.
pub fn spoken(desk: &Desk<'_, '_>) -> String {
    let row = |hazard: &crate::model::catalogue::Hazard| {
        let text = hazard.read_aloud();
        let spoken = Spoken::of(&text);
        let long = if spoken.is_long() { format!(" <strong>{}</strong>", desk.word("too-long")) } else { String::new() };
        let seconds = desk.fill("seconds", &[("n", &format!("{:.1}", spoken.seconds()))]);
        vec![
            format!("{} {}", desk.signal(hazard), escape::text(hazard.title())),
            format!("<span class=\"figures\">{}</span>", spoken.words),
            format!("<span class=\"figures\">{seconds}</span>{long}"),
            escape::text(&text),
        ]
    };
    let rows: Vec<Vec<String>> = desk.review.hazards().into_iter().map(row).collect();
    table(&desk.word("spoken"), &heads(desk, &["hazard", "words", "to-say", "as-heard"]), &rows)
}

pub fn uncontrolled(desk: &Desk<'_, '_>) -> String {
    let all = desk.review.hazards().into_iter().filter_map(|hazard| Some((hazard, hazard.no_control_because.as_ref()?)));
    let rows: Vec<Vec<String>> = all
        .map(|(hazard, reason)| vec![format!("{} {}", desk.signal(hazard), escape::text(hazard.title())), escape::text(reason)])
        .collect();
    table(&desk.word("uncontrolled"), &heads(desk, &["hazard", "reason"]), &rows)
}

pub fn lowered(desk: &Desk<'_, '_>) -> String {
    let rows: Vec<Vec<String>> = desk
        .review
        .lowered()
        .into_iter()
        .map(|(rule, now, setting)| {
            let reason = setting.reason.as_ref().map_or_else(|| desk.frame.word("page", "none"), |reason| escape::text(reason));
            let change = format!("{} → {}", desk.word(rule.severity.as_str()), desk.word(now.as_str()));
            vec![format!("<code>{}</code>", escape::text(rule.name)), change, reason]
        })
        .collect();
    table(&desk.word("lowered"), &heads(desk, &["rule", "severity", "reason"]), &rows)
}

pub fn due(desk: &Desk<'_, '_>) -> String {
    let row = |(procedure, left): (&Procedure, Option<i64>)| {
        let day = procedure
            .review_by
            .as_ref()
            .map_or_else(|| desk.frame.word("page", "none"), |day| format!("<time datetime=\"{0}\">{0}</time>", day.value));
        let owner = procedure.owner.as_ref().map_or_else(|| desk.frame.word("page", "none"), |owner| escape::text(owner));
        vec![day, left.map_or_else(String::new, |left| days(desk, left)), desk.procedure_link(&procedure.id), owner]
    };
    let rows: Vec<Vec<String>> = desk.review.due().into_iter().map(row).collect();
    table(&desk.word("due"), &heads(desk, &["review-by", "left", "procedure", "owner"]), &rows)
}

/// Each condition with the words that set it. `wanted` says which; beside a procedure those near it are told, the others counted, with a link to where
/// all of them stand.
pub fn conditions(desk: &Desk<'_, '_>, beside: Option<&Procedure>, wanted: impl Fn(&Condition) -> bool) -> String {
    let near = beside.and_then(|procedure| desk.review.procedure(&procedure.id)).map(|procedure| desk.setters.near(procedure));
    let all = desk.review.library().catalogue.conditions.iter().filter(|condition| wanted(condition));
    all.map(|condition| self::condition(desk, condition, near.as_ref())).collect()
}

fn condition(desk: &Desk<'_, '_>, condition: &Condition, near: Option<&BTreeSet<&Id>>) -> String {
    let Some(Setting { set_by: setters, required_by }) = desk.setters.get(&condition.id) else { return String::new() };
    let is_near = |id: &Id| near.is_none_or(|near| near.contains(id));
    let mut lines: Vec<String> = setters.iter().filter(|setter| is_near(setter.procedure)).map(|setter| set_by(desk, setter)).collect();
    let required = required_by.iter().filter(|id| is_near(id));
    lines.extend(required.map(|id| format!("{} {}", desk.word("required-by"), desk.procedure_link(id))));
    if setters.is_empty() {
        lines.push(desk.word("set-nowhere"));
    }
    let anchor = format!("condition-{}", escape::text(condition.id.as_str()));
    let further = setters.iter().filter(|setter| !is_near(setter.procedure)).count();
    if further > 0 {
        let words = desk.fill("set-elsewhere", &[("n", &further.to_string())]);
        lines.push(format!("<a href=\"{}#{anchor}\">{words}</a>", desk.overview()));
    }
    let count = setters.len().to_string();
    format!(
        "<details class=\"condition\" id=\"{anchor}\"><summary>{} <span class=\"condition__count\">{}</span></summary>{}</details>\n",
        desk.frame.condition(&condition.id),
        desk.fill("set-count", &[("n", &count)]),
        items(lines)
    )
}

fn set_by(desk: &Desk<'_, '_>, setter: &SetBy<'_>) -> String {
    let how = match setter.how {
        How::Sets => "",
        How::Wait => "how-wait",
        How::WaitFor => "how-wait-for",
    };
    let how = if how.is_empty() { String::new() } else { format!(" <span class=\"aside\">{}</span>", desk.word(how)) };
    let answer = setter.way.as_ref().and_then(|(_, answer)| answer.as_ref());
    let answer = answer.map(|answer| format!(" <q>{}</q>", escape::text(answer))).unwrap_or_default();
    let words = if setter.words.is_empty() { String::new() } else { format!("<p class=\"aside\">{}</p>", escape::text(&setter.words)) };
    let link = desk.step_link(setter.procedure, setter.step);
    format!(
        "{link}{answer}{how} <span class=\"aside\">{}</span>{words}",
        desk.procedure(setter.procedure).map_or_else(String::new, |one| escape::text(one.title()))
    )
}

/// What no analysis can prove.
pub fn unproved(desk: &Desk<'_, '_>) -> String {
    items(UNPROVED.iter().map(|key| desk.frame.word("unproved", key)))
}
