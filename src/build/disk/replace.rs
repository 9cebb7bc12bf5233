//! Puts new bytes in the place of a file in one step: whoever reads it sees the old ones or the new ones, whole.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// See [`crate::build::world::World::replace`]. `path` is no link.
pub fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut taken = io::Error::from(io::ErrorKind::AlreadyExists);
    for number in 0..1000 {
        let aside = path.with_file_name(format!(".{name}.stepward-{number}"));
        match fs::OpenOptions::new().write(true).create_new(true).open(&aside) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => taken = error,
            Err(error) => return Err(error),
            Ok(file) => {
                return fill(file, path, bytes).and_then(|()| fs::rename(&aside, path)).inspect_err(|_| {
                    // A half-written file of ours, which nothing reads.
                    let _ = fs::remove_file(&aside);
                });
            }
        }
    }
    Err(taken)
}

/// On the disk, and readable by whoever could read the file before.
fn fill(mut file: fs::File, before: &Path, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    if let Ok(found) = fs::metadata(before) {
        file.set_permissions(found.permissions())?;
    }
    file.sync_all()
}
