//! From bytes to text: which entries of the folder are read, and what is wrong with their bytes.

use std::ops::Range;

use crate::finding::rule::{NOT_UTF8, OUTSIDE_LIBRARY, TOO_DEEP};
use crate::finding::{Finding, Findings};
use crate::read::lines::Lines;
use crate::read::scope::is_bidirectional;
use crate::text::folder::{Entry, LARGEST_FILE};
use crate::text::id::Id;
use crate::text::place::{FileId, Place, Sources};

/// What a path of the library is, by its name alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    Settings,
    Safety,
    Equipment,
    Stages,
    Approvals,
    StopCard,
    Procedure(Id),
    Leaflet(Id),
    Picture,
    /// Not part of the format.
    Stranger,
}

/// A file of the library whose text could be read or not.
pub struct File {
    pub id: FileId,
    pub role: Role,
    /// False if nothing can be said of its text: it was not read, is no UTF-8, or holds NUL.
    pub readable: bool,
}

pub fn role(path: &str) -> Role {
    let page = |folder: &str| {
        let name = path.strip_prefix(folder)?.strip_suffix(".md")?;
        Some(Id::new(name.rsplit('/').next().unwrap_or(name)))
    };
    match path {
        "library.yaml" => Role::Settings,
        "safety.yaml" => Role::Safety,
        "equipment.yaml" => Role::Equipment,
        "stages.yaml" => Role::Stages,
        "approvals.yaml" => Role::Approvals,
        "stop.md" => Role::StopCard,
        _ if path.starts_with("pictures/") => Role::Picture,
        _ => page("procedures/").map(Role::Procedure).or_else(|| page("leaflets/").map(Role::Leaflet)).unwrap_or(Role::Stranger),
    }
}

/// Takes one entry in. `None` for pictures and for what the format does not know, once what is wrong with them is said.
pub fn take_in(path: &str, entry: &Entry, sources: &mut Sources, findings: &mut Findings) -> Option<File> {
    let role = role(path);
    let page = !matches!(role, Role::Picture | Role::Stranger);
    let procedure = match &role {
        Role::Procedure(id) => Some(id.clone()),
        _ => None,
    };
    let (text, problem) = match entry {
        Entry::File(_) if !page => return None,
        Entry::File(bytes) if bytes.len() as u64 > LARGEST_FILE => (String::new(), Some(too_large())),
        Entry::TooLarge(_) if role == Role::Stranger => return None,
        Entry::TooLarge(_) => (String::new(), Some(too_large())),
        Entry::Outside => (String::new(), Some(outside())),
        Entry::File(bytes) => decode(bytes),
    };
    let id = sources.add(path, text);
    let mut readable = true;
    if let Some(problem) = problem {
        readable = problem.readable;
        let source = sources.get(id).map_or("", |source| source.text.as_str());
        let at = if problem.at == 0 { Place::top(id) } else { Lines::new(id, source).place(problem.at..problem.at) };
        let mut finding = Finding::new(problem.rule, at, problem.message).help(problem.help);
        finding.procedure = procedure;
        findings.push(finding);
    }
    page.then_some(File { id, role, readable })
}

struct Problem {
    rule: &'static crate::finding::Rule,
    /// Byte of the text that was kept.
    at: usize,
    message: String,
    help: &'static str,
    readable: bool,
}

fn too_large() -> Problem {
    let message = format!("the file is over {} MiB", LARGEST_FILE / 1024 / 1024);
    Problem { rule: &TOO_DEEP, at: 0, message, help: "divide the file; pictures go into files of their own", readable: false }
}

fn outside() -> Problem {
    let message = "a symbolic link leads outside the library".to_owned();
    Problem { rule: &OUTSIDE_LIBRARY, at: 0, message, help: "copy the file into the library", readable: false }
}

/// The text, and the first thing about its bytes that is not allowed.
fn decode(bytes: &[u8]) -> (String, Option<Problem>) {
    let help = "save the file as UTF-8, and delete the invisible character";
    match std::str::from_utf8(bytes) {
        Err(error) => {
            let at = error.valid_up_to();
            let kept = bytes.get(..at).map(|good| String::from_utf8_lossy(good).into_owned()).unwrap_or_default();
            let message = "the file is not UTF-8 from here on".to_owned();
            (kept, Some(Problem { rule: &NOT_UTF8, at, message, help: "save the file as UTF-8", readable: false }))
        }
        Ok(text) => {
            let odd = text.char_indices().find(|(_, c)| *c == '\0' || is_bidirectional(*c));
            let problem = odd.map(|(at, c)| {
                let message = match c {
                    '\0' => "the file holds a NUL character".to_owned(),
                    _ => format!("the file holds the invisible character U+{:04X}, which turns text around", u32::from(c)),
                };
                // NUL ends every further reading; the others are characters like any, and the rest of the file is still read.
                let readable = !text.contains('\0');
                Problem { rule: &NOT_UTF8, at, message, help, readable }
            });
            (text.to_owned(), problem)
        }
    }
}

/// The whole text but a byte order mark at its top.
pub fn after_mark(text: &str) -> Range<usize> {
    let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    mark..text.len()
}
