//! One line a finding, for editors and for `grep`.

use std::fmt::Write as _;

use crate::emit::{Report, clean};

/// `file:line:column: error[rule] message`, one line each.
pub fn short(report: &Report<'_>) -> String {
    let mut out = String::new();
    for finding in &report.findings {
        let file = clean::line(report.library.sources.path(finding.at.file));
        let (line, column) = (finding.at.line, finding.at.column);
        let (severity, rule) = (finding.severity.as_str(), finding.rule.name);
        // Writing to a `String` cannot fail.
        let _ = writeln!(out, "{file}:{line}:{column}: {severity}[{rule}] {}", clean::line(&finding.message));
    }
    out
}
