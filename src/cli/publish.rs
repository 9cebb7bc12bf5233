//! `publish`: verifies what would be published, then writes the site.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::analyse::Verdict;
use crate::build::failure::Failure;
use crate::build::pipeline::{self, Published};
use crate::build::publish::Written;
use crate::cli::options::Options;
use crate::cli::output::Output;
use crate::cli::{Outcome, library, verify};
use crate::emit::{Report, counted};

/// Verify, then write the site; with an error nothing in the target changes
#[derive(Args)]
pub struct Arguments {
    /// The library's folder, as with `--library`
    #[arg(value_name = "LIBRARY")]
    folder: Option<PathBuf>,
    /// Where the site goes: a new or empty folder, or one that holds a site written before
    #[arg(long, value_name = "DIR", required = true)]
    to: PathBuf,
    /// Add procedures that are not released, each under a banner, in a site marked as not for use
    #[arg(long)]
    unreleased: bool,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder = library::find(&disk, asked.folder.as_ref(), options)?;
    match pipeline::publish(&disk, &folder, &asked.to, asked.unreleased)? {
        Published::Refused(verdict) => {
            report(&verdict, asked.unreleased, options, output)?;
            output.note(&format!("nothing was published; `{}` is as it was", asked.to.display()));
            Ok(Outcome::Errors)
        }
        Published::Written(verdict, written) => {
            report(&verdict, asked.unreleased, options, output)?;
            tell(&written, asked, output);
            Ok(Outcome::Done)
        }
    }
}

/// Prints the findings of what is published and sums them up.
fn report(verdict: &Verdict, unreleased: bool, options: &Options, output: &Output) -> Result<(), Failure> {
    let judged = pipeline::judged(verdict, unreleased);
    let procedures = judged.procedures.len();
    let report = Report { library: &verdict.library, findings: judged.findings, not_analysed: judged.not_analysed, procedures };
    verify::print(&report, options.format, output)?;
    verify::sum_up(&report, output);
    Ok(())
}

fn tell(written: &Written, asked: &Arguments, output: &Output) {
    let target: &Path = &asked.to;
    output.note(&format!("wrote {} to `{}`", counted(written.files, "file"), target.display()));
    if asked.unreleased {
        output.note("the site is marked as not for use: it may hold procedures that are not released");
    }
    if written.carried > 0 {
        output.note(&format!("kept {} there that Stepward did not write", counted(written.carried, "file")));
    }
    for path in &written.changed {
        output.note(&format!("`{path}` had been changed since it was published; that change is gone"));
    }
    if let Some(path) = &written.left_over {
        output.note(&format!("the site before could not be cleared away; it lies in `{}` and can be removed", path.display()));
    }
}
