//! Writes one page that stands alone. A page of ours is replaced, anything else of that name is not.

use std::fs;
use std::path::Path;

use crate::build::failure::Failure;

/// Writes `html` to `path`, whole or not at all. Every page of ours holds `mark` near its top.
///
/// # Errors
/// There is something else of that name, or it cannot be written.
pub fn write(path: &Path, html: &str, mark: &str) -> Result<(), Failure> {
    match fs::read(path) {
        Ok(bytes) if !String::from_utf8_lossy(bytes.get(..2048.min(bytes.len())).unwrap_or_default()).contains(mark) => {
            return Err(Failure::Exists { path: path.to_owned() });
        }
        Ok(_) => {}
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
        Err(error) => return Err(Failure::writing(path, &error)),
    }
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let aside = path.with_file_name(format!(".{name}.stepward-{}", std::process::id()));
    let done = fs::write(&aside, html).and_then(|()| fs::rename(&aside, path));
    done.map_err(|error| {
        // What could not be put in place is not left lying about.
        let _ = fs::remove_file(&aside);
        Failure::writing(path, &error)
    })
}
