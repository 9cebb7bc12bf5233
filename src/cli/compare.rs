//! `compare`: what changed between two libraries in meaning, safety first.

use std::collections::BTreeMap;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

use clap::Args;

use crate::analyse::Verdict;
use crate::build::disk::Disk;
use crate::build::failure::Failure;
use crate::build::world::World;
use crate::build::{git, pipeline, sheet};
use crate::cli::Outcome;
use crate::cli::library::MARK;
use crate::cli::options::{Format, Options};
use crate::cli::output::Output;
use crate::compare::{self, Judged};
use crate::emit::comparison::{Told, json, short, text};
use crate::render::comparison;
use crate::text::folder::{Entry, Folder};

/// Tell what changed between two libraries in meaning, safety first; ends with 1 if anything did
///
/// OLD and NEW are folders, or git revisions written `REV:` (the library is found there as it is here) or `REV:path/to/library`. The work tree is not
/// touched. A folder whose name holds a colon is written with `./` before it.
#[derive(Args)]
pub struct Arguments {
    /// The library as it was: a folder, `REV:` or `REV:path/to/library`
    #[arg(value_name = "OLD")]
    old: OsString,
    /// The library as it is now
    #[arg(value_name = "NEW")]
    new: OsString,
    /// Also write the comparison to one HTML page
    #[arg(long, value_name = "FILE.html")]
    to: Option<PathBuf>,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let (old, new) = (folder(&disk, &asked.old, options)?, folder(&disk, &asked.new, options)?);
    let pictures = (pictures(&old), pictures(&new));
    let (old, new) = (pipeline::judge(&old, disk.today()), pipeline::judge(&new, disk.today()));
    let comparison = compare::compare(judged(&old, &pictures.0), judged(&new, &pictures.1));
    let (old_name, new_name) = (asked.old.to_string_lossy(), asked.new.to_string_lossy());
    let told = Told { comparison: &comparison, old: &old_name, new: &new_name, libraries: (&old.library, &new.library) };
    if let Some(path) = &asked.to {
        sheet::write(path, &comparison::page(&told), comparison::MARK)?;
    }
    output.print(&match options.format {
        Format::Text => text::text(&told),
        Format::Short => short::short(&told),
        Format::Json => json::json(&told),
        Format::Sarif => return Err(Failure::Other("a comparison is no list of findings; ask for `text`, `short` or `json`".to_owned())),
    })?;
    if let Some(path) = &asked.to {
        output.note(&format!("wrote the comparison to `{}`", path.display()));
    }
    output.note(&told.summary());
    Ok(if comparison.same() { Outcome::Done } else { Outcome::Errors })
}

fn judged<'a>(verdict: &'a Verdict, pictures: &'a BTreeMap<String, String>) -> Judged<'a> {
    Judged { library: &verdict.library, findings: &verdict.findings, not_analysed: &verdict.not_analysed, pictures }
}

/// One side: a folder if there is one of that name, else a revision.
fn folder(disk: &Disk, named: &OsStr, options: &Options) -> Result<Folder, Failure> {
    let path = Path::new(named);
    let revision = named.to_str().and_then(git::split).filter(|_| !path.is_dir());
    match revision {
        Some((revision, inside)) => Ok(git::library(Path::new("."), revision, inside, options.library.as_deref())?),
        None if disk.has_file(&path.join(MARK)) => disk.library(path),
        None => Err(Failure::NoLibrary { looked_in: vec![path.to_owned()] }),
    }
}

fn pictures(folder: &Folder) -> BTreeMap<String, String> {
    let picture = |(path, entry): (&String, &Entry)| match entry {
        Entry::File(bytes) if path.starts_with("pictures/") => Some((path.clone(), blake3::hash(bytes).to_hex().to_string())),
        _ => None,
    };
    folder.entries.iter().filter_map(picture).collect()
}
