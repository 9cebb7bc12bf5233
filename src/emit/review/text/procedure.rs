//! One procedure of the review in words.

use crate::emit::review::speech::Spoken;
use crate::emit::review::text::{exposure, heading, line, tally};
use crate::emit::review::{Review, Tally, denials, waiver_days_left};
use crate::emit::{clean, counted};
use crate::flow::coverage::{Coverage, Shown};
use crate::model::procedure::{Procedure, Waiver, WaiverOf};

pub(super) fn add(out: &mut String, review: &Review<'_>, procedure: &Procedure) {
    let revision = procedure.revision.as_ref().map_or_else(|| "no revision".to_owned(), |revision| format!("revision {}", revision.value));
    heading(out, &format!("`{}` {} ({}, {revision})", procedure.id, procedure.title(), procedure.status.as_str()));
    match review.coverage_of(&procedure.id) {
        None => line(out, 1, "not judged: something in it, or in what it carries out, is broken"),
        Some(coverage) => covered(out, review, coverage),
    }
    for waiver in &procedure.waivers {
        line(out, 1, &self::waiver(review, waiver));
    }
    for denied in denials(procedure) {
        let place = denied.step.map_or_else(|| "the procedure".to_owned(), |step| format!("`{step}`"));
        line(out, 1, &format!("{place} says `{}` {}: {}", denied.key, denied.denial.of.value, denied.denial.reason.value));
    }
    let approvals = review.library().approvals.iter().filter(|one| one.procedure.value == procedure.id);
    let approvals: Vec<String> = approvals
        .map(|one| format!("approval on record: revision {}, by {}, on {}", one.revision.value, one.by.value, one.on.value))
        .collect();
    if approvals.is_empty() {
        line(out, 1, "no approval on record");
    }
    approvals.iter().for_each(|words| line(out, 1, words));
}

fn covered(out: &mut String, review: &Review<'_>, coverage: &Coverage) {
    line(out, 1, &tally(Tally::of(&coverage.exposures)));
    for one in &coverage.exposures {
        exposure::add(out, review.library(), &coverage.procedure, one);
    }
    for (hazard, procedure) in &coverage.elsewhere {
        line(out, 1, &format!("`{hazard}` is met in `{procedure}`, which it carries out"));
    }
    for mend in &coverage.mends {
        let fewest = if mend.smallest { "; no fewer steps do" } else { "" };
        line(
            out,
            1,
            &format!("showing the caution for `{}` at {} mends all its failures{fewest}", mend.hazard, exposure::ids(&mend.steps)),
        );
    }
    for shown in &coverage.shown {
        line(out, 1, &caution(review, coverage, shown));
    }
}

/// How long it takes to say, and what would be wrong without it.
fn caution(review: &Review<'_>, coverage: &Coverage, shown: &Shown) -> String {
    let spoken = review.library().catalogue.hazard(&shown.hazard).map(|hazard| Spoken::of(&hazard.read_aloud()));
    let long = |spoken: Spoken| if spoken.is_long() { ", longer than 15 s" } else { "" };
    let time = spoken.map(|spoken| format!(" ({:.1} s to say{})", spoken.seconds(), long(spoken))).unwrap_or_default();
    let place = |(procedure, step): (&crate::text::id::Id, &crate::text::id::Id)| {
        if *procedure == coverage.procedure { format!("`{step}`") } else { format!("`{step}` of `{procedure}`") }
    };
    let depend = match shown.uncovers.as_slice() {
        [] => "nothing depends on it".to_owned(),
        all => {
            let places: Vec<String> = all.iter().map(|(procedure, step, _)| place((procedure, step))).collect();
            format!("without it {} would be uncovered: {}", counted(all.len(), "exposure"), places.join(", "))
        }
    };
    format!("caution for `{}` at `{}`{time}: {depend}", shown.hazard, shown.step)
}

fn waiver(review: &Review<'_>, waiver: &Waiver) -> String {
    let id = |id: &Option<crate::text::place::At<crate::text::id::Id>>| id.as_ref().map_or("?", |id| id.value.as_str()).to_owned();
    let of = waiver.of.as_ref().map_or("?", |of| WaiverOf::as_str(of.value));
    let text = |text: &Option<crate::text::place::At<String>>| text.as_ref().map_or_else(|| "?".to_owned(), |text| text.value.clone());
    let last = match (&waiver.until, waiver_days_left(waiver, review.today)) {
        (Some(until), Some(left)) if left < 0 => format!("until {}, past", until.value),
        (Some(until), Some(left)) => format!("until {}, {} left", until.value, counted(usize::try_from(left).unwrap_or(0), "day")),
        _ => "without a last day".to_owned(),
    };
    let words = format!(
        "waiver at `{}` for `{}`, of `{of}`, by {}, {last}: {}",
        id(&waiver.step),
        id(&waiver.hazard),
        text(&waiver.by),
        text(&waiver.reason)
    );
    clean::line(&words).into_owned()
}
