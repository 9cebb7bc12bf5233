//! One step as a section: cautions, words, what it takes, ways on. Reading only this section is enough to be warned.

use std::collections::BTreeSet;

use crate::model::procedure::{Kind, Procedure};
use crate::model::step::{Action, CarryOut, Step, StepKind};
use crate::render::frame::Frame;
use crate::render::hazards::least;
use crate::render::markdown::{Prose, Setting};
use crate::render::say::{items, number};
use crate::render::{caution, escape, links, readings, ways};
use crate::text::id::Id;
use crate::text::quantity::duration_text;

/// All steps in the order of the file.
pub fn sections(frame: &Frame<'_>, procedure: &Procedure, prose: &Prose<'_>) -> String {
    let mut shown = BTreeSet::new();
    procedure.steps.iter().map(|step| section(frame, procedure, prose, step, &mut shown)).collect()
}

fn section(frame: &Frame<'_>, procedure: &Procedure, prose: &Prose<'_>, step: &Step, shown: &mut BTreeSet<usize>) -> String {
    let id = escape::text(step.id.as_str());
    let n = number(procedure, &step.id);
    let kind = frame.word("step", kind(step));
    let step_word = frame.word("step", "step");
    let words = words(procedure, prose, step, shown);
    let picture = picture(frame, procedure, step);
    format!(
        "<section class=\"step\" id=\"step-{id}\" aria-labelledby=\"name-of-{id}\" data-step=\"{id}\">\n\
         <header class=\"step__head\"><h3 class=\"step__name\" id=\"name-of-{id}\"><span class=\"out-of-sight\">{step_word} </span>\
         <span class=\"step__number\">{n}</span> <span class=\"step__kind\">{kind}</span></h3></header>\n\
         <div class=\"step__body\">\n<div class=\"step__lead\">\n{cautions}<p class=\"step__sentence\">{sentence}</p>\n</div>\n\
         <div class=\"step__work\">\n{words}{picture}{facts}{inner}</div>\n{ways}</div>\n</section>\n",
        cautions = caution::before_step(frame, step),
        sentence = sentence(frame, step),
        facts = facts(frame, procedure, step),
        inner = inner(frame, procedure, step),
        ways = ways::list(frame, procedure, step),
    )
}

fn kind(step: &Step) -> &'static str {
    match &step.kind {
        StepKind::Ask(_) => "kind-question",
        StepKind::Measure(_) => "kind-measurement",
        StepKind::Do(action) if action.outcome.is_some() => "kind-ending",
        StepKind::Do(_) => "kind-action",
        StepKind::CarryOut(_) => "kind-carry-out",
        StepKind::ByModel(_) => "kind-by-model",
        StepKind::Unclear(_) => "kind-unclear",
    }
}

fn sentence(frame: &Frame<'_>, step: &Step) -> String {
    let title = frame.step_title(step);
    match &step.kind {
        StepKind::CarryOut(carry_out) => match frame.library.procedure(&carry_out.procedure) {
            Some(callee) => {
                format!("{}: <a href=\"{}.html\">{title}</a>", frame.word("step", "carry-out"), escape::text(callee.id.as_str()))
            }
            None => title,
        },
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => title,
    }
}

/// The step's section of the Markdown, or the one it borrows.
fn words(procedure: &Procedure, prose: &Prose<'_>, step: &Step, shown: &mut BTreeSet<usize>) -> String {
    let Some(section) = procedure.words_of(step) else { return String::new() };
    let first = shown.insert(section.range.start);
    let html = prose.html(&section.range, &Setting { level: 3, key: step.id.as_str(), first });
    format!("<div class=\"step__words prose\">\n{html}</div>\n")
}

fn picture(frame: &Frame<'_>, procedure: &Procedure, step: &Step) -> String {
    let found = step.picture.as_ref().and_then(|target| links::picture(frame.library, &procedure.body, "../", target));
    let Some(address) = found else { return String::new() };
    let words = frame.fill("step", "picture", &[("n", &number(procedure, &step.id).to_string())]);
    format!("<figure><img src=\"{}\" alt=\"{words}\"></figure>\n", escape::text(&address))
}

