//! The review on one line an exposure, for editors and for `grep`.

use std::fmt::Write as _;

use crate::emit::review::{Review, is_waived};
use crate::emit::{clean, short};
use crate::flow::coverage::Exposure;

/// The findings first, then `file:line:column: proven[hazard] step: how it is covered`, one line each.
pub fn short(review: &Review<'_>) -> String {
    let mut out = short::short(&review.report);
    for coverage in &review.coverage {
        let Some(procedure) = review.library().procedure(&coverage.procedure) else { continue };
        for exposure in &coverage.exposures {
            let place = procedure.step(&exposure.step).map_or(procedure.at, |step| step.at);
            let file = clean::line(review.library().sources.path(place.file));
            let (step, hazard) = (clean::line(exposure.step.as_str()), clean::line(exposure.hazard.as_str()));
            let cover = super::text::exposure::cover(review.library(), &coverage.procedure, exposure);
            // Writing to a `String` cannot fail.
            let _ = writeln!(out, "{file}:{}:{}: {}[{hazard}] {step}: {cover}", place.line, place.column, state(exposure));
        }
    }
    out
}

/// What became of it, in one word.
pub fn state(exposure: &Exposure) -> &'static str {
    match (exposure.reachable, exposure.proven, is_waived(exposure)) {
        (false, ..) => "unreachable",
        (true, false, _) => "uncovered",
        (true, true, true) => "waived",
        (true, true, false) => "proven",
    }
}
