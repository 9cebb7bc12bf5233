//! Findings as text, as one line each, as JSON, and as SARIF; the safety review and comparisons likewise. Makes texts; prints nothing and judges nothing.

pub mod clean;
pub mod comparison;
pub mod json;
pub mod review;
pub mod sarif;
pub mod short;
pub mod text;

use crate::finding::{Finding, Severity};
use crate::model::library::Library;
use crate::text::id::Id;

/// What there is to say about a library, or about the part of it that was judged. Findings stand in the order in which they are shown.
#[derive(Clone, Debug)]
pub struct Report<'a> {
    pub library: &'a Library,
    pub findings: Vec<&'a Finding>,
    /// Procedures whose paths could not be judged.
    pub not_analysed: Vec<&'a Id>,
    /// How many procedures were looked at.
    pub procedures: usize,
}

impl Report<'_> {
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }

    /// How many there are of each, on one line.
    pub fn summary(&self) -> String {
        format!(
            "{}: {}, {}, {}, {} not analysed",
            counted(self.procedures, "procedure"),
            counted(self.count(Severity::Error), "error"),
            counted(self.count(Severity::Warning), "warning"),
            counted(self.count(Severity::Note), "note"),
            self.not_analysed.len()
        )
    }

    /// Which procedures were not analysed, if any, on one line.
    pub fn left_out(&self) -> Option<String> {
        if self.not_analysed.is_empty() {
            return None;
        }
        let names = listed(self.not_analysed.iter().copied());
        Some(format!("no way through these was judged, something in them or in what they carry out is broken: {names}"))
    }
}

/// `1 page`, `2 pages`.
pub fn counted(number: usize, word: &str) -> String {
    format!("{number} {word}{}", if number == 1 { "" } else { "s" })
}

/// Ids in backticks, with commas, safe to print.
fn listed<'a>(ids: impl IntoIterator<Item = &'a Id>) -> String {
    ids.into_iter().map(|id| format!("`{}`", clean::line(id.as_str()))).collect::<Vec<_>>().join(", ")
}
