//! The overview: every procedure against every hazard, and what the library as a whole decided.

use tera::Context;

use crate::finding::{Finding, Severity};
use crate::model::procedure::Procedure;
use crate::render::escape;
use crate::render::frame::Sheet;
use crate::render::review::{Desk, decided, failure, fields, matrix};
use crate::theme::Kind;

pub fn page(desk: &Desk<'_, '_>) -> (String, String) {
    let all: Vec<&Procedure> = desk.review.procedures.clone();
    let mut context = Context::new();
    let about_library: Vec<&Finding> = desk.review.report.findings.iter().filter(|finding| finding.procedure.is_none()).copied().collect();
    let lists = [
        ("totals", totals(desk)),
        ("matrix", matrix::matrix(desk)),
        ("findings", about_library.iter().map(|finding| failure::finding_alone(desk, finding)).collect()),
        ("waivers", decided::waivers(desk, &all, true)),
        ("denials", decided::denied(desk, &all, true)),
        ("uncontrolled", decided::uncontrolled(desk)),
        ("lowered", decided::lowered(desk)),
        ("approvals", decided::approvals(desk, &all, true)),
        ("spoken", decided::spoken(desk)),
        ("conditions", decided::conditions(desk, None, |_| true)),
        ("due", decided::due(desk)),
        ("unproved", decided::unproved(desk)),
    ];
    for (name, markup) in lists {
        context.insert_value(name, escape::safe(&markup));
    }
    context.insert("procedure_page", &false);
    desk.frame.set(Sheet {
        path: if desk.alone { "index.html" } else { "review/index.html" }.to_owned(),
        title: desk.frame.say("review", "title").to_owned(),
        kind: Kind::Plain,
        template: "pages/review.html",
        banners: Vec::new(),
        foot: desk.review.library().settings.title().to_owned(),
        context,
    })
}

fn totals(desk: &Desk<'_, '_>) -> String {
    let total = desk.review.total();
    let figure = |number: usize| format!("<span class=\"figures\">{number}</span>");
    let proven = desk.fill("of", &[("n", &total.proven.to_string()), ("all", &total.reached().to_string())]);
    let report = &desk.review.report;
    fields(&[
        (desk.word("proven"), format!("<span class=\"figures\">{proven}</span>")),
        (desk.word("uncovered-count"), figure(total.failed)),
        (desk.word("waived-count"), figure(total.waived)),
        (desk.word("unreachable-count"), figure(total.unreachable)),
        (desk.word("procedures"), figure(desk.review.procedures.len())),
        (desk.word("not-judged-count"), figure(report.not_analysed.len())),
        (desk.word("errors"), figure(report.count(Severity::Error))),
        (desk.word("warnings"), figure(report.count(Severity::Warning))),
    ])
}
