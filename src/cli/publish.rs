//! `publish`: verifies what would be published, then writes the site.

use std::mem::ManuallyDrop;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::analyse::Verdict;
use crate::build::again::{Again, Came, Last, Wish};
use crate::build::failure::Failure;
use crate::build::pipeline::{self, Published};
use crate::build::publish::Written;
use crate::cli::options::{Format, Options};
use crate::cli::output::Output;
use crate::cli::progress::Progress;
use crate::cli::{Outcome, library, verify};
use crate::emit::{Report, counted};
use crate::model::library::Library;

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
    let wish = Wish { library: &folder, target: &asked.to, today: disk.today, unreleased: asked.unreleased };
    let again = cache().and_then(|cache| Again::look(&cache, &wish));
    match again.as_ref().map_or(Last::Other, |again| again.last(&asked.to)) {
        // Other forms hold more than findings.
        Last::Same(came) if matches!(options.format, Format::Text | Format::Short) => {
            nothing_changed(came, asked, output);
            return Ok(Outcome::Done);
        }
        Last::Damaged => output.note("what was remembered of the last publishing cannot be used; it is made anew"),
        Last::Same(_) | Last::Other => {}
    }
    let progress = Progress::new(output.is_quiet());
    let published = pipeline::publish(&disk, &folder, &asked.to, asked.unreleased, &|stage| progress.at(stage));
    drop(progress);
    match published? {
        Published::Refused(verdict) => {
            if let Some(again) = again {
                again.forget();
            }
            report(&verdict, asked.unreleased, options, output)?;
            output.note(&format!("nothing was published; `{}` is as it was", asked.to.display()));
            Ok(Outcome::Errors)
        }
        Published::Written(verdict, written) => {
            // The process ends next: to take a library apart piece by piece would be for nobody.
            let verdict = ManuallyDrop::new(verdict);
            let shown = report(&verdict, asked.unreleased, options, output)?;
            tell(&written, asked, output);
            if let Some(again) = again {
                match shown {
                    Shown { procedures, findings: 0 } => {
                        again.keep(&asked.to, Came { procedures, files: written.files, carried: written.carried })
                    }
                    Shown { .. } => again.forget(),
                }
            }
            Ok(Outcome::Done)
        }
    }
}

/// The user's folder for cached files, unless `STEPWARD_CACHE` names another one, or none.
fn cache() -> Option<PathBuf> {
    match std::env::var_os("STEPWARD_CACHE") {
        Some(none) if none.is_empty() => None,
        Some(folder) => Some(PathBuf::from(folder)),
        None => dirs::cache_dir(),
    }
}

/// Says what publishing again would say.
fn nothing_changed(came: Came, asked: &Arguments, output: &Output) {
    let library = Library::default();
    verify::sum_up(&Report { library: &library, findings: Vec::new(), not_analysed: Vec::new(), procedures: came.procedures }, output);
    tell(&Written { files: came.files, carried: came.carried, ..Written::default() }, asked, output);
}

/// What was shown of a library.
struct Shown {
    procedures: usize,
    findings: usize,
}

/// Prints the findings of what is published and sums them up.
fn report(verdict: &Verdict, unreleased: bool, options: &Options, output: &Output) -> Result<Shown, Failure> {
    let judged = pipeline::judged(verdict, unreleased);
    let procedures = judged.procedures.len();
    let report = Report { library: &verdict.library, findings: judged.findings, not_analysed: judged.not_analysed, procedures };
    let shown = Shown { procedures, findings: report.findings.len() + report.not_analysed.len() };
    verify::print(&report, options.format, output)?;
    verify::sum_up(&report, output);
    Ok(shown)
}

fn tell(written: &Written, asked: &Arguments, output: &Output) {
    let target: &Path = &asked.to;
    output.note(&match written.written {
        0 => format!("nothing changed: {} stand in `{}` as they were", counted(written.files, "file"), target.display()),
        all if all == written.files => format!("wrote {} to `{}`", counted(written.files, "file"), target.display()),
        some => format!("wrote {some} of {} to `{}`, the others stand there unchanged", counted(written.files, "file"), target.display()),
    });
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
