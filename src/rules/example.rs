//! The examples on the rules' pages: small libraries whose expected findings stand as marks on the lines they point at.
//!
//! A page has cases under `## Fails` and `## Passes`, each under a heading of level 3 with its name. A case is one or more fenced blocks, `fail PATH` or
//! `pass PATH`; without a path it is `procedures/example.md`. Files that a case does not give come from the shared small library in `src/rules/example/`.
//! A mark is the end of a line: `# expect: rule` (several by comma) in YAML, `<!-- expect: rule -->` in Markdown. It is taken out before the file is read.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};

use crate::model::procedure::Status;
use crate::read::read;
use crate::rules::approval::digest::{Digest, Digests};
use crate::rules::approval::ledger;
use crate::text::folder::{Entry, Folder};

/// The day on which the examples are judged, so that they give the same findings on every day.
pub const DAY: Date = date(2026, 11, 2);

/// A page in pieces, in its order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece<'a> {
    /// A line of it that stands in no example.
    Line(&'a str),
    /// An example, where its first file stands.
    Case(Case),
}

/// One example.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Case {
    pub name: String,
    /// Whether it stands under `## Fails`.
    pub fails: bool,
    /// Its files without marks, by path, as they stand on the page.
    pub files: BTreeMap<String, String>,
    /// What its marks expect: file, line, rule; sorted.
    pub expected: Vec<(String, u32, String)>,
}

/// The small library that every example stands in.
static SHARED: [(&str, &str); 6] = [
    ("library.yaml", include_str!("example/library.yaml")),
    ("safety.yaml", include_str!("example/safety.yaml")),
    ("equipment.yaml", include_str!("example/equipment.yaml")),
    ("stop.md", include_str!("example/stop.md")),
    ("procedures/isolate.md", include_str!("example/isolate.md")),
    ("procedures/restore-power.md", include_str!("example/restore-power.md")),
];

impl Case {
    /// The whole library of the case. A file whose text is only `(none)` is left out of it. Released procedures are approved as they are; in a case
    /// with an `approvals.yaml` of its own only those of the shared library.
    pub fn folder(&self) -> Folder {
        let mut folder = Folder::of(SHARED);
        for (path, text) in &self.files {
            if text.trim() == "(none)" {
                folder.entries.remove(path);
            } else {
                folder.entries.insert(path.clone(), Entry::File(text.as_bytes().to_vec()));
            }
        }
        let own = self.files.contains_key(ledger::NAME);
        signed(folder, |path| !(own && self.files.contains_key(path)))
    }
}

/// Stands on pages in the place of a digest that is the right one.
const AS_IT_STANDS: &str = "(as it stands)";

/// The library with an approval for each released procedure, by its path, that is wanted: as it is, by a role that does not own it.
pub fn signed(mut folder: Folder, wanted: impl Fn(&str) -> bool) -> Folder {
    let (library, findings) = read(&folder);
    // A list of approvals with errors is an example of its own, and stays as it is.
    if findings.iter().any(|finding| library.sources.path(finding.at.file) == ledger::NAME) {
        return folder;
    }
    let released = library.procedures.iter().filter(|procedure| procedure.status == Status::Released);
    let released: Vec<_> = released.filter(|procedure| wanted(library.sources.path(procedure.at.file))).collect();
    let left_open = library.approvals.iter().filter(|approval| approval.digest.value == AS_IT_STANDS);
    let digests = Digests::of(&library, library.procedures.iter().map(|procedure| &procedure.id));
    let mut text = match folder.entries.get(ledger::NAME) {
        None => String::new(),
        Some(Entry::File(bytes)) => String::from_utf8_lossy(bytes).into_owned(),
        Some(Entry::TooLarge(_) | Entry::Outside) => return folder,
    };
    for approval in left_open {
        let digest = digests.get(&approval.procedure).map_or("", Digest::whole).to_owned();
        let (procedure, revision) = (approval.procedure.value.clone(), approval.revision.value);
        let entry = ledger::Entry { procedure, revision, digest, by: approval.by.value.clone(), on: approval.on.value };
        text = ledger::sign(&text, &entry).unwrap_or(text);
    }
    for procedure in released {
        let owner = procedure.owner.as_ref().map(|owner| &owner.value);
        let by = library.settings.roles.iter().find(|role| Some(&role.value) != owner);
        if let (Some(revision), Some(by), Some(digest)) = (&procedure.revision, by, digests.get(&procedure.id)) {
            let (id, digest) = (procedure.id.clone(), digest.to_string());
            let entry = ledger::Entry { procedure: id, revision: revision.value, digest, by: by.value.clone(), on: DAY };
            text = ledger::sign(&text, &entry).unwrap_or(text);
        }
    }
    if !text.is_empty() {
        folder.entries.insert(ledger::NAME.to_owned(), Entry::File(text.into_bytes()));
    }
    folder
}

