//! The stages of a build in their order. Read this file second, after `lib.rs`.
//!
//! ```text
//! folder -> read -> analyse -> gate -> render -> publish
//! ```
//!
//! Each stage takes what the one before it made. Only the first and the last touch the outside, through a [`World`].

use std::collections::BTreeSet;
use std::path::Path;

use jiff::civil::Date;

use crate::analyse::gate;
use crate::analyse::{self, Verdict};
use crate::build::failure::Failure;
use crate::build::publish::{self, Put, Site, Written};
use crate::build::world::World;
use crate::emit::Report;
use crate::emit::review::Review;
use crate::finding::Finding;
use crate::flow::coverage::Coverage;
use crate::read;
use crate::render;
use crate::render::drawings::Drawings;
use crate::text::folder::Folder;
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

/// What a long build is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    Reading,
    Judging,
    /// Setting pages and writing them.
    Setting,
}

/// Verifies a library and, if nothing that would be published has an error, writes its site to `target`. `at` hears of each stage as it begins.
///
/// # Errors
/// The library cannot be read, there is nothing to publish, or the site cannot be written; then the target is as it was.
pub fn publish(world: &dyn World, library: &Path, target: &Path, unreleased: bool, at: &dyn Fn(Stage)) -> Result<Published, Failure> {
    at(Stage::Reading);
    let folder = world.library(library)?;
    at(Stage::Judging);
    let verdict = judge(&folder, world.today());
    let Ok(cleared) = gate::clear(&verdict, unreleased) else { return Ok(Published::Refused(verdict)) };
    if cleared.library().procedures.is_empty() {
        return Err(Failure::NothingReleased);
    }
    at(Stage::Setting);
    let coverage = analyse::coverage::coverage(&verdict);
    let review = reviewed(&verdict, &coverage, world.today(), unreleased);
    let pictures = folder.files_below("pictures");
    let known = Drawings::default();
    let each = |put: &Put<'_>| render::site::each(&cleared, &review, &pictures, &known, &|path, bytes| put(path, bytes));
    let written = publish::publish(world, library, target, &Site { files: Box::new(each), unreleased, review: false })?;
    Ok(Published::Written(verdict, written))
}

/// A verdict with all that a reviewer is shown of it.
pub struct Reviewed {
    verdict: Verdict,
    coverage: Vec<Coverage>,
    today: Date,
    unreleased: bool,
}

impl Reviewed {
    pub fn review(&self) -> Review<'_> {
        reviewed(&self.verdict, &self.coverage, self.today, self.unreleased)
    }
}

/// Judges a library for its reviewer. Errors in it are part of what he sees.
///
/// # Errors
/// The library cannot be read.
pub fn review(world: &dyn World, library: &Path, unreleased: bool) -> Result<Reviewed, Failure> {
    let verdict = verify(world, library)?;
    let coverage = analyse::coverage::coverage(&verdict);
    Ok(Reviewed { verdict, coverage, today: world.today(), unreleased })
}

/// Writes the review pages alone to `target`, marked as not for use. There is no procedure in them to follow, so the gate is not asked.
///
/// # Errors
/// They cannot be written, or the target holds something else; then it is as it was.
pub fn write_review(world: &dyn World, library: &Path, target: &Path, review: &Review<'_>) -> Result<Written, Failure> {
    publish::publish(world, library, target, &Site::of(render::review(review), true, true))
}

/// The review of the part of a verdict that publishing is about.
pub fn reviewed<'a>(verdict: &'a Verdict, coverage: &'a [Coverage], today: Date, unreleased: bool) -> Review<'a> {
    let judged = judged(verdict, unreleased);
    let procedures = judged.procedures;
    let report =
        Report { library: &verdict.library, findings: judged.findings, not_analysed: judged.not_analysed, procedures: procedures.len() };
    Review::new(report, |id| procedures.contains(id), coverage, today, unreleased)
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
