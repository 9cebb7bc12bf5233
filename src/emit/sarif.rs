//! Findings in the Static Analysis Results Interchange Format (SARIF 2.1.0, OASIS Standard 2020), for editors and code hosts.
//!
//! Also what was proved (`pass`) and what could not be judged (`open`), so that a reader sees the whole of a review. No clock, no host, no path of the
//! machine: the same library gives the same bytes everywhere.

mod place;
mod result;
mod rules;
mod shape;
mod words;

use std::collections::BTreeMap;

use crate::emit::Report;
use crate::finding::Severity;
use crate::text::id::Id;
use crate::text::place::Place;
use shape::{ArtifactLocation, Descriptor, DescriptorReference, Driver, Invocation, Log, Message, Notification, Run, Tool};

/// An exposure of which the proof holds: the caution of `hazard` is shown on every way to this step, and what keeps it in check holds there.
#[derive(Clone, Debug)]
pub struct Proved<'a> {
    pub procedure: &'a Id,
    pub step: &'a Id,
    pub hazard: &'a Id,
    /// Where the step stands.
    pub place: Place,
    /// One sentence on what was proved.
    pub message: String,
}

/// The library's folder, to which every address in the log is relative.
const BASE: &str = "LIBRARY";
/// The notification that says what was not judged.
const NOT_ANALYSED: &str = "not-analysed";

/// The log of a run that came to a verdict, indented, with a line break at its end.
pub fn sarif(report: &Report<'_>, proved: &[Proved<'_>]) -> String {
    let errors = report.count(Severity::Error) > 0;
    let invocation = Invocation {
        execution_successful: true,
        exit_code: u8::from(errors),
        exit_code_description: if errors { "errors were found" } else { "no error was found" },
        tool_execution_notifications: report.not_analysed.iter().map(|id| not_analysed(id, report)).collect(),
        tool_configuration_notifications: Vec::new(),
    };
    log(invocation, Some(result::results(report, proved)))
}

/// The log of a run that could not begin: `words` say why, `exit_code` is its exit status. It has no `results` at all, which is not the same as none found.
pub fn cannot_run(words: &str, exit_code: u8) -> String {
    let notification = Notification { descriptor: None, level: "error", message: Message::of(words), locations: Vec::new() };
    let invocation = Invocation {
        execution_successful: false,
        exit_code,
        exit_code_description: "the command could not run",
        tool_execution_notifications: Vec::new(),
        tool_configuration_notifications: vec![notification],
    };
    log(invocation, None)
}

fn not_analysed<'a>(id: &Id, report: &Report<'_>) -> Notification<'a> {
    let at = report.library.procedure(id).map(|procedure| procedure.at);
    Notification {
        descriptor: Some(DescriptorReference { id: NOT_ANALYSED, index: 0 }),
        level: "warning",
        message: Message::of(&result::unjudged(id)),
        locations: at.into_iter().map(|at| place::location(at, &report.library.sources)).collect(),
    }
}

fn log(invocation: Invocation<'_>, results: Option<Vec<shape::Result<'_>>>) -> String {
    let description = Message::of("The library's folder: the one that holds library.yaml.");
    let base = ArtifactLocation { uri: None, uri_base_id: None, description: Some(description) };
    let run = Run {
        tool: Tool { driver: driver() },
        invocations: vec![invocation],
        original_uri_base_ids: BTreeMap::from([(BASE, base)]),
        column_kind: "unicodeCodePoints",
        // What the reader takes for the end of a line; the default of the format has no lone carriage return.
        newline_sequences: ["\r\n", "\n", "\r"],
        default_encoding: "utf-8",
        results,
    };
    let log = Log {
        version: "2.1.0",
        schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        runs: vec![run],
    };
    let mut text = serde_json::to_string_pretty(&log).expect("texts, numbers and lists always have a JSON form");
    text.push('\n');
    text
}

fn driver() -> Driver {
    let words = "A procedure could not be judged because something in it, or in what it carries out, is broken.";
    Driver {
        name: "Stepward",
        version: env!("CARGO_PKG_VERSION"),
        semantic_version: env!("CARGO_PKG_VERSION"),
        language: "en-US",
        rules: rules::descriptors(),
        notifications: vec![Descriptor {
            id: NOT_ANALYSED,
            short_description: Message::of(words),
            help: None,
            default_configuration: shape::Configuration { level: "warning" },
            properties: None,
        }],
    }
}
