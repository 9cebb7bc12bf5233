//! What a reviewer sees of every procedure that could be judged.

use crate::analyse::Verdict;
use crate::flow::coverage::Coverage;
use crate::flow::deep::deeply_each;
use crate::flow::proof::Programs;
use crate::model::procedure::Procedure;
use crate::rules::paths;
use crate::text::id::Id;

/// Fewer procedures are not worth a thread.
const PART: usize = 8;

/// The coverage of every procedure, by id. Those that are withdrawn or were not analysed are left out.
pub fn coverage(verdict: &Verdict) -> Vec<Coverage> {
    let library = &verdict.library;
    let waived = paths::waived(library, &verdict.findings);
    let unjudged = |procedure: &&Procedure| procedure.is_withdrawn() || verdict.not_analysed.contains(&procedure.id);
    let left_out: Vec<Id> = library.procedures.iter().filter(unjudged).map(|procedure| procedure.id.clone()).collect();
    let judged: Vec<&Procedure> = library.procedures.iter().filter(|procedure| !unjudged(procedure)).collect();
    // What a part makes ready it keeps to itself; a large part makes little ready twice.
    let parts: Vec<&[&Procedure]> = judged.chunks(judged.len().div_ceil(rayon::current_num_threads()).max(PART)).collect();
    let covered = |part: usize| {
        let programs = Programs::new(library, &waived).leaving_out(left_out.clone());
        parts[part].iter().map(|procedure| programs.coverage(procedure)).collect::<Vec<_>>()
    };
    deeply_each(parts.len(), covered).into_iter().flatten().collect()
}
