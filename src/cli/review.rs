//! `review`: what a reviewer sees of what publishing would judge; with `--to` as pages, too.

use std::path::PathBuf;

use clap::Args;

use crate::build::failure::Failure;
use crate::build::pipeline;
use crate::build::publish::Written;
use crate::cli::options::{Format, Options};
use crate::cli::output::Output;
use crate::cli::{Outcome, library, verify};
use crate::emit::review::{self, Review};
use crate::emit::{clean, counted};
use crate::finding::Severity;
use crate::theme;

/// Show the safety review: exposures, how each is covered, waivers, denials, approvals
#[derive(Args)]
pub struct Arguments {
    /// The library's folder, as with `--library`
    #[arg(value_name = "LIBRARY")]
    folder: Option<PathBuf>,
    /// Review procedures that are not released, too
    #[arg(long)]
    unreleased: bool,
    /// Write the review pages alone, marked as not for use, even if there are errors: into a new or empty folder, or one that holds such pages
    #[arg(long, value_name = "DIR")]
    to: Option<PathBuf>,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder = library::find(&disk, asked.folder.as_ref(), options)?;
    let reviewed = pipeline::review(&disk, &folder, asked.unreleased)?;
    let review = reviewed.review();
    if review.procedures.is_empty() {
        output.note("no procedure is released, so there is none to review; `--unreleased` adds the others");
    }
    print(&review, options.format, output)?;
    if let Some(target) = &asked.to {
        let written = pipeline::write_review(&disk, &folder, target, &review)?;
        tell(&written, target, output);
    }
    verify::sum_up(&review.report, output);
    Ok(if review.report.count(Severity::Error) > 0 { Outcome::Errors } else { Outcome::Done })
}

fn print(review: &Review<'_>, format: Format, output: &Output) -> Result<(), Failure> {
    let words = theme::words().map_err(|fault| Failure::Other(fault.to_string()))?;
    let unproved: Vec<&str> = review::UNPROVED.iter().map(|key| words.say("unproved", key)).collect();
    output.print(&match format {
        Format::Text => review::text::text(review, &unproved, output.styled()),
        Format::Short => review::short::short(review),
        Format::Json => review::json::json(review, &unproved),
        Format::Sarif => review::sarif::sarif(review),
    })
}

fn tell(written: &Written, target: &std::path::Path, output: &Output) {
    output.note(&format!("wrote {} to `{}`, marked as not for use", counted(written.files, "file"), target.display()));
    if written.carried > 0 {
        output.note(&format!("kept {} there that Stepward did not write", counted(written.carried, "file")));
    }
    for path in &written.changed {
        output.note(&format!("`{}` had been changed since it was written; that change is gone", clean::line(path)));
    }
    if let Some(path) = &written.left_over {
        output.note(&format!("the pages before could not be cleared away; they lie in `{}` and can be removed", path.display()));
    }
}
