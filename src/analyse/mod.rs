//! Runs the rules over a library that was read, and opens the gate to publishing.

pub mod approving;
pub mod coverage;
pub mod gate;
pub mod settings;

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::finding::Findings;
use crate::flow::deep::{deeply, deeply_each};
use crate::flow::proof::Programs;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::rules::known::{Known, Remembered};
use crate::rules::{self, Context, paths};
use crate::text::id::Id;

/// A library and everything that was found about it.
#[derive(Clone, Debug)]
pub struct Verdict {
    pub library: Library,
    /// In the order in which they are shown.
    pub findings: Findings,
    /// Procedures whose paths could not be judged because something in them, or in what they carry out, is broken.
    pub not_analysed: Vec<Id>,
}

/// Judges a library. `reading` are the findings of its reading.
///
/// First every rule that needs no path; then, for the procedures in which (and below which) nothing is broken, the rules that do.
///
/// Procedures may carry each other out in long chains: so the analysis has a large stack of its own.
pub fn analyse(library: Library, reading: Findings, today: Date) -> Verdict {
    deeply(move || judge(library, reading, today, None))
}

/// The same, for a library that is judged again and again: `known` keeps what was found about its procedures, and what is found now. For the preview alone: what
/// is published rests on no memory.
pub fn analyse_again(library: Library, reading: Findings, today: Date, known: &Known) -> Verdict {
    let verdict = deeply(move || judge(library, reading, today, Some(known)));
    known.forget_unused();
    verdict
}

fn judge(library: Library, reading: Findings, today: Date, known: Option<&Known>) -> Verdict {
    let misread: BTreeSet<Id> = reading.iter().filter_map(|finding| finding.procedure.clone()).collect();
    let remembered = known.map(|known| Remembered::new(known, &library, today, &misread));
    let context = Context { library: &library, today, misread: &misread, remembered: remembered.as_ref() };
    // Those that read words and make digests take longest: begun last they would leave one thread alone.
    let words = rules::words::CHECKS.iter().rev();
    let own: Vec<_> = words.chain(rules::approval::CHECKS).chain(rules::safety::CHECKS).chain(rules::flow::CHECKS).collect();
    // Each sees what reading found and nothing else, so that they can be asked side by side.
    let found = deeply_each(own.len(), |index| {
        let mut findings = reading.clone();
        own[index](&context, &mut findings);
        findings.since(reading.len())
    });
    let mut findings = reading;
    found.into_iter().for_each(|found| findings.extend(found));
    let waived = paths::waived(&library, &findings);
    let programs = Programs::new(&library, &waived);
    rules::flow::outcome_unmapped::check(&context, &programs, &paths::broken(&library, &findings), &mut findings);
    let broken = paths::broken(&library, &findings);
    paths::check(&context, &waived, &broken, &mut findings);
    rules::safety::caution_idle::check(&context, &programs, &broken, &mut findings);
    settings::apply(&library, &mut findings);
    findings.sort(&library.sources);
    let withdrawn = |id: &Id| library.procedure(id).is_some_and(Procedure::is_withdrawn);
    let not_analysed = broken.iter().filter(|id| !withdrawn(id)).cloned().collect();
    Verdict { library, findings, not_analysed }
}
