//! `unknown-part`: a name that should be a part of the catalogue and is none.

use crate::finding::Findings;
use crate::finding::rule::UNKNOWN_PART;
use crate::rules::Context;
use crate::rules::safety::mention::{Sort, report_unknown};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    report_unknown(context.library, Sort::Part, &UNKNOWN_PART, findings);
}
