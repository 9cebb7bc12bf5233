//! Runs every example of every rule's page, and every case under `tests/cases`: the findings are those marked, at the marked lines, and no others.

use std::fs;
use std::path::{Path, PathBuf};

use stepward::analyse::analyse;
use stepward::finding::rule;
use stepward::read::read;
use stepward::rules::example::{Case, DAY, cases};

fn markdown_files(folder: &str) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = walkdir::WalkDir::new(root)
        .into_iter()
        .filter_map(Result::ok)
        .map(walkdir::DirEntry::into_path)
        .filter(|path| path.extension().is_some_and(|extension| extension == "md"))
        .collect();
    files.sort();
    files
}

/// A message states the fact in one short line: lower case, no final stop, at most 90 characters.
fn badly_worded(message: &str) -> Option<&'static str> {
    let first = message.chars().next();
    match () {
        () if message.chars().count() > 90 => Some("over 90 characters"),
        () if message.ends_with('.') => Some("ends with a stop"),
        () if first.is_none_or(char::is_uppercase) => Some("begins with a capital"),
        () => None,
    }
}

/// Compares what a case's marks expect with what is found; gives the differences.
fn differences(case: &Case) -> Vec<String> {
    let (library, reading) = read(&case.folder());
    let verdict = analyse(library, reading, DAY);
    let mut expected = case.expected.clone();
    let mut wrong = Vec::new();
    for finding in verdict.findings.iter() {
        wrong.extend(badly_worded(&finding.message).map(|why| format!("{}: {why}: {}", finding.rule.name, finding.message)));
        let path = verdict.library.sources.path(finding.at.file).to_owned();
        let found = (path, finding.at.line, finding.rule.name.to_owned());
        match expected.iter().position(|wanted| *wanted == found) {
            Some(index) => drop(expected.remove(index)),
            None => wrong.push(format!("not expected: {}:{}: {} ({})", found.0, found.1, found.2, finding.message)),
        }
    }
    wrong.extend(expected.iter().map(|(path, line, rule)| format!("not found: {path}:{line}: {rule}")));
    wrong
}

fn page_of(rule: &rule::Rule) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("src/rules/{}/{}.md", rule.group.as_str(), rule.name.replace('-', "_")))
}

#[test]
fn every_example_on_a_rules_page_gives_just_the_findings_it_marks() {
    let mut wrong = Vec::new();
    let mut run = 0;
    for rule in rule::ALL {
        let Ok(page) = fs::read_to_string(page_of(rule)) else { continue };
        for case in cases(&page) {
            run += 1;
            wrong.extend(differences(&case).into_iter().map(|what| format!("{} / {}: {what}", rule.name, case.name)));
            let own = case.expected.iter().all(|(_, _, name)| name == rule.name);
            if case.fails && (case.expected.is_empty() || !own) {
                wrong.push(format!("{} / {}: a failing example marks this rule, and only it", rule.name, case.name));
            }
            if !case.fails && !case.expected.is_empty() {
                wrong.push(format!("{} / {}: a passing example marks nothing", rule.name, case.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{} examples run\n{}", run, wrong.join("\n"));
    assert!(run > 0, "no example was run");
}

/// The level-2 headings of a page, without those of the procedures in its examples.
fn headings(page: &str) -> Vec<&str> {
    let mut fenced = false;
    let outside = page.lines().filter(move |line| {
        fenced ^= line.starts_with("```");
        !fenced
    });
    outside.filter_map(|line| line.strip_prefix("## ")).collect()
}

#[test]
fn every_rule_has_a_page_of_the_fixed_form() {
    let mut wrong = Vec::new();
    for rule in rule::ALL {
        let Ok(page) = fs::read_to_string(page_of(rule)) else {
            wrong.push(format!("{}: no page", rule.name));
            continue;
        };
        let first = page.lines().next().unwrap_or("");
        if !first.ends_with('.') || first.chars().count() > 90 || first.starts_with('#') {
            wrong.push(format!("{}: the first line is one sentence of at most 90 characters", rule.name));
        }
        let headings = headings(&page);
        let wanted: &[&str] = match rule.group {
            stepward::finding::Group::Safety => {
                &["What it checks", "Why it matters", "Fails", "Passes", "Put it right", "What it cannot see", "Sources"]
            }
            _ => &["What it checks", "Fails", "Passes", "Put it right"],
        };
        if headings != wanted {
            wrong.push(format!("{}: headings are {headings:?}, not {wanted:?}", rule.name));
        }
        let (fails, passes): (Vec<Case>, Vec<Case>) = cases(&page).into_iter().partition(|case| case.fails);
        if fails.is_empty() || fails.len() != passes.len() {
            wrong.push(format!("{}: {} failing and {} passing examples", rule.name, fails.len(), passes.len()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_case_gives_just_the_findings_it_marks() {
    let mut wrong = Vec::new();
    let mut run = 0;
    for file in markdown_files("tests/cases") {
        let text = fs::read_to_string(&file).unwrap();
        for case in cases(&text) {
            run += 1;
            wrong.extend(differences(&case).into_iter().map(|what| format!("{}: {}: {what}", file.display(), case.name)));
        }
    }
    assert!(wrong.is_empty(), "{} cases run\n{}", run, wrong.join("\n"));
    assert!(run > 0, "no case was run");
}
