//! Runs the rules over a library that was read, and opens the gate to publishing.

pub mod gate;

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::finding::Findings;
use crate::model::library::Library;
use crate::rules::{self, Context};
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
pub fn analyse(library: Library, reading: Findings, today: Date) -> Verdict {
    let misread: BTreeSet<Id> = reading.iter().filter_map(|finding| finding.procedure.clone()).collect();
    let mut findings = reading;
    let context = Context { library: &library, today, misread: &misread };
    for check in rules::flow::CHECKS.iter().chain(rules::safety::CHECKS).chain(rules::words::CHECKS) {
        check(&context, &mut findings);
    }
    findings.sort(&library.sources);
    Verdict { library, findings, not_analysed: Vec::new() }
}
