//! What changed: a page, and the same as a feed (Atom, RFC 4287) that a service team's own reader can watch. Both come from the approvals: each is the day
//! on which a revision came into force. What is withdrawn is told as withdrawn.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use jiff::civil::Date;
use tera::Context;

use crate::model::library::Approval;
use crate::model::procedure::{Procedure, Status};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::rules::approval::digest;
use crate::theme;

/// Where the page and the feed lie.
pub const PAGE: &str = "changes.html";
pub const FEED: &str = "changes.xml";
/// So many approvals at most are told; what is withdrawn always is.
const MOST: usize = 200;

struct Change<'a> {
    procedure: &'a Procedure,
    day: Date,
    what: What<'a>,
}

enum What<'a> {
    /// The approval, and of the revision before it the number and what differs.
    Approved(&'a Approval, Option<(u32, Vec<String>)>),
    Withdrawn,
}

/// Newest first; on one day what is withdrawn comes first, then by title.
fn changes<'a>(frame: &Frame<'a>) -> Vec<Change<'a>> {
    let library = frame.library;
    let gone = library.procedures.iter().filter(|procedure| procedure.is_withdrawn());
    // The format knows no day of withdrawal: what is withdrawn is news with every edition.
    let mut all: Vec<Change<'a>> = gone.map(|procedure| Change { procedure, day: frame.today, what: What::Withdrawn }).collect();
    let mut revisions: BTreeMap<_, BTreeMap<u32, &Approval>> = BTreeMap::new();
    for approval in &library.approvals {
        // Of a revision that was approved twice the later one counts.
        revisions.entry(&approval.procedure.value).or_default().insert(approval.revision.value, approval);
    }
    for (id, revisions) in revisions {
        let Some(procedure) = library.procedure(id).filter(|procedure| procedure.status == Status::Released) else { continue };
        let mut before: Option<&Approval> = None;
        for approval in revisions.into_values() {
            let since = before.map(|one| (one.revision.value, digest::changed_between(&one.digest.value, &approval.digest.value)));
            all.push(Change { procedure, day: approval.on.value, what: What::Approved(approval, since) });
            before = Some(approval);
        }
    }
    let rank = |change: &Change<'_>| match &change.what {
        What::Withdrawn => (0, 0),
        What::Approved(approval, _) => (1, u32::MAX - approval.revision.value),
    };
    all.sort_by_cached_key(|change| {
        (std::cmp::Reverse(change.day), rank(change).0, change.procedure.title().to_lowercase(), rank(change).1)
    });
    let mut approved = 0;
    all.retain(|change| {
        approved += usize::from(!matches!(change.what, What::Withdrawn));
        matches!(change.what, What::Withdrawn) || approved <= MOST
    });
    all
}

impl Change<'_> {
    fn title(&self, frame: &Frame<'_>) -> String {
        match &self.what {
            What::Withdrawn => frame.words.fill("changes", "withdrawn", &[("title", self.procedure.title())]),
            What::Approved(approval, _) => {
                frame.words.fill("changes", "revision", &[("title", self.procedure.title()), ("n", &approval.revision.value.to_string())])
            }
        }
    }

    fn says(&self, frame: &Frame<'_>) -> String {
        match &self.what {
            What::Withdrawn => self.procedure.withdrawn_because.as_ref().map_or_else(String::new, |reason| reason.value.clone()),
            What::Approved(approval, since) => {
                let mut says = frame.words.fill("changes", "approved", &[("role", &approval.by.value)]);
                if let Some((n, differs)) = since.as_ref().filter(|(_, differs)| !differs.is_empty()) {
                    let differs = differs.iter().map(|name| name.replace('/', " ")).collect::<Vec<_>>().join(", ");
                    let _ = write!(says, " {}", frame.words.fill("changes", "since", &[("n", &n.to_string()), ("what", &differs)]));
                }
                says
            }
        }
    }

    fn page(&self) -> String {
        format!("procedures/{}.html", self.procedure.id)
    }
}

