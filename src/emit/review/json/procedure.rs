//! One procedure of the review as JSON.

use serde::Serialize;

use crate::emit::json::{Point, point};
use crate::emit::review::json::TallyEntry;
use crate::emit::review::speech::Spoken;
use crate::emit::review::{Denied, Review, Tally, denials, waiver_days_left};
use crate::finding::WitnessEntry;
use crate::flow::coverage::{Cover, Coverage, Exposure, Held, Setter, Shown};
use crate::model::library::Approval;
use crate::model::procedure::{Kind, Procedure, Waiver, WaiverOf};
use crate::text::id::Id;

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct ProcedureEntry<'a> {
    procedure: &'a str,
    title: &'a str,
    kind: &'static str,
    status: &'static str,
    revision: Option<u32>,
    owner: Option<&'a str>,
    #[serde(rename = "for")]
    person: &'static str,
    file: &'a str,
    /// False: something in it, or in what it carries out, is broken; then its exposures are not known.
    analysed: bool,
    counts: TallyEntry,
    exposures: Vec<ExposureEntry<'a>>,
    cautions: Vec<CautionEntry<'a>>,
    mends: Vec<MendEntry<'a>>,
    elsewhere: Vec<ElsewhereEntry<'a>>,
    waivers: Vec<WaiverEntry<'a>>,
    denials: Vec<DenialEntry<'a>>,
    approvals: Vec<ApprovalEntry<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct ExposureEntry<'a> {
    step: &'a str,
    hazard: &'a str,
    line: Option<u32>,
    column: Option<u32>,
    parts: Vec<&'a str>,
    declared: bool,
    models: Vec<&'a str>,
    reachable: bool,
    proven: bool,
    cover: CoverEntry<'a>,
    person: &'static str,
    least: &'static str,
    least_waived: bool,
    conditions: Vec<HeldEntry<'a>>,
    requires_waived: bool,
    ways: &'a str,
    loops_left_out: bool,
    worst: Option<Vec<Point<'a>>>,
}

/// `how` is `here`, `before`, `out-of-date` or `missing`; `procedure` and `step` say where the caution was shown last on the worst way.
#[derive(Serialize)]
struct CoverEntry<'a> {
    how: &'static str,
    steps: Option<u32>,
    seconds: Option<u32>,
    procedure: Option<&'a str>,
    step: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct HeldEntry<'a> {
    condition: &'a str,
    holds: bool,
    from_start: bool,
    set_by: Vec<SetterEntry<'a>>,
}

#[derive(Serialize)]
struct SetterEntry<'a> {
    procedure: &'a str,
    step: &'a str,
    way: Option<&'static str>,
    answer: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct CautionEntry<'a> {
    step: &'a str,
    hazard: &'a str,
    spoken_seconds: Option<f64>,
    /// What would have a finding if it were not shown; empty: nothing depends on it.
    uncovers: Vec<UncoversEntry<'a>>,
}

#[derive(Serialize)]
struct UncoversEntry<'a> {
    procedure: &'a str,
    step: &'a str,
    witness: Vec<Point<'a>>,
}

#[derive(Serialize)]
struct MendEntry<'a> {
    hazard: &'a str,
    steps: Vec<&'a str>,
    /// Whether it is proved that no smaller set mends them all.
    smallest: bool,
}

#[derive(Serialize)]
struct ElsewhereEntry<'a> {
    hazard: &'a str,
    procedure: &'a str,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct WaiverEntry<'a> {
    step: Option<&'a str>,
    hazard: Option<&'a str>,
    of: Option<&'static str>,
    reason: Option<&'a str>,
    by: Option<&'a str>,
    until: Option<String>,
    days_left: Option<i64>,
}

#[derive(Serialize)]
struct DenialEntry<'a> {
    step: Option<&'a str>,
    key: &'static str,
    of: &'a str,
    reason: &'a str,
}

/// As recorded; whether the digest still fits is for the rules to say.
#[derive(Serialize)]
struct ApprovalEntry<'a> {
    revision: u32,
    by: &'a str,
    on: String,
    digest: &'a str,
}

pub(super) fn entry<'a>(review: &Review<'a>, procedure: &'a Procedure) -> ProcedureEntry<'a> {
    let library = review.library();
    let coverage = review.coverage_of(&procedure.id);
    let text = |id: &'a Id| id.as_str();
    ProcedureEntry {
        procedure: procedure.id.as_str(),
        title: procedure.title(),
        kind: match procedure.kind {
            Kind::FaultFinding => "fault-finding",
            Kind::Task => "task",
        },
        status: procedure.status.as_str(),
        revision: procedure.revision.as_ref().map(|revision| revision.value),
        owner: procedure.owner.as_ref().map(|owner| owner.value.as_str()),
        person: procedure.person.as_str(),
        file: library.sources.path(procedure.at.file),
        analysed: coverage.is_some(),
        counts: Tally::of(coverage.into_iter().flat_map(|coverage| &coverage.exposures)).into(),
        exposures: coverage.iter().flat_map(|coverage| &coverage.exposures).map(|one| exposure(procedure, one)).collect(),
        cautions: coverage.iter().flat_map(|coverage| &coverage.shown).map(|one| caution(review, one)).collect(),
        mends: coverage.iter().flat_map(|coverage| mends(coverage)).collect(),
        elsewhere: coverage
            .iter()
            .flat_map(|coverage| &coverage.elsewhere)
            .map(|(hazard, procedure)| ElsewhereEntry { hazard: text(hazard), procedure: text(procedure) })
            .collect(),
        waivers: procedure.waivers.iter().map(|one| waiver(review, one)).collect(),
        denials: denials(procedure).into_iter().map(denial).collect(),
        approvals: library.approvals.iter().filter(|one| one.procedure.value == procedure.id).map(approval).collect(),
    }
}

