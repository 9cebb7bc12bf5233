//! Findings as JSON, in the stable form that other programs read. The shapes stand here and nowhere else: the model is not serialisable.

use serde::Serialize;

use crate::emit::Report;
use crate::finding::{Finding, Severity, WitnessEntry};
use crate::text::place::Sources;

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    findings: Vec<Entry<'a>>,
    counts: Counts,
    procedures: usize,
}

#[derive(Serialize)]
pub(super) struct Entry<'a> {
    rule: &'static str,
    severity: &'static str,
    procedure: Option<&'a str>,
    step: Option<&'a str>,
    subject: Option<&'a str>,
    file: &'a str,
    line: u32,
    column: u32,
    message: &'a str,
    help: Option<&'a str>,
    models: Vec<&'a str>,
    witness: Option<Vec<Point<'a>>>,
}

#[derive(Serialize)]
pub(super) struct Point<'a> {
    procedure: &'a str,
    step: &'a str,
    way: Option<&'static str>,
    answer: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Counts {
    error: usize,
    warning: usize,
    note: usize,
    not_analysed: usize,
}

/// The whole document, indented, with a line break at its end.
pub fn json(report: &Report<'_>) -> String {
    let sources = &report.library.sources;
    let document = Document {
        schema: "stepward/findings/1",
        findings: report.findings.iter().map(|finding| entry(finding, sources)).collect(),
        counts: Counts {
            error: report.count(Severity::Error),
            warning: report.count(Severity::Warning),
            note: report.count(Severity::Note),
            not_analysed: report.not_analysed.len(),
        },
        procedures: report.procedures,
    };
    let mut text = serde_json::to_string_pretty(&document).expect("texts, numbers and lists always have a JSON form");
    text.push('\n');
    text
}

pub(super) fn entry<'a>(finding: &'a Finding, sources: &'a Sources) -> Entry<'a> {
    Entry {
        rule: finding.rule.name,
        severity: finding.severity.as_str(),
        procedure: finding.procedure.as_ref().map(|id| id.as_str()),
        step: finding.step.as_ref().map(|id| id.as_str()),
        subject: finding.subject.as_deref(),
        file: sources.path(finding.at.file),
        line: finding.at.line,
        column: finding.at.column,
        message: &finding.message,
        help: finding.help.as_deref(),
        models: finding.models.iter().map(|id| id.as_str()).collect(),
        witness: finding.witness.as_ref().map(|witness| witness.iter().map(point).collect()),
    }
}

pub(super) fn point(entry: &WitnessEntry) -> Point<'_> {
    Point {
        procedure: entry.procedure.as_str(),
        step: entry.step.as_str(),
        way: entry.way.map(|way| way.as_str()),
        answer: entry.answer.as_deref(),
    }
}
