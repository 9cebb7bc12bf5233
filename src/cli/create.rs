//! `create`: writes a new small library, or a procedure to fill in. Drafts both; nothing that exists is overwritten.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::build::disk::Disk;
use crate::build::failure::Failure;
use crate::build::world::World;
use crate::cli::options::Options;
use crate::cli::output::Output;
use crate::cli::{Outcome, library, schema};
use crate::emit::counted;
use crate::read::schema::NAMES;
use crate::text::folder::Entry;
use crate::text::id::{Id, IdFault};

/// Write a new small library, or a procedure to fill in; nothing that exists is overwritten
#[derive(Args)]
#[command(override_usage = "stepward create [OPTIONS] DIR\n       stepward create [OPTIONS] procedure ID")]
pub struct Arguments {
    /// Folder of the new library; or the word `procedure`, followed by an id (a folder called `procedure` is `./procedure`)
    #[arg(value_name = "DIR")]
    what: PathBuf,
    /// Id of the new procedure: lower-case letters, digits and single hyphens
    #[arg(value_name = "ID")]
    id: Option<String>,
}

const LIBRARY: [(&str, &str); 5] = [
    ("library.yaml", include_str!("create/library.yaml")),
    ("safety.yaml", include_str!("create/safety.yaml")),
    ("stop.md", include_str!("create/stop.md")),
    ("procedures/isolate.md", include_str!("create/isolate.md")),
    ("procedures/toner-rubs-off.md", include_str!("create/toner-rubs-off.md")),
];
const PROCEDURE: &str = include_str!("create/procedure.md");

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    // As written: `./procedure` is the same path and not the same word.
    match (asked.what.as_os_str() == "procedure", &asked.id) {
        (true, Some(id)) => procedure(&disk, &Id::new(id), options, output),
        (true, None) => {
            let words = "`create procedure` needs an id, as in `stepward create procedure paper-jam`; \
                         for a library in a folder of that name say `stepward create ./procedure`";
            Err(Failure::Other(words.to_owned()))
        }
        (false, None) => new_library(&disk, &asked.what, output),
        (false, Some(id)) => {
            let words = format!("`{id}` is one word too many; expected `stepward create DIR` or `stepward create procedure ID`");
            Err(Failure::Other(words))
        }
    }
}

fn new_library(disk: &Disk, folder: &Path, output: &Output) -> Result<Outcome, Failure> {
    // Looked at first, so that a refusal leaves nothing half done.
    if let Some((path, _)) = LIBRARY.iter().find(|(path, _)| disk.has_file(&folder.join(path))) {
        return Err(Failure::Exists { path: folder.join(path) });
    }
    if schema::leads_outside(disk, folder)? {
        return Err(schema::outside(folder));
    }
    for (path, text) in LIBRARY {
        disk.write(&folder.join(path), text.as_bytes())?;
    }
    schema::put_into(disk, folder, &NAMES)?;
    let written = counted(LIBRARY.len(), "file");
    output.note(&format!("wrote a library of {written} to `{}`", folder.display()));
    output.note(&format!("next: `stepward verify{}`; both procedures are drafts", library::option_for(folder)));
    Ok(Outcome::Done)
}

fn procedure(disk: &Disk, id: &Id, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    if let Some(fault) = id.fault() {
        return Err(Failure::Other(format!("`{id}` cannot be an id: {}", fault_words(fault))));
    }
    let folder = library::find(disk, None, options)?;
    let content = disk.library(&folder)?;
    let name = format!("{id}.md");
    let same = |path: &&String| path.strip_prefix("procedures/").is_some_and(|below| below.rsplit('/').next() == Some(name.as_str()));
    if let Some(path) = content.entries.keys().find(same) {
        return Err(Failure::Exists { path: folder.join(path) });
    }
    if content.entries.get("procedures") == Some(&Entry::Outside) {
        let words = format!("`{}` leads outside the library; nothing is written there", folder.join("procedures").display());
        return Err(Failure::Other(words));
    }
    if schema::leads_outside(disk, &folder)? {
        return Err(schema::outside(&folder));
    }
    let path = folder.join("procedures").join(name);
    disk.write(&path, PROCEDURE.replace("{title}", &title(id)).as_bytes())?;
    schema::put_into(disk, &folder, &["procedure"])?;
    output.note(&format!("wrote `{}`, a draft to fill in", path.display()));
    output.note(&format!("next: fill it in, then `stepward verify{}`", library::option_for(&folder)));
    Ok(Outcome::Done)
}

/// `paper-jam` -> `Paper jam`, in quotes: an id such as `true` or `null` would not be a text without.
fn title(id: &Id) -> String {
    let words = id.as_str().replace('-', " ");
    let first: String = words.chars().take(1).flat_map(char::to_uppercase).collect();
    format!("\"{first}{}\"", words.chars().skip(1).collect::<String>())
}

fn fault_words(fault: IdFault) -> String {
    match fault {
        IdFault::Empty => "expected at least one letter".to_owned(),
        IdFault::TooLong => "expected at most 64 characters".to_owned(),
        IdFault::Character(odd) => format!("`{odd}` is in it; expected lower-case letters a to z, digits and hyphens"),
        IdFault::Start => "expected a letter at its beginning".to_owned(),
        IdFault::Hyphen => "expected single hyphens between letters or digits".to_owned(),
        IdFault::Reserved => "the format uses this word itself; choose another".to_owned(),
    }
}
