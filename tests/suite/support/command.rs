//! The program itself in a temporary folder of its own: what a user gets to see.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use stepward::build::disk::Disk;
use stepward::build::world::World as _;
use stepward::rules::example::signed;
use stepward::text::folder::Entry;

/// A temporary folder that is gone when the test is over.
pub struct Place {
    folder: tempfile::TempDir,
}

/// What a run printed and how it ended.
pub struct Ran {
    pub status: i32,
    pub out: String,
    pub err: String,
}

impl Place {
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().expect("a temporary folder") }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a folder above")).expect("a folder");
        std::fs::write(path, text).expect("a file");
    }

    /// Approves the released procedures of a library as they stand, each by a role that does not own it.
    pub fn sign(&self, library: &str) {
        let disk = Disk { today: jiff::civil::date(2026, 11, 2) };
        let folder = signed(disk.library(&self.path(library)).expect("a library"), |_| true);
        match &folder.entries["approvals.yaml"] {
            Entry::File(bytes) => self.write(&format!("{library}/approvals.yaml"), std::str::from_utf8(bytes).expect("UTF-8")),
            Entry::TooLarge(_) | Entry::Outside => panic!("no approvals"),
        }
    }

    pub fn read(&self, name: &str) -> Option<String> {
        std::fs::read_to_string(self.path(name)).ok()
    }

    /// All files below a folder with their bytes, hidden ones too.
    pub fn below(&self, name: &str) -> Vec<(String, Vec<u8>)> {
        let top = self.path(name);
        let walk = walkdir::WalkDir::new(&top).sort_by_file_name().into_iter().filter_map(Result::ok);
        let files = walk.filter(|entry| entry.file_type().is_file());
        files.map(|entry| (shown(&top, entry.path()), std::fs::read(entry.path()).expect("a file"))).collect()
    }

    /// Runs `stepward` here, with nothing of the caller's surroundings that could change what it does.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.run_with(arguments, &[])
    }

    pub fn run_with(&self, arguments: &[&str], variables: &[(&str, &str)]) -> Ran {
        let output = self.command(arguments).envs(variables.iter().copied()).output().expect("the program runs");
        Ran {
            status: output.status.code().expect("an exit status"),
            out: String::from_utf8(output.stdout).expect("UTF-8 on standard output"),
            err: String::from_utf8(output.stderr).expect("UTF-8 on standard error"),
        }
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stepward"));
        command.args(arguments).current_dir(self.folder.path()).stdin(Stdio::null());
        for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "SOURCE_DATE_EPOCH"] {
            command.env_remove(name);
        }
        // What is remembered of one test must not reach another.
        command.env("STEPWARD_CACHE", "");
        command
    }
}

fn shown(top: &Path, path: &Path) -> String {
    path.strip_prefix(top).expect("below").to_string_lossy().into_owned()
}
