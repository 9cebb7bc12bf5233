//! `raw-html`: HTML in Markdown, or a link or picture with a scheme that is not allowed.

use crate::finding::rule::RAW_HTML;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::pages::{Stretch, stretches};
use crate::text::place::{At, Place};
use crate::text::target::{SCHEMES, Target};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for stretch in stretches(context.library) {
        for html in pieces(&stretch.section.html) {
            let finding = Finding::new(&RAW_HTML, html.at, "the Markdown holds HTML");
            findings.push(stretch.place(finding).help("write it as Markdown; a `<` that is meant as a sign is written `\\<`"));
        }
        let links = stretch.section.links.iter().map(|link| (&link.target, link.at));
        let pictures = stretch.section.pictures.iter().map(|picture| (&picture.target, picture.at));
        for (target, at) in links.chain(pictures) {
            if let Target::Elsewhere(scheme) = Target::parse(target)
                && is_refused(&scheme)
            {
                findings.push(of_scheme(stretch, target, &scheme, at));
            }
        }
    }
}

/// Whether no link may begin with this scheme.
pub fn is_refused(scheme: &str) -> bool {
    !SCHEMES.contains(&scheme)
}

fn of_scheme(stretch: Stretch<'_>, target: &str, scheme: &str, at: Place) -> Finding {
    let scheme: String = scheme.chars().take(28).collect();
    let finding = Finding::new(&RAW_HTML, at, format!("the link begins with `{scheme}:`")).subject(target);
    stretch.place(finding).help("links begin with `https:`, `http:`, `mailto:` or `tel:`, or are paths in the library")
}

/// Each piece but the end tags that come after one: they belong to what they end.
fn pieces(html: &[At<String>]) -> impl Iterator<Item = &At<String>> {
    html.iter().enumerate().filter(|(index, piece)| *index == 0 || !piece.trim_start().starts_with("</")).map(|(_, piece)| piece)
}
