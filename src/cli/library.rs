//! Finds the library a command is about.

use std::path::{Path, PathBuf};

use crate::build::failure::Failure;
use crate::build::world::World;
use crate::cli::options::Options;

/// The folder named by the command's argument or by `--library`; else the current folder if it holds `library.yaml`, else `content` below it.
///
/// # Errors
/// Both are given, or there is no `library.yaml` in the folder.
pub fn find(world: &dyn World, argument: Option<&PathBuf>, options: &Options) -> Result<PathBuf, Failure> {
    let looked_in = match (argument, &options.library) {
        (Some(_), Some(_)) => {
            let words = "the library is named twice; give it either as the argument or with `--library DIR`";
            return Err(Failure::Other(words.to_owned()));
        }
        (Some(folder), None) | (None, Some(folder)) => vec![folder.clone()],
        (None, None) => vec![PathBuf::from("."), PathBuf::from("content")],
    };
    let found = looked_in.iter().find(|folder| world.has_file(&folder.join(MARK))).cloned();
    found.ok_or(Failure::NoLibrary { looked_in })
}

/// The file that makes a folder a library.
pub const MARK: &str = "library.yaml";

/// The option that names this library in a command to type next; empty where it is found without.
pub fn option_for(folder: &Path) -> String {
    if folder == Path::new(".") || folder == Path::new("content") { String::new() } else { format!(" --library {}", folder.display()) }
}
