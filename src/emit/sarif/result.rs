//! The results of a log: a finding each, then what was proved, then what could not be judged.

use std::collections::BTreeMap;

use crate::emit::sarif::shape::{CodeFlow, Location, LogicalLocation, Message, Properties, Result, ThreadFlow, ThreadFlowLocation};
use crate::emit::sarif::{Proved, place, rules, words};
use crate::emit::text::way;
use crate::emit::{Report, listed};
use crate::finding::{Finding, Rule, WitnessEntry, rule};
use crate::text::id::Id;
use crate::text::place::Place;

/// How results are told apart from run to run. A new way to do so gets a new number.
const FINGERPRINT: &str = "stepwardFinding/v1";

pub fn results<'a>(report: &'a Report<'_>, proved: &'a [Proved<'_>]) -> Vec<Result<'a>> {
    let mut prints = Fingerprints::default();
    let mut all: Vec<Result<'a>> = report.findings.iter().map(|finding| failed(finding, report, &mut prints)).collect();
    all.extend(proved.iter().map(|proved| passed(proved, report, &mut prints)));
    all.extend(report.not_analysed.iter().map(|id| open(id, report, &mut prints)));
    all
}

/// Why nothing was judged about a procedure.
pub fn unjudged(id: &Id) -> String {
    format!("No way through `{id}` was judged: something in it, or in what it carries out, is broken.")
}

fn failed<'a>(finding: &'a Finding, report: &'a Report<'_>, prints: &mut Fingerprints) -> Result<'a> {
    let sources = &report.library.sources;
    let mut location = place::location(finding.at, sources);
    location.logical_locations = logical(finding.procedure.as_ref(), finding.step.as_ref());
    let related = (1..).zip(&finding.also).map(|(id, (at, words))| Location {
        id: Some(id),
        message: Some(Message::of(words)),
        ..place::location(*at, sources)
    });
    // A file's own name stands in for the procedure where there is none: it does not move when lines do.
    let about = finding.procedure.as_ref().map_or_else(|| sources.path(finding.at.file), |id| id.as_str());
    Result {
        message: message(finding),
        related_locations: related.collect(),
        code_flows: finding.witness.iter().map(|witness| code_flow(witness, report)).collect(),
        partial_fingerprints: prints.of("fail", finding.rule, about, finding.step.as_ref(), finding.subject.as_deref()),
        properties: Properties { subject: finding.subject.as_deref(), models: finding.models.iter().map(|id| id.as_str()).collect() },
        ..judgement(finding.rule, "fail", finding.severity.as_str(), location)
    }
}

fn passed<'a>(proved: &'a Proved<'_>, report: &Report<'_>, prints: &mut Fingerprints) -> Result<'a> {
    let mut location = place::location(proved.place, &report.library.sources);
    location.logical_locations = logical(Some(proved.procedure), Some(proved.step));
    let hazard = proved.hazard.as_str();
    Result {
        message: Message::of(&words::sentence(&proved.message)),
        partial_fingerprints: prints.of("pass", &rule::CAUTION_MISSING, proved.procedure.as_str(), Some(proved.step), Some(hazard)),
        properties: Properties { subject: Some(hazard), models: Vec::new() },
        ..judgement(&rule::CAUTION_MISSING, "pass", "none", location)
    }
}

/// Nobody knows whether the cautions of this procedure stand where they must.
fn open<'a>(id: &'a Id, report: &Report<'_>, prints: &mut Fingerprints) -> Result<'a> {
    let at = report.library.procedure(id).map_or_else(Place::default, |procedure| procedure.at);
    let mut location = place::location(at, &report.library.sources);
    location.logical_locations = logical(Some(id), None);
    Result {
        message: Message::of(&unjudged(id)),
        partial_fingerprints: prints.of("open", &rule::CAUTION_MISSING, id.as_str(), None, None),
        ..judgement(&rule::CAUTION_MISSING, "open", "none", location)
    }
}

/// What every result has; `level` is `none` for every kind but `fail` (3.27.10).
fn judgement<'a>(rule: &'static Rule, kind: &'static str, level: &'static str, location: Location<'a>) -> Result<'a> {
    let somewhere = location.physical_location.is_some() || !location.logical_locations.is_empty();
    Result {
        rule_id: rule.name,
        rule_index: rules::index(rule),
        kind,
        level,
        message: Message::of(""),
        locations: if somewhere { vec![location] } else { Vec::new() },
        related_locations: Vec::new(),
        code_flows: Vec::new(),
        partial_fingerprints: BTreeMap::new(),
        suppressions: [],
        properties: Properties::default(),
    }
}

/// The fact, the cure, and the models it holds for, each a sentence.
fn message(finding: &Finding) -> Message {
    let mut parts = vec![words::sentence(&finding.message)];
    parts.extend(finding.help.as_deref().map(words::sentence));
    if !finding.models.is_empty() {
        let word = if finding.models.len() == 1 { "model" } else { "models" };
        parts.push(format!("It holds for the {word} {}.", listed(&finding.models)));
    }
    Message::of(&parts.join(" "))
}

fn logical<'a>(procedure: Option<&'a Id>, step: Option<&'a Id>) -> Vec<LogicalLocation<'a>> {
    let Some(procedure) = procedure else { return Vec::new() };
    let (name, fully_qualified_name, kind) = match step {
        Some(step) => (step, format!("{procedure}/{step}"), "step"),
        None => (procedure, procedure.to_string(), "procedure"),
    };
    vec![LogicalLocation { name: name.as_str(), fully_qualified_name, kind }]
}

/// One location a step, in the order they are taken; the last is the failing step.
fn code_flow<'a>(witness: &'a [WitnessEntry], report: &Report<'_>) -> CodeFlow<'a> {
    let mut inside: Vec<&Id> = Vec::new();
    let mut locations = Vec::new();
    for entry in witness {
        way::enter(&mut inside, entry);
        let step = report.library.procedure(&entry.procedure).and_then(|procedure| procedure.step(&entry.step));
        let at = step.map(|step| place::location(step.at, &report.library.sources));
        let location = Location {
            id: None,
            physical_location: at.and_then(|at| at.physical_location),
            logical_locations: logical(Some(&entry.procedure), Some(&entry.step)),
            message: Some(Message::of(&way::step(entry, report.library))),
        };
        let last = locations.len() + 1 == witness.len();
        let importance = if last { "essential" } else { "important" };
        locations.push(ThreadFlowLocation { location, nesting_level: inside.len().saturating_sub(1), importance });
    }
    CodeFlow { thread_flows: [ThreadFlow { locations }] }
}

/// Fingerprints that stay the same when lines move; of results that are alike in all else, the second has another than the first.
#[derive(Default)]
struct Fingerprints {
    seen: BTreeMap<String, usize>,
}

impl Fingerprints {
    fn of(&mut self, kind: &str, rule: &Rule, about: &str, step: Option<&Id>, subject: Option<&str>) -> BTreeMap<&'static str, String> {
        // No part can hold a line feed and pass for two.
        let step = step.map_or("", |step| step.as_str());
        let parts = [kind, rule.name, about, step, subject.unwrap_or("")].map(|part| part.replace('\n', " "));
        let same = parts.join("\n");
        let before = self.seen.entry(same.clone()).or_default();
        let print = blake3::hash(format!("{same}\n{before}").as_bytes()).to_hex();
        *before += 1;
        BTreeMap::from([(FINGERPRINT, print.as_str().chars().take(32).collect())])
    }
}
