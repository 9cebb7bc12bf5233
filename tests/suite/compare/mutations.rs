//! A library, reformatted (nothing is told) and weakened at one place at a time (safety is told first).

use stepward::compare::kind::Area;
use stepward::text::folder::{Entry, Folder};

use super::compared;
use crate::mutants::{sample, text};

/// A file with other line breaks in its paragraphs, comments, blank lines and line ends: the same meaning.
fn reformatted(path: &str, text: &str) -> String {
    let (head, body) = match text.strip_prefix("---\n").and_then(|rest| rest.split_once("\n---\n")) {
        Some((head, body)) => (format!("---\n# reformatted\n{head}\n\n# end\n---\n"), body.to_owned()),
        None if path.ends_with(".yaml") => (format!("# reformatted\n\n{text}\n# end\n"), String::new()),
        None => (String::new(), text.to_owned()),
    };
    let mut out = head;
    for line in body.lines() {
        let plain = line.starts_with(|c: char| c.is_alphabetic()) && !line.contains('|');
        let half =
            line.match_indices(' ').map(|(at, _)| at).nth(3).filter(|at| plain && line[at + 1..].starts_with(|c: char| c.is_alphabetic()));
        match half {
            Some(at) => out += &format!("{}\n{}\n", &line[..at], line[at..].trim_start()),
            None => out += &format!("{line}\n"),
        }
    }
    out.replace('\n', "\r\n")
}

#[test]
fn the_reformatted_library_has_no_change_in_meaning() {
    let old = sample();
    let mut new = Folder::default();
    for (path, entry) in &old.entries {
        new.entries.insert(path.clone(), Entry::File(reformatted(path, &text(entry)).into_bytes()));
    }
    let comparison = compared(&old, &new);
    assert!(comparison.same(), "{:?}", comparison.changes);
    assert!(comparison.behaviours.len() >= 10, "{}", comparison.behaviours.len());
}

/// Every single damage to one place of a procedure: what it is, and the file after it.
fn damaged(text: &str) -> Vec<(String, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let joined = |lines: &[String]| lines.join("\n") + "\n";
    let mut found = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        let own = line.trim_start();
        let mut with = |name: &str, replacement: Option<String>| {
            let mut all: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            match replacement {
                Some(line) => all[number] = line,
                None => drop(all.remove(number)),
            }
            found.push((format!("{name}, line {}", number + 1), joined(&all)));
        };
        for key in ["cautions: ", "sets: ", "wait: ", "wait-for: ", "requires: ", "least: "] {
            if own.starts_with(key) {
                with(key, None);
            } else if let Some(start) = line.find(&format!(", {key}")) {
                let end = line[start + 2..].find([',', '}']).map_or(line.len(), |end| start + 2 + end);
                with(key, Some(format!("{}{}", &line[..start], line[end..].trim_start_matches(' '))));
            }
        }
        if let Some(start) = line.find(", person: ") {
            let end = line[start + 2..].find([',', '}']).map_or(line.len(), |end| start + 2 + end);
            with("person", Some(format!("{} {}", &line[..start], &line[end..])));
        }
        if own.starts_with("at-most: ") {
            with("at-most", Some(line.replace("at-most: ", "at-most: 9")));
        }
        let target = |line: &str| line.split("then: ").nth(1).map(|rest| rest.split([',', ' ']).next().unwrap_or("").to_owned());
        if let (true, Some(next)) =
            (own.starts_with("- { answer"), lines.get(number + 1).filter(|next| next.trim_start().starts_with("- { answer")))
            && let (Some(first), Some(second)) = (target(line), target(next))
            && first != second
        {
            let mut all: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            all[number] = line.replace(&format!("then: {first}"), &format!("then: {second}"));
            all[number + 1] = next.replace(&format!("then: {second}"), &format!("then: {first}"));
            found.push((format!("swap, line {}", number + 1), joined(&all)));
        }
    }
    found
}

#[test]
fn every_single_damage_to_the_library_is_told_with_safety_first() {
    let old = sample();
    let slow = std::env::var_os("SLOW").is_some();
    let (mut all, mut noticed, mut missed) = (0, 0, Vec::new());
    for (path, entry) in old.entries.iter().filter(|(path, _)| path.starts_with("procedures/")) {
        for (number, (name, damage)) in damaged(&text(entry)).into_iter().enumerate() {
            // One in twelve by default: each compares the whole library.
            if !slow && number % 12 != 0 {
                continue;
            }
            all += 1;
            let mut new = old.clone();
            new.entries.insert(path.clone(), Entry::File(damage.into_bytes()));
            let comparison = compared(&old, &new);
            let first = comparison.changes.first();
            if !comparison.same() && first.is_some_and(|change| change.kind.area == Area::Safety) {
                noticed += 1;
            } else {
                missed.push(format!("{path}: {name}: {first:?}"));
            }
        }
    }
    println!("noticed {noticed} of {all}");
    assert!(missed.is_empty() && all > 12, "noticed {noticed} of {all}; missed:\n{}", missed.join("\n"));
}
