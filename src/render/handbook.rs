//! The pages of the rules: what each means, with examples that were really run, and what the compiler said about them.

mod example;
mod words;

use std::sync::OnceLock;
use std::thread;

use tera::Context;

use crate::finding::{Group, Rule, Severity, rule};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::rules::example::{Piece, pieces};
use crate::rules::handbook;
use crate::theme::{self, Kind, words::Words};

/// The list by group, and one page for each rule.
pub fn pages(frame: &Frame<'_>) -> Vec<(String, String)> {
    let bodies = bodies();
    let rules = rule::ALL.iter().zip(bodies).map(|(rule, body)| page(frame, rule, body));
    [index(frame)].into_iter().chain(rules).collect()
}

/// One of [`pages`].
pub fn one(frame: &Frame<'_>, path: &str) -> Option<String> {
    let rule = |name: &str| rule::ALL.iter().zip(bodies()).find(|(rule, _)| rule.name == name);
    match path.strip_prefix("rules/")?.strip_suffix(".html")? {
        "index" => Some(index(frame).1),
        name => rule(name).map(|(rule, body)| page(frame, rule, body).1),
    }
}

/// What every site says of each rule, in the order of [`rule::ALL`]. It depends on no library and costs the running of every example: made once.
fn bodies() -> &'static [String] {
    static BODIES: OnceLock<Vec<String>> = OnceLock::new();
    BODIES.get_or_init(|| {
        let words = theme::words().expect("embedded words parse; a test holds it");
        let made = |rule: &&'static Rule| body(&words, handbook::page(rule).unwrap_or_default());
        // In threads of their own: one stuck in a long analysis keeps no worker of the pool.
        let share = rule::ALL.len().div_ceil(rayon::current_num_threads().max(1));
        thread::scope(|scope| {
            let running: Vec<_> =
                rule::ALL.chunks(share).map(|rules| scope.spawn(move || rules.iter().map(made).collect::<Vec<_>>())).collect();
            running.into_iter().flat_map(|thread| thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))).collect()
        })
    })
}

fn index(frame: &Frame<'_>) -> (String, String) {
    let mut groups = String::new();
    for group in Group::ALL {
        let name = group.as_str();
        let rows: String = rule::ALL.iter().filter(|rule| rule.group == group).map(|rule| row(frame, rule)).collect();
        groups.push_str(&format!(
            "<section class=\"leaf\" id=\"{name}\" aria-labelledby=\"{name}-name\">\n<h2 class=\"leaf__name\" id=\"{name}-name\">{}</h2>\n\
             <ul class=\"index index--rules\">\n{rows}</ul>\n</section>\n",
            frame.word("rules", &format!("group-{name}"))
        ));
    }
    let mut context = Context::new();
    context.insert_value("groups", escape::safe(&groups));
    let title = frame.say("rules", "title").to_owned();
    let (path, foot) = ("rules/index.html".to_owned(), title.clone());
    frame.set(Sheet { path, title, kind: Kind::Plain, template: "pages/rules.html", banners: Vec::new(), foot, context })
}

fn row(frame: &Frame<'_>, rule: &Rule) -> String {
    let (name, summary) = (escape::text(rule.name), words::code(handbook::summary(rule).unwrap_or_default()));
    format!(
        "<li class=\"index__row\"><a href=\"{name}.html\">{name}</a><p>{summary} <span class=\"aside\">{}</span></p></li>\n",
        frame.word("rules", severity(rule.severity))
    )
}

fn page(frame: &Frame<'_>, rule: &Rule, body: &str) -> (String, String) {
    let mut context = Context::new();
    let group = frame.say("rules", &format!("group-{}", rule.group.as_str())).to_owned();
    context.insert("group", &group);
    context.insert("group_id", rule.group.as_str());
    context.insert("severity", frame.say("rules", severity(rule.severity)));
    context.insert("severity_help", frame.say("rules", severity_help(rule.severity)));
    context.insert_value("summary", escape::safe(&words::code(handbook::summary(rule).unwrap_or_default())));
    context.insert_value("body", escape::safe(body));
    let (path, title, foot) = (format!("rules/{}.html", rule.name), rule.name.to_owned(), rule.name.to_owned());
    frame.set(Sheet { path, title, kind: Kind::Plain, template: "pages/rule.html", banners: Vec::new(), foot, context })
}

fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

fn severity_help(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error-help",
        Severity::Warning => "warning-help",
        Severity::Note => "note-help",
    }
}

/// A rule's page without its first sentence: a part of the sheet for each heading of level 2.
fn body(words: &Words, page: &str) -> String {
    let mut out = String::new();
    let mut prose = String::new();
    let mut open = false;
    let mut begun = false;
    for piece in pieces(page) {
        match piece {
            // The first sentence stands at the head of the page.
            Piece::Line(line) if !begun => begun = !line.trim().is_empty(),
            // What a fence without a file means is for those who read the page as written.
            Piece::Line(line) if line.starts_with('(') && line.contains("`(none)`") => {}
            Piece::Line(line) => match line.strip_prefix("## ") {
                Some(name) => {
                    out.push_str(&words::prose(&std::mem::take(&mut prose)));
                    out.push_str(if std::mem::replace(&mut open, true) { "</section>\n" } else { "" });
                    out.push_str(&format!("<section class=\"leaf\">\n<h2 class=\"leaf__name\">{}</h2>\n", escape::text(name)));
                }
                None => {
                    prose.push_str(line);
                    prose.push('\n');
                }
            },
            Piece::Case(case) => {
                out.push_str(&words::prose(&std::mem::take(&mut prose)));
                out.push_str(&example::markup(words, &case));
            }
        }
    }
    out.push_str(&words::prose(&prose));
    out + if open { "</section>\n" } else { "" }
}
