//! `hazard-without-words`: nothing in a text can give the hazard away, neither words of its own nor those of a part.

use crate::finding::rule::HAZARD_WITHOUT_WORDS;
use crate::finding::{Finding, Findings};
use crate::model::catalogue::{Catalogue, Hazard};
use crate::rules::Context;
use crate::rules::earlier::misread_within;
use crate::rules::safety::entry;
use crate::rules::wording::named;
use crate::text::place::{At, Place};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let catalogue = &context.library.catalogue;
    for hazard in catalogue.hazards.iter().filter(|hazard| !is_named(catalogue, hazard)) {
        // Words that could not be read, of the hazard or of a part that might bring it, look as if they were not there.
        let misread = |at: Place| misread_within(findings, at.file, at.start..entry::end_of(catalogue, at));
        if misread(hazard.at) || catalogue.parts.iter().any(|part| misread(part.at)) {
            continue;
        }
        let message = format!("no words of its own or of a part name {}", named(hazard.id.as_str()));
        let finding = Finding::new(&HAZARD_WITHOUT_WORDS, hazard.at, message).subject(hazard.id.as_str());
        findings.push(finding.help("write `words` for it, or list it under the `hazards` of the part that brings it"));
    }
}

/// A part with hazards and no words is a finding of its own: the part's words will name the hazard.
fn is_named(catalogue: &Catalogue, hazard: &Hazard) -> bool {
    let brings = catalogue.parts.iter().any(|part| part.hazards.iter().any(|brought| brought.value == hazard.id));
    brings || hazard.words.iter().any(is_findable)
}

fn is_findable(words: &At<String>) -> bool {
    words.chars().any(char::is_alphanumeric)
}
