//! The safety review as SARIF: every finding as elsewhere, and every proven exposure as a result of the kind `pass`.

use crate::emit::review::{Review, short};
use crate::emit::sarif::{self, Proved};

/// See [`sarif::sarif`]. Exposures with a finding are told by it; those that no way leads to are neither proven nor failed.
pub fn sarif(review: &Review<'_>) -> String {
    let mut proved = Vec::new();
    for coverage in &review.coverage {
        let Some(procedure) = review.library().procedure(&coverage.procedure) else { continue };
        for exposure in coverage.exposures.iter().filter(|exposure| exposure.reachable && exposure.proven) {
            let Some(step) = procedure.step(&exposure.step) else { continue };
            let cover = super::text::exposure::cover(review.library(), &coverage.procedure, exposure);
            let message = format!("`{}` at step `{}` is {}: {cover}", exposure.hazard, exposure.step, short::state(exposure));
            proved.push(Proved { procedure: &coverage.procedure, step: &exposure.step, hazard: &exposure.hazard, place: step.at, message });
        }
    }
    sarif::sarif(&review.report, &proved)
}