/// All cases of a page, in its order.
pub fn cases(page: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    let mut fails = false;
    let mut name = String::new();
    let mut fence: Option<(String, String)> = None;
    let mut begun = false;
    for line in page.lines() {
        if let Some((_, text)) = &mut fence {
            if line.trim_end() == "```" {
                if let Some((path, text)) = fence.take() {
                    add(&mut cases, &name, fails, std::mem::replace(&mut begun, true), &path, &text);
                }
            } else {
                text.push_str(line);
                text.push('\n');
            }
        } else if let Some(info) = line.strip_prefix("```fail").or_else(|| line.strip_prefix("```pass")) {
            let path = if info.trim().is_empty() { "procedures/example.md" } else { info.trim() };
            fence = Some((path.to_owned(), String::new()));
        } else if let Some(heading) = line.strip_prefix("### ") {
            heading.trim().clone_into(&mut name);
            begun = false;
        } else if let Some(heading) = line.strip_prefix("## ") {
            fails = heading.trim() == "Fails";
            name.clear();
            begun = false;
        }
    }
    cases
}

/// The page with each example in the place of its fenced blocks.
pub fn pieces(page: &str) -> Vec<Piece<'_>> {
    let mut cases = cases(page).into_iter();
    let mut pieces = Vec::new();
    let mut fenced = false;
    let mut begun = false;
    for line in page.lines() {
        if fenced {
            fenced = line.trim_end() != "```";
        } else if line.starts_with("```fail") || line.starts_with("```pass") {
            fenced = true;
            if !std::mem::replace(&mut begun, true) {
                pieces.extend(cases.next().map(Piece::Case));
            }
        } else {
            begun = begun && !line.starts_with("## ") && !line.starts_with("### ");
            pieces.push(Piece::Line(line));
        }
    }
    pieces
}

fn add(cases: &mut Vec<Case>, name: &str, fails: bool, begun: bool, path: &str, marked: &str) {
    if !begun {
        cases.push(Case { name: name.to_owned(), fails, files: BTreeMap::new(), expected: Vec::new() });
    }
    let Some(case) = cases.last_mut() else { return };
    let mut text = String::new();
    for (number, line) in (1..).zip(marked.lines()) {
        let (line, rules) = split_mark(line);
        case.expected.extend(rules.into_iter().map(|rule| (path.to_owned(), number, rule)));
        text.push_str(line);
        text.push('\n');
    }
    case.expected.sort();
    case.files.insert(path.to_owned(), text);
}

/// A line without its mark, and the rules the mark names.
pub fn split_mark(line: &str) -> (&str, Vec<String>) {
    let yaml = line.rfind("# expect:").map(|at| (at, &line[at + 9..]));
    let html = line.rfind("<!-- expect:").map(|at| (at, line[at + 12..].trim_end().trim_end_matches("-->")));
    match html.or(yaml) {
        Some((at, rules)) => {
            let rules = rules.split(',').map(|rule| rule.trim().to_owned()).filter(|rule| !rule.is_empty()).collect();
            (line[..at].trim_end(), rules)
        }
        None => (line, Vec::new()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_gives_its_cases_with_marks_taken_out() {
        let page = "One sentence.\n\n## Fails\n\n### Two files\n\n```fail\na: 1 # expect: x, y\nb: 2\n```\n\n```fail safety.yaml\nc\n```\n\n## Passes\n\n### Mended\n\n```pass\n(none)\n```\n";
        let cases = cases(page);
        assert_eq!(cases.len(), 2);
        assert!(cases[0].fails && !cases[1].fails);
        assert_eq!(cases[0].files["procedures/example.md"], "a: 1\nb: 2\n");
        let expected = |rule: &str| ("procedures/example.md".to_owned(), 1, rule.to_owned());
        assert_eq!(cases[0].expected, vec![expected("x"), expected("y")]);
        assert_eq!(cases[0].files["safety.yaml"], "c\n");
        assert!(!cases[1].folder().entries.contains_key("procedures/example.md"));
        let names: Vec<String> = pieces(page)
            .iter()
            .map(|piece| match piece {
                Piece::Line(line) => (*line).to_owned(),
                Piece::Case(case) => format!("= {}", case.name),
            })
            .filter(|line| !line.is_empty())
            .collect();
        assert_eq!(names, ["One sentence.", "## Fails", "### Two files", "= Two files", "## Passes", "### Mended", "= Mended"]);
    }
}
