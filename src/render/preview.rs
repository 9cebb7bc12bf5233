//! What the preview adds to a page: that it is not for use, what is wrong and where, and the script that shows the next one. Never part of a site.

use crate::emit::counted;
use crate::finding::Finding;
use crate::render::escape;
use crate::text::place::Sources;
use crate::theme::words::Words;

/// Where the preview keeps what belongs to itself; no page of a site is below it.
pub const FOLDER: &str = "preview";

/// Findings beyond this many are counted, not listed: an error in a catalogue may come back in every procedure.
const LISTED: usize = 50;

/// How a page stands to the library as it is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum State {
    /// Made from it.
    Fresh,
    /// Its errors do not let it be made anew; shown is the last one.
    LastGood,
    /// It was never sound.
    NeverGood,
    /// The library cannot be read, for this reason.
    Unreadable(String),
}

/// What is said above one page.
pub struct Notes<'a> {
    pub words: &'a Words,
    pub sources: &'a Sources,
    /// What a file's path is written after, so that an editor or a terminal finds the file.
    pub folder: &'a str,
    pub state: State,
    /// The page is about the whole library.
    pub whole: bool,
    /// About this page, in the order in which they are shown.
    pub findings: Vec<&'a Finding>,
    /// How many others there are.
    pub elsewhere: usize,
}

/// A page of the preview, and what tells it from the one before.
pub struct Dressed {
    pub html: String,
    pub digest: String,
}

/// The page at `path` with its notes. Its policy lets it listen for changes and keeps it from staying on the device.
pub fn dressed(html: &str, path: &str, notes: &Notes<'_>) -> Dressed {
    let markup = notes.markup();
    let digest = blake3::hash(format!("{markup}\0{html}").as_bytes()).to_hex().to_string();
    let html = html.replacen("default-src &#39;none&#39;;", "default-src &#39;none&#39;; connect-src &#39;self&#39;;", 1).replacen(
        "worker-src &#39;self&#39;",
        "worker-src &#39;none&#39;",
        1,
    );
    let assets = format!(
        "<link rel=\"stylesheet\" href=\"/{FOLDER}/page.css\"><script defer src=\"/{FOLDER}/page.js\" data-page=\"{}\" data-digest=\"{digest}\" data-copied=\"{}\"></script></head>",
        escape::text(path),
        notes.word("copied")
    );
    let html = html.replacen("</head>", &assets, 1);
    // Before everything else in the body, the link that skips to the content included: it is about the whole page.
    let body = html.find("<body").and_then(|open| Some(open + html.get(open..)?.find('>')? + 1));
    let html = match body.and_then(|at| html.split_at_checked(at)) {
        Some((head, rest)) => format!("{head}{markup}{rest}"),
        None => html,
    };
    Dressed { html, digest }
}

/// A page for a path that has none, or none yet: `title` says which.
pub fn blank(words: &Words, title: &str) -> String {
    let (title, start) = (escape::text(title), escape::text(words.say("preview", "start")));
    format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <title>{title}</title></head><body><main><h1>{title}</h1><p><a href=\"/index.html\">{start}</a></p></main></body></html>\n"
    )
}

impl Notes<'_> {
    fn word(&self, key: &str) -> String {
        escape::text(self.words.say("preview", key))
    }

    fn fill(&self, key: &str, values: &[(&str, &str)]) -> String {
        escape::text(&self.words.fill("preview", key, values))
    }

    fn markup(&self) -> String {
        let state = match &self.state {
            State::Fresh => String::new(),
            State::LastGood => paragraph("state", &self.word("last-good")),
            State::NeverGood => paragraph("state", &self.word("never-good")),
            State::Unreadable(why) => paragraph("state", &self.fill("unreadable", &[("why", why)])),
        };
        let listed: String = self.findings.iter().take(LISTED).map(|finding| self.finding(finding)).collect();
        let list = if listed.is_empty() { String::new() } else { format!("<ol class=\"preview__findings\">{listed}</ol>") };
        let more = self.findings.len().saturating_sub(LISTED);
        let more = if more > 0 { paragraph("more", &self.fill("more", &[("n", &more.to_string())])) } else { String::new() };
        format!("<section class=\"preview\" aria-label=\"{}\">{}{state}{list}{more}</section>", self.word("label"), self.line())
    }

    /// What it is, and how much is wrong.
    fn line(&self) -> String {
        let mut said = Vec::new();
        if !self.findings.is_empty() {
            let key = if self.whole { "library" } else { "here" };
            said.push(self.fill(key, &[("n", &counted(self.findings.len(), "finding"))]));
        }
        if self.elsewhere > 0 {
            said.push(self.fill("elsewhere", &[("n", &counted(self.elsewhere, "finding"))]));
        }
        if said.is_empty() && self.state == State::Fresh {
            said.push(self.word("sound"));
        }
        format!("<p class=\"preview__line\"><strong>{}</strong> {}</p>", self.word("not-for-use"), said.join(", "))
    }

    fn finding(&self, finding: &Finding) -> String {
        let place = format!("{}{}:{}:{}", self.folder, self.sources.path(finding.at.file), finding.at.line, finding.at.column);
        let kind = finding.severity.as_str();
        let help =
            finding.help.as_deref().map(|help| format!("<span class=\"preview__help\">{}</span>", escape::text(help))).unwrap_or_default();
        format!(
            "<li class=\"preview__finding preview__finding--{kind}\"><span class=\"preview__rule\">{kind}: <a href=\"/rules/{rule}.html\">{rule}</a></span> \
             <span class=\"preview__message\">{}</span> {help}\
             <button type=\"button\" class=\"preview__place\" data-place=\"{}\" title=\"{}\">{}</button></li>",
            escape::text(&finding.message),
            escape::text(&place),
            self.fill("copy", &[("place", &place)]),
            escape::text(&place),
            rule = finding.rule.name,
        )
    }
}

fn paragraph(piece: &str, markup: &str) -> String {
    format!("<p class=\"preview__{piece}\">{markup}</p>")
}
