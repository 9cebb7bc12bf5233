//! Where an entry of the safety catalogue ends.

use crate::model::catalogue::Catalogue;
use crate::text::place::Place;

/// Where the entry after this one begins.
pub fn end_of(catalogue: &Catalogue, at: Place) -> u32 {
    let conditions = catalogue.conditions.iter().map(|condition| condition.at.start);
    let hazards = catalogue.hazards.iter().map(|hazard| hazard.at.start);
    let parts = catalogue.parts.iter().map(|part| part.at.start);
    conditions.chain(hazards).chain(parts).filter(|start| *start > at.start).min().unwrap_or(u32::MAX)
}
