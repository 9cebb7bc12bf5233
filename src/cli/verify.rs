//! `verify`: reads the library, runs every rule, prints findings. Writes nothing.

use std::mem::ManuallyDrop;
use std::path::PathBuf;

use clap::Args;

use crate::build::failure::Failure;
use crate::build::pipeline;
use crate::cli::options::{Format, Options};
use crate::cli::output::Output;
use crate::cli::{Outcome, library};
use crate::emit::{self, Report};

/// Read a library, run every rule and print what is found; writes nothing
#[derive(Args)]
pub struct Arguments {
    /// The library's folder, as with `--library`
    #[arg(value_name = "DIR")]
    folder: Option<PathBuf>,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder = library::find(&disk, asked.folder.as_ref(), options)?;
    // The process ends next: to take a library apart piece by piece would be for nobody.
    let verdict = ManuallyDrop::new(pipeline::verify(&disk, &folder)?);
    let report = Report {
        library: &verdict.library,
        findings: verdict.findings.iter().collect(),
        not_analysed: verdict.not_analysed.iter().collect(),
        procedures: verdict.library.procedures.len(),
    };
    print(&report, options.format, output)?;
    sum_up(&report, output);
    Ok(if verdict.findings.has_error() { Outcome::Errors } else { Outcome::Done })
}

/// Prints findings in the form that was asked for.
pub fn print(report: &Report<'_>, format: Format, output: &Output) -> Result<(), Failure> {
    output.print(&match format {
        Format::Text => emit::text::text(report, output.styled()),
        Format::Short => emit::short::short(report),
        Format::Json => emit::json::json(report),
        Format::Sarif => emit::sarif::sarif(report, &[]),
    })
}

/// Says on standard error what was not judged, and last how many findings there are.
pub fn sum_up(report: &Report<'_>, output: &Output) {
    if let Some(words) = report.left_out() {
        output.note(&words);
    }
    output.note(&report.summary());
}
