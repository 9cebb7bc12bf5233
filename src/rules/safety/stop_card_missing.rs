//! `stop-card-missing`: the catalogue has hazards and the library nothing to read when something goes wrong.

use crate::finding::rule::STOP_CARD_MISSING;
use crate::finding::{Finding, Findings, Group};
use crate::model::library::{Leaflet, Library};
use crate::rules::Context;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let library = context.library;
    let Some(hazard) = library.catalogue.hazards.first() else { return };
    if is_misread(library, findings) {
        return;
    }
    let help = "write what to do at smoke, shock, burns and toner in the eyes into `stop.md`";
    match &library.stop_card {
        None => {
            let at = library.catalogue.at.unwrap_or(hazard.at);
            findings.push(Finding::new(&STOP_CARD_MISSING, at, "the catalogue has hazards, and there is no `stop.md`").help(help));
        }
        Some(card) if is_blank(card) => {
            findings.push(Finding::new(&STOP_CARD_MISSING, card.at, "the stop card has no words").help(help));
        }
        Some(_) => {}
    }
}

/// The card is there, and the reader has said what is wrong with it.
fn is_misread(library: &Library, findings: &Findings) -> bool {
    let reading = findings.iter().filter(|finding| finding.rule.group == Group::Reading);
    reading.into_iter().any(|finding| library.sources.path(finding.at.file) == "stop.md")
}

fn is_blank(card: &Leaflet) -> bool {
    let sections = card.body.sections.iter().chain([&card.body.introduction]);
    !sections.into_iter().flat_map(|section| &section.blocks).any(|block| block.chars().any(char::is_alphanumeric))
}