fn ids(list: &[Id]) -> Vec<&str> {
    list.iter().map(Id::as_str).collect()
}

fn points(witness: &[WitnessEntry]) -> Vec<Point<'_>> {
    witness.iter().map(point).collect()
}

fn exposure<'a>(procedure: &Procedure, exposure: &'a Exposure) -> ExposureEntry<'a> {
    let place = procedure.step(&exposure.step).map(|step| step.at);
    ExposureEntry {
        step: exposure.step.as_str(),
        hazard: exposure.hazard.as_str(),
        line: place.map(|place| place.line),
        column: place.map(|place| place.column),
        parts: ids(&exposure.parts),
        declared: exposure.declared,
        models: ids(&exposure.models),
        reachable: exposure.reachable,
        proven: exposure.proven,
        cover: cover(&exposure.cover),
        person: exposure.person.as_str(),
        least: exposure.least.as_str(),
        least_waived: exposure.least_waived,
        conditions: exposure.conditions.iter().map(held).collect(),
        requires_waived: exposure.requires_waived,
        ways: &exposure.ways,
        loops_left_out: exposure.loops,
        worst: exposure.worst.as_deref().map(points),
    }
}

fn cover(cover: &Cover) -> CoverEntry<'_> {
    let (how, counted, at) = match cover {
        Cover::Here => ("here", None, None),
        Cover::Before { steps, seconds, at } => ("before", Some((*steps, *seconds)), Some(at)),
        Cover::OutOfDate { at } => ("out-of-date", None, at.as_ref()),
        Cover::Missing => ("missing", None, None),
    };
    CoverEntry {
        how,
        steps: counted.map(|(steps, _)| steps),
        seconds: counted.map(|(_, seconds)| seconds),
        procedure: at.map(|(procedure, _)| procedure.as_str()),
        step: at.map(|(_, step)| step.as_str()),
    }
}

fn held(held: &Held) -> HeldEntry<'_> {
    HeldEntry {
        condition: held.condition.as_str(),
        holds: held.holds,
        from_start: held.from_start,
        set_by: held.set_by.iter().map(set_by).collect(),
    }
}

fn set_by(setter: &Setter) -> SetterEntry<'_> {
    SetterEntry {
        procedure: setter.procedure.as_str(),
        step: setter.step.as_str(),
        way: setter.way.as_ref().map(|(kind, _)| kind.as_str()),
        answer: setter.way.as_ref().and_then(|(_, answer)| answer.as_deref()),
    }
}

fn caution<'a>(review: &Review<'a>, shown: &'a Shown) -> CautionEntry<'a> {
    let hazard = review.library().catalogue.hazard(&shown.hazard);
    let uncovers = |(procedure, step, witness): &'a (Id, Id, Vec<WitnessEntry>)| UncoversEntry {
        procedure: procedure.as_str(),
        step: step.as_str(),
        witness: points(witness),
    };
    CautionEntry {
        step: shown.step.as_str(),
        hazard: shown.hazard.as_str(),
        spoken_seconds: hazard.map(|hazard| Spoken::of(&hazard.read_aloud()).seconds()),
        uncovers: shown.uncovers.iter().map(uncovers).collect(),
    }
}

fn mends(coverage: &Coverage) -> impl Iterator<Item = MendEntry<'_>> {
    coverage.mends.iter().map(|mend| MendEntry { hazard: mend.hazard.as_str(), steps: ids(&mend.steps), smallest: mend.smallest })
}

fn waiver<'a>(review: &Review<'_>, waiver: &'a Waiver) -> WaiverEntry<'a> {
    WaiverEntry {
        step: waiver.step.as_ref().map(|step| step.value.as_str()),
        hazard: waiver.hazard.as_ref().map(|hazard| hazard.value.as_str()),
        of: waiver.of.as_ref().map(|of| WaiverOf::as_str(of.value)),
        reason: waiver.reason.as_ref().map(|reason| reason.value.as_str()),
        by: waiver.by.as_ref().map(|by| by.value.as_str()),
        until: waiver.until.as_ref().map(|until| until.value.to_string()),
        days_left: waiver_days_left(waiver, review.today),
    }
}

fn denial(denied: Denied<'_>) -> DenialEntry<'_> {
    DenialEntry {
        step: denied.step.map(Id::as_str),
        key: denied.key,
        of: denied.denial.of.value.as_str(),
        reason: &denied.denial.reason.value,
    }
}

fn approval(approval: &Approval) -> ApprovalEntry<'_> {
    ApprovalEntry {
        revision: approval.revision.value,
        by: &approval.by.value,
        on: approval.on.value.to_string(),
        digest: &approval.digest.value,
    }
}
