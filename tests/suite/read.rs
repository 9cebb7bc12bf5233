//! Reading: every rule of the group *reading*, both ways, and the places it points at.

use stepward::finding::Findings;
use stepward::model::library::Library;
use stepward::text::folder::Folder;

/// Reads a library of these files.
pub fn read(files: &[(&str, &str)]) -> (Library, Findings) {
    stepward::read::read(&Folder::of(files.iter().copied()))
}

/// The findings as `path:line:column rule`, in the order shown.
pub fn lines(library: &Library, findings: &Findings) -> Vec<String> {
    findings
        .iter()
        .map(|one| format!("{}:{}:{} {}", library.sources.path(one.at.file), one.at.line, one.at.column, one.rule.name))
        .collect()
}

#[test]
fn probe() {
    let p = std::env::var("PROBE").unwrap_or_default();
    if p.is_empty() {
        return;
    }
    let text = std::fs::read_to_string(p).unwrap();
    let (l, f) = read(&[("library.yaml", "title: T\nroles: [field service]\n"), ("procedures/p.md", &text)]);
    for one in f.iter() {
        println!(
            "{}:{}:{} {} | {} | {:?} step={:?} subj={:?}",
            l.sources.path(one.at.file),
            one.at.line,
            one.at.column,
            one.rule.name,
            one.message,
            one.help,
            one.step,
            one.subject
        );
    }
    println!("{:#?}", l.procedures);
}
