//! The review of one procedure.

use tera::Context;

use crate::emit::review::Tally;
use crate::flow::coverage::{Coverage, Shown};
use crate::model::catalogue::Condition;
use crate::model::procedure::Procedure;
use crate::render::frame::Sheet;
use crate::render::review::path::{Told, told};
use crate::render::review::{Desk, decided, exposure, failure, fields, path_of};
use crate::render::say::items;
use crate::render::{chart_svg, escape};
use crate::theme::Kind;

pub fn page(desk: &Desk<'_, '_>, procedure: &Procedure) -> (String, String) {
    let coverage = desk.review.coverage_of(&procedure.id);
    let findings = failure::of(desk, procedure);
    let ways = Told::default();
    let of_coverage = |markup: fn(&Desk<'_, '_>, &Procedure, &Coverage, &Told) -> String| {
        coverage.map_or_else(String::new, |coverage| markup(desk, procedure, coverage, &ways))
    };
    let mends = of_coverage(|desk, _, coverage, _| failure::mends(desk, coverage));
    let lists = [
        ("totals", totals(desk, procedure, coverage)),
        ("findings", failure::list(desk, procedure, &findings) + &mends),
        ("exposures", of_coverage(exposure::groups)),
        ("elsewhere", of_coverage(elsewhere)),
        ("cautions", of_coverage(cautions)),
        ("waivers", decided::waivers(desk, &[procedure], false)),
        ("denials", decided::denied(desk, &[procedure], false)),
        ("approvals", decided::approvals(desk, &[procedure], false)),
        ("conditions", decided::conditions(desk, Some(procedure), |condition| concerns(procedure, coverage, condition))),
        ("unproved", decided::unproved(desk)),
        ("flow", if desk.alone { flow(desk, procedure) } else { String::new() }),
    ];
    let mut context = Context::new();
    for (name, markup) in lists {
        context.insert_value(name, escape::safe(&markup));
    }
    context.insert("procedure_page", &true);
    context.insert("not_judged", &coverage.is_none());
    context.insert("overview", desk.overview());
    context.insert("followed_at", &(!desk.alone).then(|| format!("../procedures/{}.html", procedure.id)));
    let title = desk.frame.words.fill("review", "title-of", &[("procedure", procedure.title())]);
    let foot = desk.frame.words.fill("review", "foot", &[("id", procedure.id.as_str())]);
    context.insert("heading", procedure.title());
    let (path, template, banners) = (path_of(&procedure.id), "pages/review.html", Vec::new());
    desk.frame.set(Sheet { path, title, kind: Kind::Plain, template, banners, foot, context })
}

fn totals(desk: &Desk<'_, '_>, procedure: &Procedure, coverage: Option<&Coverage>) -> String {
    let none = || desk.frame.word("page", "none");
    let figure = |number: usize| format!("<span class=\"figures\">{number}</span>");
    let tally = Tally::of(coverage.into_iter().flat_map(|coverage| &coverage.exposures));
    let proven = desk.fill("of", &[("n", &tally.proven.to_string()), ("all", &tally.reached().to_string())]);
    let revision = procedure.revision.as_ref().map_or_else(none, |revision| revision.value.to_string());
    let review = procedure.review_by.as_ref().map_or_else(none, |day| format!("<time datetime=\"{0}\">{0}</time>", day.value));
    let owner = procedure.owner.as_ref().map_or_else(none, |owner| escape::text(owner));
    fields(&[
        (desk.word("proven"), format!("<span class=\"figures\">{proven}</span>")),
        (desk.word("uncovered-count"), figure(tally.failed)),
        (desk.word("waived-count"), figure(tally.waived)),
        (desk.word("unreachable-count"), figure(tally.unreachable)),
        (desk.frame.word("field", "revision"), format!("<span class=\"figures\">{revision}</span>")),
        (desk.frame.word("field", "status"), desk.frame.word("status", procedure.status.as_str())),
        (desk.frame.word("field", "review-by"), review),
        (desk.frame.word("field", "owner"), owner),
    ])
}

/// Hazards met only in procedures it carries out.
fn elsewhere(desk: &Desk<'_, '_>, _: &Procedure, coverage: &Coverage, _: &Told) -> String {
    let line = |(hazard, task): &(crate::text::id::Id, crate::text::id::Id)| {
        let anchor = crate::render::review::hazard_anchor(hazard);
        let title = desk.procedure(task).map_or_else(|| escape::text(task.as_str()), |task| escape::text(task.title()));
        format!("{}: <a href=\"{}#{anchor}\">{title}</a>", desk.hazard_title(hazard), desk.address(task))
    };
    items(coverage.elsewhere.iter().map(line))
}

/// Each caution with what would be uncovered without it.
fn cautions(desk: &Desk<'_, '_>, procedure: &Procedure, coverage: &Coverage, ways: &Told) -> String {
    let row = |shown: &Shown| {
        let uncovers = shown.uncovers.iter().map(|(owner, step, witness)| {
            let summary = desk.fill("way-without", &[("n", &witness.len().to_string())]);
            format!("{}{}", desk.place(&procedure.id, owner, step), told(desk, ways, witness, &summary, false))
        });
        let uncovers = items(uncovers);
        let uncovers = if uncovers.is_empty() { format!("<strong>{}</strong>", desk.word("idle-caution")) } else { uncovers };
        vec![desk.place(&procedure.id, &procedure.id, &shown.step), desk.hazard_title(&shown.hazard), uncovers]
    };
    let heads = ["step", "hazard", "uncovers"].map(|key| desk.word(key));
    decided::table(&desk.word("cautions"), &heads, &coverage.shown.iter().map(row).collect::<Vec<_>>())
}

/// Whether an exposure of the procedure needs the condition, or one of its steps sets it.
fn concerns(procedure: &Procedure, coverage: Option<&Coverage>, condition: &Condition) -> bool {
    let needed = |coverage: &Coverage| {
        coverage.exposures.iter().flat_map(|exposure| &exposure.conditions).any(|held| held.condition == condition.id)
    };
    let required = procedure.requires.iter().any(|id| id.value == condition.id);
    required || coverage.is_some_and(needed)
}

/// The flow for reading, on pages that have no procedure beside them: a drawing and the same as a list, and nothing that can be followed.
fn flow(desk: &Desk<'_, '_>, procedure: &Procedure) -> String {
    let library = desk.review.library();
    let marks = chart_svg::Marks { key: "flow-".to_owned(), ..chart_svg::Marks::default() };
    format!(
        "<details class=\"leaf__more\">\n<summary>{}</summary>\n<div class=\"chart-scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n{}</div>\n{}</details>\n{}",
        desk.frame.word("procedure", "chart"),
        desk.frame.word("procedure", "chart-scroll"),
        chart_svg::marked(library, procedure, &marks, desk.frame.known),
        chart_svg::legend(library, procedure),
        chart_svg::anchored_outline(library, procedure),
    )
}
