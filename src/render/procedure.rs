//! The page of a procedure: card, safety summary, follower, flowchart, whole text. A withdrawn one becomes a page that says stop.

use tera::Context;

use crate::model::procedure::{Kind as ProcedureKind, Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::render::chart_svg::Marks;
use crate::render::chart_svg::figure::Figure;
use crate::render::frame::{Frame, Sheet};
use crate::render::markdown::{Prose, Setting};
use crate::render::say::{items, number};
use crate::render::{caution, chart_data, chart_svg, escape, flow_data, poster, step};
use crate::theme::Kind;

pub fn page(frame: &Frame<'_>, procedure: &Procedure) -> (String, String) {
    let path = format!("procedures/{}.html", procedure.id);
    let revision = procedure.revision.as_ref().map_or_else(|| frame.say("page", "none").to_owned(), |revision| revision.value.to_string());
    let foot = frame.words.fill("page", "foot", &[("id", procedure.id.as_str()), ("revision", &revision)]);
    let mut context = Context::new();
    context.insert_value("fields", escape::safe(&fields(frame, procedure, &revision)));
    context.insert("summary", &procedure.summary.as_ref().map(|summary| summary.value.as_str()));
    context.insert("kind_words", frame.say("procedure", kind_words(procedure)));
    let (kind, template) = if procedure.status == Status::Withdrawn {
        withdrawn(frame, procedure, &revision, &mut context);
        (Kind::Plain, "pages/withdrawn.html")
    } else {
        follow(frame, procedure, &mut context);
        (Kind::Procedure, "pages/procedure.html")
    };
    frame.set(Sheet { path, title: procedure.title().to_owned(), kind, template, banners: banners(frame, procedure), foot, context })
}

fn kind_words(procedure: &Procedure) -> &'static str {
    match procedure.kind {
        ProcedureKind::FaultFinding => "kind-fault-finding",
        ProcedureKind::Task => "kind-task",
    }
}

/// What stands above the title: not released, or past its review.
pub fn banners(frame: &Frame<'_>, procedure: &Procedure) -> Vec<String> {
    let mut banners = Vec::new();
    match procedure.status {
        Status::Draft => banners.push(frame.word("banner", "draft")),
        Status::InReview => banners.push(frame.word("banner", "in-review")),
        Status::Withdrawn => banners.push(frame.word("banner", "withdrawn")),
        Status::Released => {}
    }
    let overdue = procedure.review_by.as_ref().filter(|day| day.value < frame.today && !procedure.is_withdrawn());
    if let Some(day) = overdue {
        banners.push(frame.fill("banner", "overdue", &[("day", &day.value.to_string())]));
    }
    banners
}

fn follow(frame: &Frame<'_>, procedure: &Procedure, context: &mut Context) {
    let prose = Prose::new(frame, &procedure.body, Some(procedure), "../");
    let introduction = prose.html(&procedure.body.introduction.range, &Setting { level: 2, key: "introduction", first: true });
    let data = escape::json_in_script(&flow_data::flow_data(frame.library, procedure));
    let must_hold = frame.conditions(procedure.requires.iter().map(|id| &id.value));
    let callers = items(callers(frame, procedure));
    let figure = Figure::new(frame.library, procedure);
    let chart = chart_svg::of_figure(&figure, procedure, &Marks::default(), frame.known);
    let legend = chart_svg::legend::legend(&figure);
    let outline = chart_svg::outline(frame.library, procedure);
    let chart_data = escape::json_in_script(&chart_data::chart_data(frame, procedure));
    let steps = step::sections(frame, procedure, &prose);
    let first = procedure.start_step().map_or(1, |start| number(procedure, &start.id)).to_string();
    context.insert("poster", &poster::path_of(&procedure.id));
    context.insert("review_page", &crate::render::review::path_of(&procedure.id));
    context.insert("begin", &frame.words.fill("procedure", "steps-help", &[("n", &first)]));
    let markup = [
        ("safety", caution::summary(frame, procedure)),
        ("introduction", introduction.trim().to_owned()),
        ("flow_data", data),
        ("must_hold", must_hold),
        ("callers", callers),
        ("chart", chart),
        ("legend", legend),
        ("chart_data", chart_data),
        ("outline", outline),
        ("steps", steps),
    ];
    for (name, value) in markup {
        context.insert_value(name, escape::safe(&value));
    }
}

