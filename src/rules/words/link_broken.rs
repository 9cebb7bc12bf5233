//! `link-broken`: a link to a page, section or picture that the site does not have.

use crate::finding::rule::LINK_BROKEN;
use crate::finding::{Finding, Findings};
use crate::model::library::Library;
use crate::model::procedure::Status;
use crate::rules::Context;
use crate::rules::pages::{Lead, Page, Pages, Stretch, stretches};
use crate::rules::wording::named;
use crate::text::nearest::nearest;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let pages = Pages::of(context.library);
    for stretch in stretches(context.library) {
        for link in &stretch.section.links {
            let message = match pages.lead(stretch.file, &link.target) {
                Lead::Page(_, false) => "the page has no section of that name",
                Lead::Page(page, true) if is_left_out(stretch, page) => "the link leads to a procedure that is not released",
                Lead::Nowhere => "nothing in the library is at the end of this link",
                Lead::Page(_, true) | Lead::Elsewhere(_) | Lead::Picture(_) | Lead::Unread => continue,
            };
            let message = format!("{message}: {}", named(link.target.trim()));
            let finding = Finding::new(&LINK_BROKEN, link.at, message).subject(link.target.as_str());
            findings.push(stretch.place(finding).help(help(context.library, &link.target)));
        }
    }
}

/// A released procedure is published without those that are not.
fn is_left_out(from: Stretch<'_>, to: Page<'_>) -> bool {
    let released = from.procedure.is_some_and(|procedure| procedure.status == Status::Released);
    match to {
        Page::Procedure(procedure) => released && !matches!(procedure.status, Status::Released | Status::Withdrawn),
        Page::Leaflet(_) => false,
    }
}

/// The nearest page by the name of its file.
fn help(library: &Library, target: &str) -> String {
    let path = target.split('#').next().unwrap_or_default();
    let name = path.rsplit('/').next().unwrap_or_default();
    let name = name.strip_suffix(".md").unwrap_or(name);
    let pages = library.procedures.iter().map(|procedure| &procedure.id).chain(library.leaflets.iter().map(|leaflet| &leaflet.id));
    let near = pages.clone().find(|id| **id == *name).map(|id| id.as_str()).or_else(|| nearest(name, pages.map(|id| id.as_str())));
    match near {
        Some(near) if !name.is_empty() => format!("links are paths from this file, with `#id` for a section; the nearest page is `{near}`"),
        _ => "links are paths from this file, with `#id` for a step or a heading that carries an id".to_owned(),
    }
}