pub fn page(frame: &Frame<'_>) -> (String, String) {
    let mut days: Vec<(Date, String)> = Vec::new();
    for change in changes(frame) {
        if days.last().is_none_or(|(day, _)| *day != change.day) {
            days.push((change.day, String::new()));
        }
        let Some((_, rows)) = days.last_mut() else { continue };
        let (link, title) = (escape::text(&change.page()), escape::text(&change.title(frame)));
        let _ = writeln!(rows, "<li class=\"index__row\"><a href=\"{link}\">{title}</a><p>{}</p></li>", escape::text(&change.says(frame)));
    }
    let day = |(day, rows): &(Date, String)| {
        format!(
            "<section class=\"leaf\" aria-labelledby=\"day-{day}\">\n<h2 class=\"leaf__name figures\" id=\"day-{day}\"><time datetime=\"{day}\">{day}</time></h2>\n<ul class=\"index\">\n{rows}</ul>\n</section>\n"
        )
    };
    let mut context = Context::new();
    context.insert_value("days", escape::safe(&days.iter().map(day).collect::<String>()));
    let title = frame.say("changes", "title").to_owned();
    let foot = title.clone();
    frame.set(Sheet {
        path: PAGE.to_owned(),
        title,
        kind: theme::Kind::Plain,
        template: "pages/changes.html",
        banners: Vec::new(),
        foot,
        context,
    })
}

/// The feed. `None` where there is nothing to tell: a feed without entries has no day to be of.
pub fn feed(frame: &Frame<'_>) -> Option<(String, Vec<u8>)> {
    let changes = changes(frame);
    let updated = changes.iter().map(|change| change.day).max()?;
    let settings = &frame.library.settings;
    let site = settings.site.as_ref().map_or_else(String::new, |site| format!("{}/", site.value.trim_end_matches('/')));
    // Signs that XML forbids even as references.
    let text = |text: &str| {
        escape::text(
            &text.replace(|c: char| c < ' ' && !matches!(c, '\t' | '\n' | '\r') || matches!(c, '\u{fffe}' | '\u{ffff}'), "\u{fffd}"),
        )
    };
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"{}\">\n<id>{}</id>\n<title>{}</title>\n<updated>{}</updated>\n<author><name>{}</name></author>\n",
        text(settings.language()),
        name(&["feed", settings.title()]),
        text(&format!("{}: {}", settings.title(), frame.say("changes", "title"))),
        moment(updated),
        text(settings.title()),
    );
    if !site.is_empty() {
        let _ = writeln!(out, "<link rel=\"self\" type=\"application/atom+xml\" href=\"{}\"/>", text(&format!("{site}{FEED}")));
    }
    let _ = writeln!(out, "<link rel=\"alternate\" type=\"text/html\" href=\"{}\"/>", text(&format!("{site}{PAGE}")));
    for change in &changes {
        let revision = match &change.what {
            What::Approved(approval, _) => approval.revision.value.to_string(),
            What::Withdrawn => "withdrawn".to_owned(),
        };
        let _ = write!(
            out,
            "<entry>\n<id>{}</id>\n<title>{}</title>\n<updated>{}</updated>\n<link rel=\"alternate\" type=\"text/html\" href=\"{}\"/>\n<summary>{}</summary>\n</entry>\n",
            name(&["entry", settings.title(), change.procedure.id.as_str(), &revision]),
            text(&change.title(frame)),
            moment(change.day),
            text(&format!("{site}{}", change.page())),
            text(&change.says(frame)),
        );
    }
    out.push_str("</feed>\n");
    Some((FEED.to_owned(), out.into_bytes()))
}

/// The first moment of a day, as RFC 3339 writes it.
fn moment(day: Date) -> String {
    format!("{day}T00:00:00Z")
}

/// A name that stays the same with every edition: a UUID of version 8 (RFC 9562), made of a digest of what it names and of no time.
fn name(of: &[&str]) -> String {
    let mut digest = blake3::Hasher::new();
    for part in of {
        // The length keeps two lists of parts apart that read alike.
        digest.update(&(part.len() as u64).to_le_bytes()).update(part.as_bytes());
    }
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&digest.finalize().as_bytes()[..16]);
    bytes[6] = bytes[6] & 0x0F | 0x80;
    bytes[8] = bytes[8] & 0x3F | 0x80;
    let hex = bytes.iter().fold(String::new(), |text, byte| text + &format!("{byte:02x}"));
    format!("urn:uuid:{}-{}-{}-{}-{}", &hex[..8], &hex[8..12], &hex[12..16], &hex[16..20], &hex[20..])
}
