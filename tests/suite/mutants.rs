//! A library, damaged: nothing panics whatever is changed, what is unsafe is refused, and a green report stays true when declarations are forgotten.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use jiff::civil::date;
use stepward::analyse::{Verdict, analyse, gate};
use stepward::finding::{Group, Severity};
use stepward::read::read;
use stepward::render;
use stepward::rules::example::signed;
use stepward::text::folder::{Entry, Folder};

use crate::support::random::Random;

const DAY: jiff::civil::Date = date(2026, 11, 24);

/// Ten procedures that stay as they are, so that bars and the survivors listed beside them mean the same however the library we ship grows.
pub fn sample() -> Folder {
    folder("tests/cases/library")
}

/// The library we ship.
pub fn shipped() -> Folder {
    folder("content")
}

fn folder(name: &str) -> Folder {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    let files = walkdir::WalkDir::new(&root).into_iter().filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
    let entries = files.map(|entry| {
        let path = entry.path().strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
        (path, Entry::File(fs::read(entry.path()).unwrap()))
    });
    Folder { entries: entries.collect() }
}

/// Approved as it stands, so that nothing is refused only because it is not what was approved.
pub fn judge(folder: &Folder) -> Verdict {
    let (library, findings) = read(&approved(folder.clone()));
    analyse(library, findings, DAY)
}

fn approved(mut folder: Folder) -> Folder {
    folder.entries.remove("approvals.yaml");
    signed(folder, |_| true)
}

pub fn text(entry: &Entry) -> String {
    match entry {
        Entry::File(bytes) => String::from_utf8_lossy(bytes).into_owned(),
        Entry::TooLarge(_) | Entry::Outside => String::new(),
    }
}

/// Every file of the library with its lines put through `change`; a line that becomes `None` is taken out.
fn changed(folder: &Folder, change: impl Fn(&str, &str) -> Option<String>) -> Folder {
    let entries = folder.entries.iter().map(|(path, entry)| {
        let lines: Vec<String> = text(entry).lines().filter_map(|line| change(path, line)).collect();
        (path.clone(), Entry::File((lines.join("\n") + "\n").into_bytes()))
    });
    Folder { entries: entries.collect() }
}

/// Steps of procedures with an error of the group safety.
pub fn unsafe_steps(verdict: &Verdict) -> BTreeSet<(String, String)> {
    let errors = verdict.findings.iter().filter(|finding| finding.rule.group == Group::Safety && finding.severity == Severity::Error);
    errors.filter_map(|finding| Some((finding.procedure.as_ref()?.to_string(), finding.step.as_ref()?.to_string()))).collect()
}

/// The line without `key: [...]` or `key: word`, wherever it stands in it.
pub fn without(line: &str, keys: &[&str]) -> Option<String> {
    let mut left = line.to_owned();
    for key in keys {
        let marks = [format!("{key}: ["), format!("{key}:")];
        if left.trim_start().starts_with(&marks[1]) {
            return None;
        }
        while let Some(start) = left.find(&format!(", {}", marks[0])) {
            let end = left[start..].find(']').map_or(left.len(), |end| start + end + 1);
            left.replace_range(start..end, "");
        }
    }
    Some(left)
}

#[test]
fn forgetting_every_exposure_hides_no_unsafe_step() {
    let whole = sample();
    // Take the cautions out, so that there is much that is unsafe; then also forget what each step touches.
    let bare =
        changed(&whole, |path, line| if path.starts_with("procedures/") { without(line, &["cautions"]) } else { Some(line.to_owned()) });
    let forgetful =
        changed(
            &bare,
            |path, line| if path.starts_with("procedures/") { without(line, &["exposes", "touches"]) } else { Some(line.to_owned()) },
        );
    let (declared, forgotten) = (unsafe_steps(&judge(&bare)), unsafe_steps(&judge(&forgetful)));
    assert!(declared.len() > 30, "only {} unsafe steps", declared.len());
    let hidden: Vec<_> = declared.difference(&forgotten).collect();
    assert!(hidden.is_empty(), "{} unsafe steps declared, {} once forgotten; hidden: {hidden:?}", declared.len(), forgotten.len());
}

#[test]
fn a_library_without_its_safety_is_refused() {
    let whole = sample();
    assert!(gate::clear(&judge(&whole), false).is_ok());
    let weakened: [(&str, &[&str]); 3] = [("cautions", &["cautions"]), ("requires", &["sets"]), ("waits", &["wait", "wait-for"])];
    for (name, keys) in weakened {
        let folder =
            changed(&whole, |path, line| if path.starts_with("procedures/") { without(line, keys) } else { Some(line.to_owned()) });
        assert!(gate::clear(&judge(&folder), false).is_err(), "without {name} the library is still published");
    }
}

#[test]
fn a_damaged_library_never_panics_and_is_never_half_published() {
    let whole = sample();
    let paths: Vec<&String> = whole.entries.keys().collect();
    let mut random = Random::new(11);
    let rounds = if std::env::var_os("SLOW").is_some() { 5_000 } else { 300 };
    let mut refused = 0;
    for _ in 0..rounds {
        let mut folder = whole.clone();
        for _ in 0..=random.below(3) {
            let path = (*random.pick(&paths)).clone();
            let mut lines: Vec<String> = text(&folder.entries[&path]).lines().map(str::to_owned).collect();
            if lines.is_empty() {
                continue;
            }
            let (here, there) = (random.below(lines.len()), random.below(lines.len()));
            match random.below(6) {
                0 => drop(lines.remove(here)),
                1 => lines.swap(here, there),
                2 => lines[here] = lines[there].clone(),
                3 => lines[here].push_str(random.pick::<&str>(&[" #", ":", "}", "]", "\t", "  x: y", "🖨", "<b>", "\u{202e}", "\u{0}"])),
                4 => lines[here] = lines[here].chars().rev().collect(),
                _ => lines.truncate(here),
            }
            folder.entries.insert(path, Entry::File(lines.join("\n").into_bytes()));
        }
        let verdict = judge(&folder);
        match gate::clear(&verdict, false) {
            Ok(cleared) => {
                let coverage = stepward::analyse::coverage::coverage(&verdict);
                let review = stepward::build::pipeline::reviewed(&verdict, &coverage, DAY, false);
                assert!(
                    render::site::site(
                        &cleared,
                        &review,
                        std::collections::BTreeMap::new(),
                        &stepward::render::drawings::Drawings::default()
                    )
                    .contains_key("index.html")
                );
            }
            Err(_) => refused += 1,
        }
    }
    assert!(refused > rounds / 4, "only {refused} of {rounds} damaged libraries were refused");
}
