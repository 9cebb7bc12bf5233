//! Severities that `library.yaml` changes: any rule may be raised, few may be lowered, and those only with a written reason.

use crate::finding::{Finding, Findings, Group, Rule, Severity, rule};
use crate::model::library::{Library, RuleSetting};
use crate::text::nearest::nearest;

/// Gives every finding the severity that the library asks for, and adds a finding for each setting that cannot be followed.
pub fn apply(library: &Library, findings: &mut Findings) {
    let mut changes: Vec<(&'static Rule, Severity)> = Vec::new();
    let mut faults = Findings::default();
    for setting in &library.settings.rules {
        match change(setting) {
            Ok(change) => changes.extend(change),
            Err(fault) => faults.push(*fault),
        }
    }
    for finding in findings.iter_mut() {
        if let Some((_, severity)) = changes.iter().find(|(rule, _)| rule.name == finding.rule.name) {
            finding.severity = *severity;
        }
    }
    findings.extend(faults);
}

/// What a setting asks for; nothing where the reader refused its severity, which is a finding already.
fn change(setting: &RuleSetting) -> Result<Option<(&'static Rule, Severity)>, Box<Finding>> {
    let fault = |at, message: String, help: String| Box::new(Finding::new(&rule::VALUE_INVALID, at, message).help(help));
    let name = setting.rule.value.as_str();
    let Some(known) = rule::by_name(name) else {
        let help = match nearest(name, rule::ALL.iter().map(|rule| rule.name)) {
            Some(near) => format!("the nearest is `{near}`"),
            None => "`stepward rules` lists them all".to_owned(),
        };
        return Err(fault(setting.rule.at, format!("there is no rule `{name}`"), help));
    };
    let Some(severity) = &setting.severity else { return Ok(None) };
    let wanted = [Severity::Error, Severity::Warning, Severity::Note].into_iter().find(|it| it.as_str() == severity.value);
    let Some(wanted) = wanted else {
        let message = format!("`{}` is no severity", clip(&severity.value));
        return Err(fault(severity.at, message, "it is one of `error`, `warning`, `note`".to_owned()));
    };
    let lowered = wanted > known.severity;
    if lowered && !may_be_lowered(known) {
        let message = format!("`{name}` is an error of the kind that cannot be lowered");
        return Err(fault(severity.at, message, "mend what it finds, or take the setting out".to_owned()));
    }
    if lowered && setting.reason.is_none() {
        let missing = Finding::new(&rule::KEY_MISSING, setting.rule.at, format!("`{name}` is lowered without a `reason`"));
        return Err(Box::new(missing.help("write why, in words that the review shows")));
    }
    Ok(Some((known, wanted)))
}

/// No error of reading, flow, safety or approval can be lowered, nor `raw-html`.
fn may_be_lowered(known: &Rule) -> bool {
    let hard = matches!(known.group, Group::Reading | Group::Flow | Group::Safety | Group::Approval) || known.name == rule::RAW_HTML.name;
    known.severity != Severity::Error || !hard
}

fn clip(text: &str) -> String {
    text.chars().take(30).collect()
}
