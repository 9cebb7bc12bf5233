//! The review as JSON, `stepward/review/1`: stable, other programs read it. Times are whole seconds, days are whole days, numbers of ways are
//! decimal digits in a text, since they may be larger than any number of JSON that programs read exactly.

mod procedure;

use serde::Serialize;

use crate::emit::json::{self, Entry};
use crate::emit::review::conditions::{self, How};
use crate::emit::review::speech::Spoken;
use crate::emit::review::{Review, Tally};
use crate::finding::Severity;
use crate::model::catalogue::{Condition, Hazard, SignalWord};
use procedure::ProcedureEntry;

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Document<'a> {
    schema: &'static str,
    library: &'a str,
    today: String,
    unreleased: bool,
    counts: Counts,
    procedures: Vec<ProcedureEntry<'a>>,
    hazards: Vec<HazardEntry<'a>>,
    conditions: Vec<ConditionEntry<'a>>,
    lowered_rules: Vec<LoweredEntry<'a>>,
    due: Vec<DueEntry<'a>>,
    unproved: &'a [&'a str],
    findings: Vec<Entry<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Counts {
    procedures: usize,
    not_analysed: usize,
    #[serde(flatten)]
    tally: TallyEntry,
    waivers: usize,
    error: usize,
    warning: usize,
    note: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct TallyEntry {
    exposures: usize,
    proven: usize,
    failed: usize,
    unreachable: usize,
    waived: usize,
}

impl From<Tally> for TallyEntry {
    fn from(tally: Tally) -> Self {
        let Tally { exposures, proven, failed, unreachable, waived } = tally;
        Self { exposures, proven, failed, unreachable, waived }
    }
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct HazardEntry<'a> {
    hazard: &'a str,
    name: &'a str,
    signal_word: Option<&'static str>,
    read_aloud: String,
    words: usize,
    /// At 150 words a minute.
    spoken_seconds: f64,
    longer_than_15_seconds: bool,
    no_control_because: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct ConditionEntry<'a> {
    condition: &'a str,
    name: Option<&'a str>,
    set_by: Vec<SetterEntry<'a>>,
    /// Procedures that begin only while it holds.
    required_by: Vec<&'a str>,
}

#[derive(Serialize)]
struct SetterEntry<'a> {
    procedure: &'a str,
    step: &'a str,
    how: &'static str,
    way: Option<&'static str>,
    answer: Option<String>,
    says: String,
    words: String,
}

#[derive(Serialize)]
struct LoweredEntry<'a> {
    rule: &'static str,
    from: &'static str,
    to: &'static str,
    reason: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct DueEntry<'a> {
    procedure: &'a str,
    review_by: Option<String>,
    days_left: Option<i64>,
}

/// The whole document, indented, with a line break at its end. `unproved` says in words what no analysis can prove.
pub fn json(review: &Review<'_>, unproved: &[&str]) -> String {
    let document = Document {
        schema: "stepward/review/1",
        library: review.library().settings.title(),
        today: review.today.to_string(),
        unreleased: review.unreleased,
        counts: counts(review),
        procedures: review.procedures.iter().map(|procedure| procedure::entry(review, procedure)).collect(),
        hazards: review.library().catalogue.hazards.iter().map(hazard).collect(),
        conditions: review.library().catalogue.conditions.iter().map(|one| condition(review, one)).collect(),
        lowered_rules: lowered(review),
        due: due(review),
        unproved,
        findings: review.report.findings.iter().map(|finding| json::entry(finding, &review.library().sources)).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document).expect("texts, finite numbers and lists always have a JSON form");
    text.push('\n');
    text
}

fn counts(review: &Review<'_>) -> Counts {
    Counts {
        procedures: review.procedures.len(),
        not_analysed: review.report.not_analysed.len(),
        tally: review.total().into(),
        waivers: review.procedures.iter().map(|procedure| procedure.waivers.len()).sum(),
        error: review.report.count(Severity::Error),
        warning: review.report.count(Severity::Warning),
        note: review.report.count(Severity::Note),
    }
}

fn hazard(hazard: &Hazard) -> HazardEntry<'_> {
    let read_aloud = hazard.read_aloud();
    let spoken = Spoken::of(&read_aloud);
    HazardEntry {
        hazard: hazard.id.as_str(),
        name: hazard.title(),
        signal_word: hazard.signal().map(SignalWord::as_str),
        read_aloud,
        words: spoken.words,
        spoken_seconds: spoken.seconds(),
        longer_than_15_seconds: spoken.is_long(),
        no_control_because: hazard.no_control_because.as_ref().map(|reason| reason.value.as_str()),
    }
}

fn condition<'a>(review: &Review<'a>, condition: &'a Condition) -> ConditionEntry<'a> {
    let setter = |one: conditions::SetBy<'a>| SetterEntry {
        procedure: one.procedure.as_str(),
        step: one.step.as_str(),
        how: How::as_str(one.how),
        way: one.way.as_ref().map(|(kind, _)| kind.as_str()),
        answer: one.way.and_then(|(_, answer)| answer),
        says: one.says,
        words: one.words,
    };
    ConditionEntry {
        condition: condition.id.as_str(),
        name: condition.name.as_ref().map(|name| name.value.as_str()),
        set_by: conditions::set_by(review, condition).into_iter().map(setter).collect(),
        required_by: conditions::required_by(review, condition).into_iter().map(|id| id.as_str()).collect(),
    }
}

fn lowered<'a>(review: &Review<'a>) -> Vec<LoweredEntry<'a>> {
    let entry = |(rule, now, setting): (&'static crate::finding::Rule, Severity, &'a crate::model::library::RuleSetting)| LoweredEntry {
        rule: rule.name,
        from: rule.severity.as_str(),
        to: now.as_str(),
        reason: setting.reason.as_ref().map(|reason| reason.value.as_str()),
    };
    review.lowered().into_iter().map(entry).collect()
}

fn due<'a>(review: &Review<'a>) -> Vec<DueEntry<'a>> {
    let entry = |(procedure, days_left): (&'a crate::model::procedure::Procedure, Option<i64>)| DueEntry {
        procedure: procedure.id.as_str(),
        review_by: procedure.review_by.as_ref().map(|day| day.value.to_string()),
        days_left,
    };
    review.due().into_iter().map(entry).collect()
}
