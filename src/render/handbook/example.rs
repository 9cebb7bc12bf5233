//! One example on a rule's page: its files, the lines that are wrong in it, and the findings of a real run.

use std::collections::{BTreeMap, BTreeSet};

use crate::analyse::{Verdict, analyse};
use crate::emit::text::way;
use crate::finding::{Finding, Severity};
use crate::read::read;
use crate::render::escape;
use crate::render::handbook::words::code;
use crate::rules::example::{Case, DAY};
use crate::theme::words::Words;

/// An example as markup. A passing one is not run here: a test holds that it has no finding.
pub fn markup(words: &Words, case: &Case) -> String {
    let verdict = case.fails.then(|| {
        let (library, reading) = read(&case.folder());
        analyse(library, reading, DAY)
    });
    let mut wrong: BTreeMap<&str, BTreeSet<u32>> = BTreeMap::new();
    for finding in verdict.iter().flat_map(|verdict| verdict.findings.iter().map(move |finding| (verdict, finding))) {
        wrong.entry(finding.0.library.sources.path(finding.1.at.file)).or_default().insert(finding.1.at.line);
    }
    let mut out = format!("<div class=\"example{}\">\n", if case.fails { " example--fails" } else { "" });
    // A file of which the page says that it is not there has no lines to show.
    for (path, text) in case.files.iter().filter(|(_, text)| text.trim() != "(none)") {
        out.push_str(&source(path, text, wrong.get(path.as_str())));
    }
    if let Some(verdict) = &verdict {
        let findings: String = verdict.findings.iter().map(|finding| found(words, verdict, finding)).collect();
        out.push_str(&format!("<p class=\"found__head\">{}</p>\n<ul class=\"found\">\n{findings}</ul>\n", word(words, "says")));
    }
    out + "</div>\n"
}

fn word(words: &Words, key: &str) -> String {
    escape::text(words.say("rules", key))
}

fn source(path: &str, text: &str, wrong: Option<&BTreeSet<u32>>) -> String {
    let line = |(number, line): (u32, &str)| {
        let line = escape::text(line);
        if wrong.is_some_and(|wrong| wrong.contains(&number)) {
            format!("<mark class=\"source__line\">{line}</mark>")
        } else {
            format!("<span class=\"source__line\">{line}</span>")
        }
    };
    let lines: String = (1..).zip(text.lines()).map(line).collect();
    format!("<figure class=\"source\">\n<figcaption>{}</figcaption>\n<pre><code>{lines}</code></pre>\n</figure>\n", escape::text(path))
}

fn found(words: &Words, verdict: &Verdict, finding: &Finding) -> String {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let place =
        words.fill("rules", "at-line", &[("file", verdict.library.sources.path(finding.at.file)), ("line", &finding.at.line.to_string())]);
    let mut out = format!(
        "<li class=\"found__item\">\n<p class=\"found__fact\"><strong>{}:</strong> {}</p>\n<p class=\"aside\">{}</p>\n",
        word(words, severity),
        code(&finding.message),
        escape::text(&place)
    );
    if let Some(witness) = &finding.witness {
        let lines = way::in_words(witness, &verdict.library);
        let (head, steps) = lines.split_once('\n').unwrap_or((&lines, ""));
        out.push_str(&format!("<p class=\"found__way\">{}\n{}</p>\n", escape::text(&capital(head)), escape::text(steps)));
    }
    if let Some(help) = &finding.help {
        out.push_str(&format!("<p><strong>{}:</strong> {}</p>\n", word(words, "help"), code(help)));
    }
    out + "</li>\n"
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| first.to_uppercase().chain(chars).collect()).unwrap_or_default()
}
