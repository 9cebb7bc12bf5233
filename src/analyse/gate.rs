//! The gate. A [`Cleared`] value is the only ticket to publishing, and only this file makes one.

use std::collections::BTreeSet;

use crate::analyse::Verdict;
use crate::finding::{Finding, Group, Severity};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::text::id::Id;

/// Something that passed every rule. Its field is private: it cannot be made elsewhere.
#[derive(Clone, Debug)]
pub struct Cleared<T> {
    inner: T,
    unreleased: bool,
}

impl Cleared<Library> {
    /// The library as it may be published: only procedures that were judged.
    pub fn library(&self) -> &Library {
        &self.inner
    }

    /// Whether procedures that are not released are in it; every page of such a site says that it is not for use.
    pub fn unreleased(&self) -> bool {
        self.unreleased
    }
}

/// Opens the gate, or gives the errors that keep it shut.
///
/// Judged is what would be published (released and withdrawn procedures; with `unreleased` all) and all that it carries out, and whatever is
/// wrong with the library itself.
pub fn clear(verdict: &Verdict, unreleased: bool) -> Result<Cleared<Library>, Vec<&Finding>> {
    let published = published(&verdict.library, unreleased);
    let errors: Vec<&Finding> = verdict
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error && finding.procedure.as_ref().is_none_or(|id| published.contains(id)))
        .collect();
    if !errors.is_empty() || verdict.not_analysed.iter().any(|id| published.contains(id)) {
        return Err(errors);
    }
    let mut library = verdict.library.clone();
    library.procedures.retain(|procedure| published.contains(&procedure.id));
    Ok(Cleared { inner: library, unreleased })
}

/// For the preview, which shows each procedure as soon as it is sound: those without an error in them and in all that they carry out. Whether they are
/// approved is not asked, as each change voids that; so every page of it says that it is not for use. `None` if the library itself is in doubt.
pub fn sound(verdict: &Verdict) -> Option<Cleared<Library>> {
    let mut broken: BTreeSet<&Id> = verdict.not_analysed.iter().collect();
    for finding in verdict.findings.iter().filter(|finding| stops_preview(finding)) {
        broken.insert(finding.procedure.as_ref()?);
    }
    loop {
        let rests_on_broken = |procedure: &&Procedure| !broken.contains(&procedure.id) && procedure.callees().any(|id| broken.contains(id));
        let callers: Vec<&Id> = verdict.library.procedures.iter().filter(rests_on_broken).map(|procedure| &procedure.id).collect();
        if callers.is_empty() {
            break;
        }
        broken.extend(callers);
    }
    let mut library = verdict.library.clone();
    library.procedures.retain(|procedure| !broken.contains(&procedure.id));
    Some(Cleared { inner: library, unreleased: true })
}

fn stops_preview(finding: &Finding) -> bool {
    finding.severity == Severity::Error && finding.rule.group != Group::Approval
}

/// The ids of the procedures that would be published, and of all that these carry out.
pub fn published(library: &Library, unreleased: bool) -> BTreeSet<Id> {
    let starts = |procedure: &&Procedure| unreleased || matches!(procedure.status, Status::Released | Status::Withdrawn);
    let mut open: Vec<&Procedure> = library.procedures.iter().filter(starts).collect();
    let mut found = BTreeSet::new();
    while let Some(procedure) = open.pop() {
        // A withdrawn procedure is published as a page that says so; what it once carried out is not shown.
        if found.insert(procedure.id.clone()) && !procedure.is_withdrawn() {
            open.extend(procedure.callees().filter_map(|id| library.procedure(id)));
        }
    }
    found
}
