//! What stands against a procedure: each finding with its way there, in words and, on pages that stand alone, drawn; and what mends it.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::{Finding, Severity, WitnessEntry};
use crate::flow::coverage::Coverage;
use crate::flow::graph::ways;
use crate::model::procedure::Procedure;
use crate::render::chart_svg::{self, Marks};
use crate::render::escape;
use crate::render::review::Desk;
use crate::render::review::path::path;
use crate::render::say::items;

/// More drawings than this make a page too heavy for a phone; the ways beyond are in words only, and the page says so.
const MOST_DRAWINGS: usize = 8;

/// The findings about a procedure, errors first.
pub fn of<'a>(desk: &'a Desk<'_, '_>, procedure: &Procedure) -> Vec<&'a Finding> {
    let mut own: Vec<&Finding> =
        desk.review.report.findings.iter().filter(|finding| finding.procedure.as_ref() == Some(&procedure.id)).copied().collect();
    own.sort_by_key(|finding| std::cmp::Reverse(finding.severity == Severity::Error));
    own
}

pub fn list(desk: &Desk<'_, '_>, procedure: &Procedure, findings: &[&Finding]) -> String {
    let mut drawn: Vec<&[WitnessEntry]> = Vec::new();
    let mut out = String::new();
    for finding in findings {
        out.push_str(&self::finding(desk, procedure, finding, &mut drawn));
    }
    out
}

fn finding<'a>(desk: &Desk<'_, '_>, procedure: &Procedure, finding: &'a Finding, drawn: &mut Vec<&'a [WitnessEntry]>) -> String {
    let way = finding.witness.as_deref().map(|witness| {
        let drawing = if desk.alone { drawing(desk, procedure, witness, drawn) } else { String::new() };
        format!("<p class=\"failure__way\">{}</p>\n{}{drawing}", desk.word("one-way"), path(desk, witness))
    });
    block(desk, finding, &way.unwrap_or_default())
}

/// A finding about the library itself: no way leads there.
pub fn finding_alone(desk: &Desk<'_, '_>, finding: &Finding) -> String {
    block(desk, finding, "")
}

fn block(desk: &Desk<'_, '_>, finding: &Finding, way: &str) -> String {
    let severity = desk.word(finding.severity.as_str());
    let place = format!("{}:{}", desk.review.library().sources.path(finding.at.file), finding.at.line);
    let help = finding.help.as_ref().map(|help| format!("<p>{}</p>\n", marked_code(&sentence(help)))).unwrap_or_default();
    let models = items(finding.models.iter().map(|id| desk.frame.model_title(id)));
    let models = if models.is_empty() { models } else { format!("<p class=\"aside\">{}</p>{models}\n", desk.word("only-models")) };
    format!(
        "<article class=\"failure failure--{}\">\n<h3 class=\"failure__name\"><span class=\"failure__severity\">{severity}</span> {}</h3>\n\
         <p class=\"aside\"><code>{}</code> <code>{}</code></p>\n{help}{models}{way}</article>\n",
        finding.severity.as_str(),
        marked_code(&sentence(&finding.message)),
        escape::text(finding.rule.name),
        escape::text(&place),
    )
}

/// A message as a sentence.
fn sentence(words: &str) -> String {
    let mut chars = words.chars();
    let first: String = chars.next().map(|first| first.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}.", chars.as_str().trim_end_matches('.'))
}

/// Text in which names stand in backticks, as markup. A backtick without its other stays one.
fn marked_code(words: &str) -> String {
    let pieces: Vec<&str> = words.split('`').collect();
    if pieces.len().is_multiple_of(2) {
        return escape::text(words);
    }
    let piece = |(index, piece): (usize, &&str)| {
        if index % 2 == 1 { format!("<code>{}</code>", escape::text(piece)) } else { escape::text(piece) }
    };
    pieces.iter().enumerate().map(piece).collect()
}

/// The flowchart with the way marked; one way is drawn once.
fn drawing<'a>(desk: &Desk<'_, '_>, procedure: &Procedure, witness: &'a [WitnessEntry], drawn: &mut Vec<&'a [WitnessEntry]>) -> String {
    if drawn.contains(&witness) {
        return String::new();
    }
    if drawn.len() >= MOST_DRAWINGS {
        return format!("<p class=\"aside\">{}</p>\n", desk.word("not-drawn"));
    }
    drawn.push(witness);
    let n = drawn.len();
    let marks = marks(procedure, witness, &format!("drawing{n}-"));
    format!(
        "<details class=\"leaf__more\"{} id=\"drawing-{n}\">\n<summary>{}</summary>\n<p>{}</p>\n\
         <p class=\"chart-help\"><a class=\"chart-help__whole\" href=\"#whole-{n}\">{}</a><a class=\"chart-help__size\" href=\"#drawing-{n}\">{}</a></p>\n\
         <div class=\"chart-scroll\" id=\"whole-{n}\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n{}</div>\n</details>\n",
        if n == 1 { " open" } else { "" },
        desk.word("drawn"),
        desk.word("drawn-help"),
        desk.frame.word("procedure", "chart-whole"),
        desk.frame.word("procedure", "chart-size"),
        desk.fill("drawing-n", &[("n", &n.to_string())]),
        chart_svg::marked(desk.review.library(), procedure, &marks, desk.frame.known),
    )
}

/// The steps of a way in one procedure, by their numbers in the whole way, and the lines it takes.
fn marks(procedure: &Procedure, witness: &[WitnessEntry], key: &str) -> Marks {
    let mut steps: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    let mut lines = BTreeSet::new();
    for (entry, n) in witness.iter().zip(1..).filter(|(entry, _)| entry.procedure == procedure.id) {
        steps.entry(entry.step.clone()).or_default().push(n);
        let Some(step) = procedure.step(&entry.step) else { continue };
        let taken = ways(step).iter().position(|way| Some(way.kind) == entry.way && way.text.as_deref() == entry.answer.as_deref());
        lines.extend(taken.map(|way| (entry.step.clone(), way)));
    }
    let end = witness.last().filter(|entry| entry.procedure == procedure.id).map(|entry| entry.step.clone());
    Marks { key: key.to_owned(), steps, lines, end, ..Marks::default() }
}

/// For each hazard with a caution missing or too old: where showing it mends all of that.
pub fn mends(desk: &Desk<'_, '_>, coverage: &Coverage) -> String {
    let line = |mend: &crate::flow::coverage::Mend| {
        let steps: Vec<String> = mend.steps.iter().map(|step| desk.place(&coverage.procedure, &coverage.procedure, step)).collect();
        let fewest = if mend.smallest { format!(" ({})", desk.word("fewest")) } else { String::new() };
        format!("<strong>{}</strong>: {}{fewest}", desk.hazard_title(&mend.hazard), steps.join("; "))
    };
    let lines = items(coverage.mends.iter().map(line));
    if lines.is_empty() { lines } else { format!("<p>{}</p>\n{lines}\n", desk.word("mend")) }
}
