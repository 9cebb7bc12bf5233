//! `caution-incomplete`: a hazard lacks something that its caution must say, or whatever keeps it in check.
//!
//! What a safety message must hold: signal word, nature, consequence, avoidance (ANSI Z535.6).

use crate::finding::rule::CAUTION_INCOMPLETE;
use crate::finding::{Finding, Findings};
use crate::model::catalogue::{Hazard, SignalWord};
use crate::rules::Context;
use crate::rules::earlier::misread_within;
use crate::rules::safety::entry::end_of;
use crate::rules::wording::{listed, named};
use crate::text::place::At;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for hazard in &context.library.catalogue.hazards {
        let lacks = lacks(hazard);
        let unknown = hazard.signal_word.as_ref().filter(|word| !word.trim().is_empty() && hazard.signal().is_none());
        let complete = lacks.is_empty() && unknown.is_none();
        // A value that could not be read looks as if it were not there.
        if complete || misread_within(findings, hazard.at.file, hazard.at.start..end_of(&context.library.catalogue, hazard.at)) {
            continue;
        }
        let finding = Finding::new(&CAUTION_INCOMPLETE, hazard.at, message(&lacks, unknown)).subject(hazard.id.as_str());
        findings.push(finding.help(help(&lacks, unknown)));
    }
}

/// The keys that the hazard lacks.
fn lacks(hazard: &Hazard) -> Vec<&'static str> {
    let signal = hazard.signal();
    let injures = signal != Some(SignalWord::Notice);
    let severe = matches!(signal, Some(SignalWord::Danger | SignalWord::Warning));
    let uncontrolled = signal.is_some() && injures && is_blank(&hazard.no_control_because);
    let needs = [
        ("kind", is_blank(&hazard.kind)),
        ("place", is_blank(&hazard.where_at)),
        ("signal-word", is_blank(&hazard.signal_word)),
        ("sign", injures && is_blank(&hazard.sign)),
        ("nature", is_blank(&hazard.nature)),
        ("consequence", injures && is_blank(&hazard.consequence)),
        ("avoid", is_blank(&hazard.avoid)),
        ("requires", uncontrolled && severe && hazard.requires.is_empty()),
        ("least", uncontrolled && hazard.least.is_none()),
    ];
    needs.into_iter().filter(|(_, lacking)| *lacking).map(|(key, _)| key).collect()
}

fn is_blank(text: &Option<At<String>>) -> bool {
    text.as_ref().is_none_or(|text| text.trim().is_empty())
}

fn message(lacks: &[&str], unknown: Option<&At<String>>) -> String {
    let keys: Vec<String> = lacks.iter().map(|key| format!("`{key}`")).collect();
    match (unknown, keys.as_slice()) {
        (None, keys) if keys.len() > 4 => format!("the hazard lacks {} keys", keys.len()),
        (None, keys) => format!("the hazard lacks {}", listed(keys)),
        (Some(word), []) => format!("{} is no signal word", named(word.trim())),
        (Some(word), [key]) => format!("{} is no signal word, and {key} is missing", named(word.trim())),
        (Some(word), keys) => format!("{} is no signal word, and {} keys are missing", named(word.trim()), keys.len()),
    }
}

fn help(lacks: &[&str], unknown: Option<&At<String>>) -> String {
    let mut help = Vec::new();
    if unknown.is_some() {
        help.push("the signal words are `danger`, `warning`, `caution` (injury) and `notice` (property)".to_owned());
    }
    if !lacks.is_empty() {
        help.push(format!("write {}", listed(&lacks.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>())));
    }
    if lacks.iter().any(|key| matches!(*key, "requires" | "least")) {
        help.push("where nothing can keep the hazard in check, say `no-control-because`".to_owned());
    }
    help.join("; ")
}