/// The page that says stop: why, what instead, of which revision, and on which day that was said.
fn withdrawn(frame: &Frame<'_>, procedure: &Procedure, revision: &str, context: &mut Context) {
    context.insert("reason", &procedure.withdrawn_because.as_ref().map(|reason| reason.value.as_str()));
    let named = procedure.replaced_by.as_ref().filter(|id| id.value != "nothing");
    let successor = named.and_then(|id| frame.library.procedure(id)).filter(|other| !other.is_withdrawn());
    let instead = match (successor, named) {
        (Some(other), _) => format!("<a href=\"{}.html\">{}</a>", escape::text(other.id.as_str()), escape::text(other.title())),
        (None, Some(_)) => frame.word("procedure", "successor-later"),
        (None, None) => frame.word("procedure", "no-successor"),
    };
    let go_on = match (successor, &procedure.owner) {
        (Some(other), _) => frame.fill("procedure", "withdrawn-begin", &[("title", &format!("\u{201c}{}\u{201d}", other.title()))]),
        (None, Some(owner)) => frame.fill("procedure", "withdrawn-ask", &[("owner", owner)]),
        (None, None) => frame.word("procedure", "withdrawn-ask-library"),
    };
    let owner = procedure.owner.as_ref().map_or_else(|| frame.word("page", "none"), |owner| escape::text(owner));
    let figures = |text: &str| format!("<span class=\"figures\">{}</span>", escape::text(text));
    let fields = [
        ("id", figures(procedure.id.as_str())),
        ("revision", figures(revision)),
        ("owner", owner),
        ("withdrawn-as-of", figures(&frame.today.to_string())),
    ];
    let fields: String = fields
        .iter()
        .map(|(key, markup)| format!("<div class=\"field\"><dt>{}</dt><dd>{markup}</dd></div>\n", frame.word("field", key)))
        .collect();
    for (name, markup) in [("successor", instead), ("go_on", go_on), ("withdrawn_fields", fields)] {
        context.insert_value(name, escape::safe(&markup));
    }
}

/// The procedures that carry this one out, each with its steps that do: the way back for somebody who follows by links.
fn callers(frame: &Frame<'_>, procedure: &Procedure) -> Vec<String> {
    let calls = |step: &&Step| matches!(&step.kind, StepKind::CarryOut(carry_out) if carry_out.procedure.value == procedure.id);
    let line = |other: &Procedure| {
        let id = escape::text(other.id.as_str());
        let link = |step: &Step| {
            let n = number(other, &step.id).to_string();
            format!("<a href=\"{id}.html#step-{}\">{}</a>", escape::text(step.id.as_str()), frame.fill("step", "step-n", &[("n", &n)]))
        };
        let steps: Vec<String> = other.steps.iter().filter(calls).map(link).collect();
        (!steps.is_empty()).then(|| format!("<a href=\"{id}.html\">{}</a> {}", escape::text(other.title()), steps.join(" ")))
    };
    frame.callers(&procedure.id).iter().copied().filter_map(line).collect()
}

/// The ruled fields of the card. What there is none of is written, not left blank.
fn fields(frame: &Frame<'_>, procedure: &Procedure, revision: &str) -> String {
    let none = || frame.word("page", "none");
    let list = |texts: &[crate::text::place::At<String>]| {
        if texts.is_empty() { none() } else { items(texts.iter().map(|text| escape::text(text))) }
    };
    let day = |day: &jiff::civil::Date| format!("<time datetime=\"{day}\">{day}</time>");
    let figures = |text: &str| format!("<span class=\"figures\">{}</span>", escape::text(text));
    let owner = procedure.owner.as_ref().map_or_else(none, |owner| escape::text(owner));
    let review = procedure.review_by.as_ref().map_or_else(none, |review_by| day(review_by));
    // What is published was approved as it stands; a draft may have an approval of what it was.
    let approval = frame.library.approval(&procedure.id).filter(|_| procedure.status == Status::Released);
    let approved_by = approval.map_or_else(none, |approval| escape::text(&approval.by));
    let approved_on = approval.map_or_else(none, |approval| day(&approval.on));
    let models =
        Some(step::models(frame, procedure)).filter(|models| !models.is_empty()).unwrap_or_else(|| frame.word("procedure", "every-model"));
    let stages = items(procedure.stages.iter().map(|id| {
        let known = frame.library.stages.iter().find(|stage| stage.id == id.value);
        let name = escape::text(known.and_then(|stage| stage.name.as_ref()).map_or(id.as_str(), |name| name.value.as_str()));
        // The page of the stages explains each that the library has.
        if known.is_some() { format!("<a href=\"../stages.html#stage-{}\">{name}</a>", escape::text(id.as_str())) } else { name }
    }));
    let all = [
        ("", "id", figures(procedure.id.as_str())),
        ("", "revision", figures(revision)),
        ("", "status", frame.word("status", procedure.status.as_str())),
        ("", "review-by", review),
        ("field--wide", "approved-by", approved_by),
        ("field--wide", "approved-on", approved_on),
        ("field--wide", "who", frame.person(procedure.person)),
        ("field--wide", "owner", owner),
        ("field--wide", "models", models),
        ("field--wide", "stages", if stages.is_empty() { none() } else { stages }),
        ("field--wide", "tools", list(&procedure.tools)),
        ("field--wide", "supplies", list(&procedure.supplies)),
    ];
    all.iter()
        .map(|(class, key, markup)| {
            format!("<div class=\"{}\"><dt>{}</dt><dd>{markup}</dd></div>\n", format!("field {class}").trim_end(), frame.word("field", key))
        })
        .collect()
}
