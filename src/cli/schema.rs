//! `schema`: the format as JSON Schema, for editors; and the folder of schemas that `create` puts into a library.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::build::disk::Disk;
use crate::build::failure::Failure;
use crate::build::world::World;
use crate::cli::Outcome;
use crate::cli::options::Options;
use crate::cli::output::Output;
use crate::emit::counted;
use crate::read::schema::{self, NAMES};

/// Print JSON Schema 2020-12 of the front matter and the catalogues, for editors
#[derive(Args)]
pub struct Arguments {
    /// The kind of file [default: all in one document, a procedure's front matter at its root]
    #[arg(value_name = "NAME", value_parser = NAMES)]
    name: Option<String>,
    /// Write each schema to a file of its own, `NAME.schema.json`, in this folder
    #[arg(long, value_name = "DIR")]
    to: Option<PathBuf>,
}

/// Where the schemas of a library lie in it. Hidden, so that no command takes it for a part of the library.
const FOLDER: &str = ".schemas";
/// How every schema of ours begins; a file that begins otherwise is somebody else's.
const HEAD: &str = "{\n  \"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n  \"title\": \"Stepward: ";

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let Some(folder) = &asked.to else {
        let text = asked.name.as_deref().map_or_else(|| Some(schema::all()), schema::of);
        output.print(&text.unwrap_or_default())?;
        return Ok(Outcome::Done);
    };
    let disk = options.disk()?;
    let names: Vec<&str> = NAMES.into_iter().filter(|name| asked.name.as_deref().is_none_or(|one| one == *name)).collect();
    // Looked at first, so that a refusal leaves nothing half done.
    for path in names.iter().map(|name| folder.join(file(name))).filter(|path| disk.has_file(path)) {
        if !disk.read(&path)?.starts_with(HEAD.as_bytes()) {
            return Err(Failure::Exists { path });
        }
    }
    for name in &names {
        let (path, text) = (folder.join(file(name)), schema::of(name).unwrap_or_default());
        if disk.has_file(&path) {
            std::fs::remove_file(&path).map_err(|error| Failure::writing(&path, &error))?;
        }
        disk.write(&path, text.as_bytes())?;
    }
    output.note(&format!("wrote {} to `{}`", counted(names.len(), "schema"), folder.display()));
    Ok(Outcome::Done)
}

fn file(name: &str) -> String {
    format!("{name}.schema.json")
}

/// Whether the schemas of this library would land outside it.
pub fn leads_outside(disk: &Disk, library: &Path) -> Result<bool, Failure> {
    let folder = library.join(FOLDER);
    // Only a link can lead anywhere else.
    Ok(disk.has_file(&folder) && !disk.resolve(&folder)?.starts_with(disk.resolve(library)?))
}

/// Why nothing is written where they would.
pub fn outside(library: &Path) -> Failure {
    Failure::Other(format!("`{}` leads outside the library; nothing is written there", library.join(FOLDER).display()))
}

/// Puts the schemas into a library, for its editors. What is there already stays as it is.
pub fn put_into(disk: &Disk, library: &Path, names: &[&str]) -> Result<(), Failure> {
    for name in names {
        let path = library.join(FOLDER).join(file(name));
        if !disk.has_file(&path) {
            disk.write(&path, schema::of(name).unwrap_or_default().as_bytes())?;
        }
    }
    Ok(())
}
