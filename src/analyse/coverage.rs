//! What a reviewer sees of every procedure that could be judged.

use crate::analyse::Verdict;
use crate::flow::coverage::Coverage;
use crate::flow::deep::deeply;
use crate::flow::proof::Programs;
use crate::model::procedure::Procedure;
use crate::rules::paths;
use crate::text::id::Id;

/// The coverage of every procedure, by id. Those that are withdrawn or were not analysed are left out.
pub fn coverage(verdict: &Verdict) -> Vec<Coverage> {
    deeply(|| {
        let library = &verdict.library;
        let waived = paths::waived(library, &verdict.findings);
        let unjudged = |procedure: &&Procedure| procedure.is_withdrawn() || verdict.not_analysed.contains(&procedure.id);
        let left_out: Vec<Id> = library.procedures.iter().filter(unjudged).map(|procedure| procedure.id.clone()).collect();
        let programs = Programs::new(library, &waived).leaving_out(left_out);
        library.procedures.iter().filter(|procedure| !unjudged(procedure)).map(|procedure| programs.coverage(procedure)).collect()
    })
}
