//! `preview`: shows a library's pages in a browser on this computer, and shows them anew as files change, until it is stopped.

use std::io;
use std::path::PathBuf;

use clap::Args;

use crate::build::disk::Disk;
use crate::build::failure::Failure;
use crate::build::world::World as _;
use crate::cli::options::{Format, Options};
use crate::cli::output::Output;
use crate::cli::{Outcome, library, verify};
use crate::emit::{Report, clean};
use crate::preview::server::{self, Port};
use crate::preview::shelf::Shelf;
use crate::preview::{self, Shown};
use crate::theme;

/// The port that is taken if none is asked for.
const USUAL: u16 = 4780;

/// Show the pages in a browser on this computer, anew as files change, until stopped
#[derive(Args)]
pub struct Arguments {
    /// The library's folder, as with `--library`
    #[arg(value_name = "LIBRARY")]
    folder: Option<PathBuf>,
    /// The port on 127.0.0.1; 0 takes any that is free [default: 4780, or the next that is free]
    #[arg(long, value_name = "N")]
    port: Option<u16>,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder = library::find(&disk, asked.folder.as_ref(), options)?;
    let port = port(asked.port, output)?;
    let words = theme::words().map_err(|fault| Failure::Other(fault.to_string()))?;
    let name = format!("{}/", folder.display().to_string().trim_end_matches('/'));
    let first = Shelf::empty(words, &name, disk.today).next(disk.library(&folder), disk.today).ok_or(Failure::NothingReleased)?;
    let told = teller(options.format, output.clone());
    told(&first);
    let (shown, editions) = Shown::new(first);
    let options = options.clone();
    preview::keep_current(shown.clone(), editions, folder, move || -> Result<Disk, Failure> { options.disk() }, told);
    let address = format!("preview at http://127.0.0.1:{}/ until stopped (Ctrl-C)", port.number);
    server::serve(port, shown, || output.note(&address))
        .map_err(|error| Failure::Other(format!("the preview cannot be served: {error}")))?;
    Ok(Outcome::Done)
}

fn port(asked: Option<u16>, output: &Output) -> Result<Port, Failure> {
    let number = asked.unwrap_or(USUAL);
    match (server::take(number), asked) {
        (Ok(port), _) => Ok(port),
        (Err((error, Some(next))), None) if error.kind() == io::ErrorKind::AddrInUse => {
            output.note(&format!("port {number} is in use, so {next} is taken"));
            server::take(next).map_err(|(error, _)| refused(next, &error, None))
        }
        (Err((error, next)), _) => Err(refused(number, &error, next)),
    }
}

fn refused(number: u16, error: &io::Error, next: Option<u16>) -> Failure {
    let why = if error.kind() == io::ErrorKind::AddrInUse { "is in use".to_owned() } else { format!("cannot be taken: {error}") };
    let offer = next.map(|next| format!("; {next} is free: `--port {next}`")).unwrap_or_default();
    Failure::Other(format!("port {number} {why}{offer}"))
}

/// Prints each edition's findings as `verify` does.
fn teller(format: Format, output: Output) -> impl Fn(&Shelf) + Send + 'static {
    move |shelf| {
        if let Some(failure) = shelf.failure() {
            return output.note(&clean::line(&failure.to_string()));
        }
        let Some(verdict) = shelf.verdict() else { return };
        let report = Report {
            library: &verdict.library,
            findings: verdict.findings.iter().collect(),
            not_analysed: verdict.not_analysed.iter().collect(),
            procedures: verdict.library.procedures.len(),
        };
        // Whoever closed standard output still looks at the pages.
        let _ = verify::print(&report, format, &output);
        verify::sum_up(&report, &output);
    }
}
