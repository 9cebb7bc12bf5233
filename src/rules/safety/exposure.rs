//! What a step exposes to by its own declarations.

use crate::model::catalogue::Catalogue;
use crate::model::step::Step;
use crate::text::id::Id;

/// Whether what a step exposes to cannot be told: it touches a part, or names a hazard, that the catalogue lacks.
pub fn is_unsure(catalogue: &Catalogue, step: &Step) -> bool {
    let parts = step.touches.iter().map(|part| catalogue.part(part));
    let known = |hazard: &Id| catalogue.hazard(hazard).is_some();
    step.exposes.iter().any(|hazard| !known(hazard))
        || parts.into_iter().any(|part| part.is_none_or(|part| part.hazards.iter().any(|hazard| !known(hazard))))
}
