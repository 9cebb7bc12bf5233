//! What a reviewer is shown of a library: its exposures and how each is covered, and everything that somebody decided instead of the proof.
//! Counted here once, for the terminal, for JSON and for the pages.

pub mod conditions;
pub mod json;
pub mod sarif;
pub mod short;
pub mod speech;
pub mod text;

use jiff::civil::Date;

use crate::emit::Report;
use crate::finding::{Rule, Severity, rule};
use crate::flow::coverage::{Coverage, Exposure};
use crate::model::library::{Library, RuleSetting};
use crate::model::procedure::{Denial, Procedure, Waiver};
use crate::text::id::Id;

/// The part of a library that is reviewed: what publishing would judge. Withdrawn procedures have no steps to review and are left out.
#[derive(Clone, Debug)]
pub struct Review<'a> {
    pub report: Report<'a>,
    /// In the order of the library.
    pub procedures: Vec<&'a Procedure>,
    pub coverage: Vec<&'a Coverage>,
    /// The day that last days and review dates are compared with.
    pub today: Date,
    /// Procedures that are not released are in it.
    pub unreleased: bool,
}

/// What no analysis can prove: keys of the theme's words, in the order in which they are read.
pub const UNPROVED: [&str; 7] = ["catalogue", "declared", "understood", "truth", "conditions", "ways", "follower"];

/// How many exposures there are of each kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// All of them: proven, failed and unreachable.
    pub exposures: usize,
    pub proven: usize,
    pub failed: usize,
    /// No way leads there: neither proven nor failed.
    pub unreachable: usize,
    /// Among those that are proven or failed: a waiver lifts a demand of the hazard.
    pub waived: usize,
}

impl Tally {
    pub fn of<'e>(exposures: impl IntoIterator<Item = &'e Exposure>) -> Self {
        let mut tally = Self::default();
        for exposure in exposures {
            tally.exposures += 1;
            match (exposure.reachable, exposure.proven) {
                (false, _) => tally.unreachable += 1,
                (true, true) => tally.proven += 1,
                (true, false) => tally.failed += 1,
            }
            tally.waived += usize::from(exposure.reachable && is_waived(exposure));
        }
        tally
    }

    /// Those that some way leads to.
    pub fn reached(self) -> usize {
        self.proven + self.failed
    }
}

pub fn is_waived(exposure: &Exposure) -> bool {
    exposure.least_waived || exposure.requires_waived
}

/// A denial and where it stands.
#[derive(Clone, Copy, Debug)]
pub struct Denied<'a> {
    /// `None`: on the procedure.
    pub step: Option<&'a Id>,
    /// `not-touching` or `not-changing`.
    pub key: &'static str,
    pub denial: &'a Denial,
}

impl<'a> Review<'a> {
    /// Leaves out of `coverage` what is not among the judged `procedures`.
    pub fn new(report: Report<'a>, judged: impl Fn(&Id) -> bool, coverage: &'a [Coverage], today: Date, unreleased: bool) -> Self {
        let procedures = report.library.procedures.iter().filter(|procedure| judged(&procedure.id) && !procedure.is_withdrawn()).collect();
        let coverage = coverage.iter().filter(|coverage| judged(&coverage.procedure)).collect();
        Self { report, procedures, coverage, today, unreleased }
    }

    pub fn library(&self) -> &'a Library {
        self.report.library
    }

    /// `None` for a procedure whose paths could not be judged.
    pub fn coverage_of(&self, procedure: &Id) -> Option<&'a Coverage> {
        self.coverage.binary_search_by(|coverage| coverage.procedure.cmp(procedure)).ok().map(|index| self.coverage[index])
    }

    /// `None` for a procedure that is not under review.
    pub fn procedure(&self, id: &Id) -> Option<&'a Procedure> {
        self.procedures.binary_search_by(|procedure| procedure.id.cmp(id)).ok().map(|index| self.procedures[index])
    }

    pub fn total(&self) -> Tally {
        Tally::of(self.coverage.iter().flat_map(|coverage| &coverage.exposures))
    }

    /// Rules that `library.yaml` lowers, each with its own severity and the one it has now.
    pub fn lowered(&self) -> Vec<(&'static Rule, Severity, &'a RuleSetting)> {
        let lower = |setting: &'a RuleSetting| {
            let known = rule::by_name(setting.rule.as_str())?;
            let severities = [Severity::Error, Severity::Warning, Severity::Note];
            let now = severities.into_iter().find(|it| setting.severity.as_ref().is_some_and(|word| word.value == it.as_str()))?;
            (now > known.severity).then_some((known, now, setting))
        };
        self.library().settings.rules.iter().filter_map(lower).collect()
    }

    /// Procedures by the day they are due for review, the earliest first, those without one last; with the days left, negative once past.
    pub fn due(&self) -> Vec<(&'a Procedure, Option<i64>)> {
        let mut due: Vec<_> = self
            .procedures
            .iter()
            .map(|procedure| (*procedure, procedure.review_by.as_ref().map(|day| days_left(self.today, day.value))))
            .collect();
        due.sort_by_key(|(procedure, left)| (left.is_none(), *left, procedure.id.clone()));
        due
    }

    /// The hazards of the catalogue by signal word, those of one word in the order of the catalogue.
    pub fn hazards(&self) -> Vec<&'a crate::model::catalogue::Hazard> {
        let mut hazards: Vec<_> = self.library().catalogue.hazards.iter().collect();
        hazards.sort_by_key(|hazard| (hazard.signal().is_none(), hazard.signal()));
        hazards
    }
}

/// Days from `today` to the last day; 0 on that day, negative after it.
pub fn days_left(today: Date, last: Date) -> i64 {
    // `until` with days as its largest unit fails for no two dates that can be written.
    today.until(last).map_or(0, |span| i64::from(span.get_days()))
}

pub fn waiver_days_left(waiver: &Waiver, today: Date) -> Option<i64> {
    waiver.until.as_ref().map(|until| days_left(today, until.value))
}

/// Everything a procedure denies, in file order: its own, then step by step.
pub fn denials(procedure: &Procedure) -> Vec<Denied<'_>> {
    let own = procedure.not_touching.iter().map(|denial| Denied { step: None, key: "not-touching", denial });
    let of_steps = procedure.steps.iter().flat_map(|step| {
        let touching = step.not_touching.iter().map(|denial| Denied { step: Some(&step.id), key: "not-touching", denial });
        touching.chain(step.not_changing.iter().map(|denial| Denied { step: Some(&step.id), key: "not-changing", denial }))
    });
    own.chain(of_steps).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_are_counted_across_months_and_leap_years() {
        assert_eq!(days_left(date(2026, 11, 25), date(2026, 11, 25)), 0);
        assert_eq!(days_left(date(2026, 11, 25), date(2026, 11, 24)), -1);
        // 2028 has a 29 February.
        assert_eq!(days_left(date(2028, 2, 28), date(2028, 3, 1)), 2);
        assert_eq!(days_left(date(2026, 11, 25), date(2027, 11, 25)), 365);
    }
}
