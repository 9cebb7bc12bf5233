//! What the library as a whole decided, and where the words stand that no program can judge.

use crate::emit::counted;
use crate::emit::review::Review;
use crate::emit::review::conditions::{self, How, SetBy};
use crate::emit::review::text::{heading, line};
use crate::model::catalogue::Condition;

pub(super) fn add(out: &mut String, review: &Review<'_>) {
    let catalogue = &review.library().catalogue;
    let uncontrolled = catalogue.hazards.iter().filter_map(|hazard| Some((&hazard.id, hazard.no_control_because.as_ref()?)));
    let uncontrolled: Vec<String> = uncontrolled.map(|(id, reason)| format!("`{id}`: {}", reason.value)).collect();
    list(out, "hazards that nothing controls, and why", &uncontrolled);
    let lowered: Vec<String> = review
        .lowered()
        .into_iter()
        .map(|(rule, now, setting)| {
            let reason = setting.reason.as_ref().map_or("no reason given", |reason| reason.value.as_str());
            format!("`{}` from {} to {}: {reason}", rule.name, rule.severity.as_str(), now.as_str())
        })
        .collect();
    list(out, "lowered rules", &lowered);
    for condition in &catalogue.conditions {
        add_condition(out, review, condition);
    }
    let due = review.due().into_iter().filter_map(|(procedure, left)| Some((procedure, procedure.review_by.as_ref()?, left?)));
    let due: Vec<String> = due
        .map(|(procedure, day, left)| match usize::try_from(left) {
            Ok(left) => format!("{} `{}`, {} left", day.value, procedure.id, counted(left, "day")),
            Err(_) => format!("{} `{}`, overdue", day.value, procedure.id),
        })
        .collect();
    list(out, "due for review", &due);
}

fn list(out: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    heading(out, title);
    lines.iter().for_each(|words| line(out, 1, words));
}

fn add_condition(out: &mut String, review: &Review<'_>, condition: &Condition) {
    let name = condition.name.as_ref().map_or(condition.id.as_str(), |name| name.value.as_str());
    heading(out, &format!("where `{}` comes from: {name}", condition.id));
    let setters = conditions::set_by(review, condition);
    for setter in &setters {
        line(out, 1, &set_by(setter));
        if !setter.words.is_empty() {
            line(out, 2, &setter.words);
        }
    }
    for procedure in conditions::required_by(review, condition) {
        line(out, 1, &format!("`{procedure}` begins only while it holds"));
    }
    if setters.is_empty() {
        line(out, 1, "no step sets it");
    }
}

fn set_by(setter: &SetBy<'_>) -> String {
    let how = match setter.how {
        How::Sets => "",
        How::Wait => " (waits)",
        How::WaitFor => " (waits for it)",
    };
    let answer = setter.way.as_ref().and_then(|(_, answer)| answer.as_ref()).map(|answer| format!(", \"{answer}\"")).unwrap_or_default();
    let says = if setter.says.is_empty() { String::new() } else { format!(": {}", setter.says) };
    format!("`{}` of `{}`{how}{says}{answer}", setter.step, setter.procedure)
}
