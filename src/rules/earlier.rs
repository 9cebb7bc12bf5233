//! What the reader has said already. One cause, one finding: what follows from a value that could not be read is not reported again.

use crate::finding::{Finding, Findings, Group};
use crate::text::place::{FileId, Place};

/// Whether a finding of the group *reading* stands at this very place.
pub fn misread_at(findings: &Findings, at: Place) -> bool {
    of_reading(findings).any(|finding| finding.at.file == at.file && finding.at.start == at.start)
}

/// Whether a finding of the group *reading* stands in the file between two bytes.
pub fn misread_within(findings: &Findings, file: FileId, bytes: std::ops::Range<u32>) -> bool {
    of_reading(findings).any(|finding| finding.at.file == file && bytes.contains(&finding.at.start))
}

fn of_reading(findings: &Findings) -> impl Iterator<Item = &Finding> {
    findings.iter().filter(|finding| finding.rule.group == Group::Reading)
}
