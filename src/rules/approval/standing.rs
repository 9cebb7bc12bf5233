//! How a procedure stands: approved as it is, approved as it was, or not at all.

use crate::model::library::{Approval, Library};
use crate::model::procedure::Procedure;
use crate::rules::approval::digest::Digests;

#[derive(Clone, Debug)]
pub enum Standing<'a> {
    Missing,
    /// It was approved and has changed since. `changed` names what ([`super::digest::said`] puts a name in words); empty if that cannot be told.
    Stale {
        approval: &'a Approval,
        changed: Vec<String>,
    },
    Approved(&'a Approval),
}

/// Compares what stands in the library with the approval that counts. `digests` holds the procedure.
pub fn standing<'a>(library: &'a Library, digests: &Digests<'_>, procedure: &Procedure) -> Standing<'a> {
    let (Some(approval), Some(digest)) = (library.approval(&procedure.id), digests.get(&procedure.id)) else { return Standing::Missing };
    let same_revision = procedure.revision.as_ref().is_some_and(|revision| revision.value == approval.revision.value);
    match digest.changed_since(&approval.digest) {
        None if same_revision => Standing::Approved(approval),
        changed => Standing::Stale { approval, changed: changed.unwrap_or_default() },
    }
}
