//! The stages of a build in their order. Read this file second, after `lib.rs`.
//!
//! ```text
//! folder -> read -> analyse -> gate -> render -> publish
//! ```
//!
//! Each stage takes what the one before it made. Only the first and the last touch the outside, through a [`World`].

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use jiff::civil::Date;

use crate::analyse::{self, Verdict, gate};
use crate::build::failure::Failure;
use crate::build::publish::{self, Site, Written};
use crate::build::world::World;
use crate::finding::Finding;
use crate::read;
use crate::render;
use crate::text::folder::{Entry, Folder};
use crate::text::id::Id;

/// Reads a library and runs every rule over it.
///
/// # Errors
/// The library cannot be read. Whatever is wrong *in* it is a finding.
pub fn verify(world: &dyn World, library: &Path) -> Result<Verdict, Failure> {
    Ok(judge(&world.library(library)?, world.today()))
}

/// Reads what lies in a folder and runs every rule over it.
pub fn judge(folder: &Folder, today: Date) -> Verdict {
    let (library, findings) = read::read(folder);
    analyse::analyse(library, findings, today)
}

/// What became of a wish to publish.
pub enum Published {
    Written(Verdict, Written),
    /// Errors stand; nothing was written.
    Refused(Verdict),
}

/// Verifies a library and, if nothing that would be published has an error, writes its site to `target`.
///
/// # Errors
/// The library cannot be read, there is nothing to publish, or the site cannot be written; then the target is as it was.
pub fn publish(world: &dyn World, library: &Path, target: &Path, unreleased: bool) -> Result<Published, Failure> {
    let folder = world.library(library)?;
    let verdict = judge(&folder, world.today());
    let Ok(cleared) = gate::clear(&verdict, unreleased) else { return Ok(Published::Refused(verdict)) };
    if cleared.library().procedures.is_empty() {
        return Err(Failure::NothingReleased);
    }
    let files = render::site(&cleared, pictures(folder), world.today());
    let written = publish::publish(world, library, target, Site { files, unreleased })?;
    Ok(Published::Written(verdict, written))
}

/// The bytes of the library's pictures, by path.
fn pictures(folder: Folder) -> BTreeMap<String, Vec<u8>> {
    let picture = |(path, entry)| match entry {
        Entry::File(bytes) => Some((path, bytes)),
        _ => None,
    };
    folder.entries.into_iter().filter(|(path, _)| path.starts_with("pictures/")).filter_map(picture).collect()
}

/// The part of a verdict that publishing is about: what would be published, all that it carries out, and the library itself.
pub struct Judged<'a> {
    pub findings: Vec<&'a Finding>,
    pub not_analysed: Vec<&'a Id>,
    pub procedures: BTreeSet<Id>,
}

pub fn judged(verdict: &Verdict, unreleased: bool) -> Judged<'_> {
    let procedures = gate::published(&verdict.library, unreleased);
    let about = |finding: &&Finding| finding.procedure.as_ref().is_none_or(|id| procedures.contains(id));
    Judged {
        findings: verdict.findings.iter().filter(about).collect(),
        not_analysed: verdict.not_analysed.iter().filter(|id| procedures.contains(*id)).collect(),
        procedures,
    }
}