/// Who, how long, how often in one ruled line; what must hold and what changes in a line each.
fn facts(frame: &Frame<'_>, procedure: &Procedure, step: &Step) -> String {
    let mut rows: Vec<(&str, String)> = Vec::new();
    if !matches!(step.kind, StepKind::ByModel(_)) {
        rows.push(("who", frame.person(least(frame.library, step).unwrap_or_default().max(procedure.person))));
    }
    rows.extend(step.seconds.as_ref().map(|seconds| ("working-time", escape::text(&duration_text(seconds.value)))));
    if let StepKind::Do(action) = &step.kind {
        rows.extend(action.wait.as_ref().map(|wait| ("wait", escape::text(&duration_text(wait.value)))));
        rows.extend(action.wait_for.as_ref().map(|condition| ("wait-for", frame.condition(condition))));
    }
    rows.extend(step.at_most.as_ref().map(|most| ("at-most", frame.fill("step", "times", &[("n", &most.value.to_string())]))));
    let holds: BTreeSet<&Id> = required(frame, step);
    if !holds.is_empty() {
        rows.push(("must-hold", frame.conditions(holds)));
    }
    if let StepKind::Do(action) = &step.kind {
        rows.extend(ways::changes(frame, &action.effects).into_iter().map(|line| ("changes", line)));
    }
    let line = |(key, text): &(&str, String)| {
        let class = if matches!(*key, "must-hold" | "changes") { "fact fact--full" } else { "fact" };
        format!("<div class=\"{class}\"><dt>{}</dt><dd>{text}</dd></div>", frame.word("step", key))
    };
    let lines: String = rows.iter().map(line).collect();
    if lines.is_empty() { String::new() } else { format!("<dl class=\"facts\">{lines}</dl>\n") }
}

/// What must hold here: the step's own demands, and those of every hazard it meets.
fn required<'a>(frame: &Frame<'a>, step: &'a Step) -> BTreeSet<&'a Id> {
    let hazards = crate::render::hazards::exposed(frame.library, step);
    let mut ids: BTreeSet<&Id> = step.requires.iter().map(|id| &id.value).collect();
    ids.extend(hazards.iter().flat_map(|hazard| hazard.requires.iter().map(|id| &id.value)));
    if let StepKind::CarryOut(carry_out) = &step.kind {
        let callee = frame.library.procedure(&carry_out.procedure);
        ids.extend(callee.into_iter().flat_map(|callee| callee.requires.iter().map(|id| &id.value)));
    }
    ids
}

/// What only one kind of step has.
fn inner(frame: &Frame<'_>, procedure: &Procedure, step: &Step) -> String {
    match &step.kind {
        StepKind::Measure(measurement) => readings::blanks(frame, procedure, measurement),
        StepKind::CarryOut(carry_out) => carried_out(frame, carry_out),
        StepKind::Do(action) => ending(frame, procedure, action),
        StepKind::Ask(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => String::new(),
    }
}

fn carried_out(frame: &Frame<'_>, carry_out: &CarryOut) -> String {
    let there = frame.library.procedure(&carry_out.procedure).map(|callee| caution::met_there(frame, callee));
    format!("{}<p>{}</p>\n", there.unwrap_or_default(), frame.word("step", "carry-out-help"))
}

/// How it ended, what that means for the machine, and where to go on.
fn ending(frame: &Frame<'_>, procedure: &Procedure, action: &Action) -> String {
    let Some(outcome) = &action.outcome else { return String::new() };
    let mut lines = vec![format!("<p class=\"ending__outcome\">{}: {}</p>", frame.word("step", "outcome"), frame.outcome(outcome))];
    lines.extend(frame.words.find("left", outcome.as_str()).map(|text| format!("<p>{}</p>", escape::text(text))));
    if let Some(target) = &action.refer_to {
        lines.push(match frame.library.procedure(target) {
            _ if target.value == "by-code" => format!("<p><a href=\"../index.html#codes\">{}</a></p>", frame.word("step", "by-code")),
            Some(other) => format!("<p><a href=\"{}.html\">{}</a></p>", escape::text(other.id.as_str()), escape::text(other.title())),
            None => format!("<p>{}</p>", escape::text(target.as_str())),
        });
    }
    if procedure.kind == Kind::Task {
        lines.push(format!("<p>{}</p>", frame.word("step", "back-to-caller")));
    }
    format!("<div class=\"ending\">{}</div>\n", lines.concat())
}

/// Names of models, each an item.
pub fn models(frame: &Frame<'_>, procedure: &Procedure) -> String {
    items(frame.library.models_of(procedure).into_iter().map(|id| frame.model_title(id)))
}
