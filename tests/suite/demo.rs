//! The library that ships is without error or warning, and `site-demo/` is what publishing it makes: byte for byte.
//!
//! `UPDATE=1 cargo test demo` writes `site-demo/` anew; look at the difference before committing it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::date;
use stepward::build::disk::Disk;
use stepward::build::pipeline::{self, Published};
use stepward::model::procedure::{Fault, Status};
use stepward::text::id::Id;

/// The day on which the demo was published; a build is repeated by naming it (`--today`).
const DAY: jiff::civil::Date = date(2026, 11, 24);

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = walkdir::WalkDir::new(folder).into_iter().filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
    entries
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
            (path, fs::read(entry.path()).unwrap())
        })
        .collect()
}

fn publish(target: &Path) {
    match pipeline::publish(&Disk { today: DAY }, &root().join("content"), target, false, &|_| {}) {
        Ok(Published::Written(..)) => {}
        Ok(Published::Refused(verdict)) => {
            let said: Vec<String> = verdict.findings.iter().map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect();
            panic!("the demo is refused:\n{}", said.join("\n"));
        }
        Err(failure) => panic!("the demo cannot be written: {failure}"),
    }
}

#[test]
fn the_demo_has_no_error_and_no_warning() {
    let verdict = pipeline::verify(&Disk { today: DAY }, &root().join("content")).unwrap();
    let said: Vec<String> = verdict.findings.iter().map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect();
    assert_eq!(said, Vec::<String>::new());
    assert!(verdict.not_analysed.is_empty());
    let released = verdict.library.procedures.iter().filter(|procedure| procedure.status == Status::Released).count();
    assert!(released >= 5, "only {released} released procedures");
}

#[test]
fn the_published_demo_is_what_publishing_makes() {
    let committed = root().join("site-demo");
    if std::env::var_os("UPDATE").is_some() {
        publish(&committed);
    }
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("site");
    publish(&target);
    let (made, kept) = (files(&target), files(&committed));
    let differ: Vec<&String> = made.keys().chain(kept.keys()).filter(|path| made.get(*path) != kept.get(*path)).collect();
    assert!(differ.is_empty(), "not as committed, run `UPDATE=1 cargo test demo`: {differ:?}");
}

/// Handing over is an ending for the rare fault: the library that ships cures at least two thirds of each procedure's weight by its own steps.
#[test]
fn no_procedure_hands_over_more_than_a_third_of_its_weight() {
    let verdict = pipeline::verify(&Disk { today: DAY }, &root().join("content")).unwrap();
    let mut weighed = 0;
    for procedure in verdict.library.procedures.iter().filter(|procedure| !procedure.faults.is_empty()) {
        let weight = |counts: &dyn Fn(&Fault) -> bool| -> f64 {
            let counted = procedure.faults.iter().filter(|fault| counts(fault));
            counted.map(|fault| fault.weight.to_string().parse::<f64>().unwrap()).sum()
        };
        let cured = |fault: &Fault| procedure.steps.iter().any(|step| step.cures.iter().any(|cure| cure.value == fault.id));
        // A fault comes to an outcome by its name, or to an ending step.
        let ends_so = |ending: &Id| {
            procedure.step(ending).and_then(|step| step.outcome()).map_or(ending.as_str(), |outcome| outcome.value.as_str())
                == "handed-over"
        };
        let handed_over = weight(&|fault| fault.comes_to.as_ref().map_or(!cured(fault), |ending| ends_so(&ending.value)));
        let all = weight(&|_| true);
        assert!(handed_over * 3.0 <= all, "{}: {handed_over} of {all}", procedure.id);
        weighed += 1;
    }
    assert!(weighed >= 30, "only {weighed} procedures have faults");
}
