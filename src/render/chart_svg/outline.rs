//! The chart as a list: every step with its signs, every way with where it leads. Equal to the drawing, for readers who do not see it.

use std::fmt::Write as _;

use crate::flow::graph::ways;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::render::by_model::way_words;
use crate::render::chart_svg::figure::{notes, number, target, words};
use crate::render::chart_svg::kind::StepRole;
use crate::render::chart_svg::mark::escape;
use crate::render::chart_svg::{STEP_ANCHOR, link, sign};

/// An ordered list of the steps in file order, so that its numbers are those of the drawing. `anchored` steps are what links to steps lead to.
pub fn outline(library: &Library, procedure: &Procedure, anchored: bool) -> String {
    let mut html = String::new();
    if let Some(start) = procedure.start_step() {
        // Writing to a text cannot fail.
        let _ = writeln!(html, "<p class=\"chart-outline__start\">Begins with {}.</p>", to(library, procedure, start));
    }
    html.push_str("<ol class=\"chart-outline\">\n");
    for step in &procedure.steps {
        html.push_str(&item(library, procedure, step, anchored));
    }
    html.push_str("</ol>\n");
    html
}

fn item(library: &Library, procedure: &Procedure, step: &Step, anchored: bool) -> String {
    let anchor = if anchored { format!(" id=\"{STEP_ANCHOR}{}\"", escape(step.id.as_str())) } else { String::new() };
    let mut html = format!("<li class=\"chart-outline__step\"{anchor}>");
    // What is dangerous about a step is read before the step.
    let signs = sign::signs(library, step, |_| true);
    if !signs.is_empty() {
        let texts: Vec<String> = signs.iter().map(|sign| escape(&sign.words)).collect();
        let _ = write!(html, "<strong class=\"chart-outline__signs\">{}.</strong> ", texts.join("; "));
    }
    let _ = write!(html, "{}: {}", StepRole::of(library, step).name(), link(step.id.as_str(), &words(library, step)));
    for note in notes(library, step) {
        let _ = write!(html, " <span class=\"chart-outline__note\">({})</span>", escape(&note));
    }
    let ways = ways(step);
    if !ways.is_empty() {
        html.push_str("\n<ul>\n");
        for way in &ways {
            let to = match target(procedure, way) {
                Some(next) => to(library, procedure, next),
                None => "nowhere yet".to_owned(),
            };
            let _ = writeln!(html, "<li>{}: {to}</li>", escape(&way_words(library, procedure, None, step, way)));
        }
        html.push_str("</ul>\n");
    }
    html.push_str("</li>\n");
    html
}

fn to(library: &Library, procedure: &Procedure, step: &Step) -> String {
    let number = number(procedure, &step.id).unwrap_or(0);
    format!("step {number}, {}", link(step.id.as_str(), &words(library, step)))
}
