//! `link-leaves-flow`: a link in a step's words leads to another procedure, past every proof.

use std::collections::BTreeSet;

use crate::finding::rule::LINK_LEAVES_FLOW;
use crate::finding::{Finding, Findings};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::rules::Context;
use crate::rules::pages::{Lead, Page, Pages};
use crate::rules::safety::own_words;
use crate::rules::wording::named;
use crate::text::id::Id;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let pages = Pages::of(context.library);
    for procedure in own_words::judged(context) {
        for step in &procedure.steps {
            let mut told = BTreeSet::new();
            for link in procedure.words_of(step).into_iter().flat_map(|section| &section.links) {
                let target = match pages.lead(procedure.at.file, &link.target) {
                    Lead::Page(Page::Procedure(other), _) if other.id != procedure.id => Some(&other.id),
                    Lead::Elsewhere(_) => on_own_site(context.library, procedure, &link.target),
                    Lead::Page(..) | Lead::Picture(_) | Lead::Unread | Lead::Nowhere => None,
                };
                if let Some(target) = target.filter(|target| told.insert(*target)) {
                    let message = format!("a link leads out of the flow, to {}", named(target.as_str()));
                    let help = "carry the procedure out, refer to it from an ending, or put the link into the introduction";
                    let finding = Finding::new(&LINK_LEAVES_FLOW, link.at, message).procedure(&procedure.id).step(&step.id);
                    findings.push(finding.subject(target.as_str()).help(help));
                }
            }
        }
    }
}

/// The procedure that a whole address leads to, if it begins with the address at which this library is published.
fn on_own_site<'a>(library: &'a Library, from: &Procedure, address: &str) -> Option<&'a Id> {
    let site = library.settings.site.as_ref()?.trim().trim_end_matches('/');
    let inside = address.trim().strip_prefix(site).filter(|rest| !site.is_empty() && rest.starts_with('/'))?;
    let mut names = inside.split(['/', '?', '#']).map(|name| name.strip_suffix(".html").unwrap_or(name));
    names.find_map(|name| library.procedure(&Id::new(name))).map(|procedure| &procedure.id).filter(|id| **id != from.id)
}
