//! The house rules that a program can hold: layers, headers, sizes, forbidden calls, wording.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use stepward::finding::rule;

/// Modules from the ground up; those on one line stand beside each other and do not know each other.
const LAYERS: [&[&str]; 11] = [
    &["text"],
    &["model", "finding"],
    &["read", "flow", "formula"],
    &["rules", "chart", "trade"],
    &["compare"],
    &["analyse", "emit", "theme"],
    &["render"],
    &["build"],
    &["preview", "follow"],
    &["cli"],
    &["main"],
];

/// The last layer that may know nothing of files, clocks and terminals.
const PURE: usize = 6;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &str, extensions: &[&str]) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = walkdir::WalkDir::new(root().join(folder))
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| !entry.path().components().any(|part| part.as_os_str() == "node_modules"))
        .filter(|entry| entry.path().extension().and_then(|it| it.to_str()).is_some_and(|it| extensions.contains(&it)))
        .map(|entry| {
            let path = entry.path().strip_prefix(root()).unwrap_or(Path::new("")).to_string_lossy().into_owned();
            (path, fs::read_to_string(entry.path()).unwrap())
        })
        .collect();
    found.sort();
    found
}

fn layer_of(module: &str) -> Option<usize> {
    LAYERS.iter().position(|layer| layer.contains(&module))
}

fn module_of(path: &str) -> String {
    let inner = path.trim_start_matches("src/");
    inner.split('/').next().unwrap_or("").trim_end_matches(".rs").to_owned()
}

/// The text without what stands in test modules at the end of a file.
fn without_tests(text: &str) -> &str {
    text.split("#[cfg(test)]").next().unwrap_or(text)
}

#[test]
fn imports_go_down_only() {
    let mut wrong = Vec::new();
    for (path, text) in files("src", &["rs"]) {
        let module = module_of(&path);
        if module == "lib" {
            continue;
        }
        let Some(own) = layer_of(&module) else {
            wrong.push(format!("{path}: `{module}` has no layer"));
            continue;
        };
        let prefix = if module == "main" { "stepward::" } else { "crate::" };
        for (number, line) in without_tests(&text).lines().enumerate() {
            for used in line.split(prefix).skip(1).filter(|_| !line.trim_start().starts_with("//")) {
                let name: String = used.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
                let allowed = name == module || layer_of(&name).is_some_and(|layer| layer < own);
                if !allowed && !name.is_empty() {
                    wrong.push(format!("{path}:{}: `{module}` uses `{name}`", number + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_lower_layers_know_no_files_clocks_or_terminals() {
    let forbidden = [
        "std::fs",
        "std::env",
        "std::time",
        "std::net",
        "std::process",
        "println!",
        "eprintln!",
        ".unwrap()",
        "todo!",
        "unimplemented!",
        "dbg!",
    ];
    let mut wrong = Vec::new();
    for (path, text) in files("src", &["rs"]) {
        if layer_of(&module_of(&path)).is_none_or(|layer| layer > PURE) {
            continue;
        }
        for (number, line) in without_tests(&text).lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            wrong.extend(forbidden.iter().filter(|word| code.contains(**word)).map(|word| format!("{path}:{}: `{word}`", number + 1)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The outside comparison of charts compiles the geometry by itself.
#[test]
fn the_geometry_of_charts_stands_on_the_standard_library_alone() {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let crates = manifest.split("[dependencies]").nth(1).unwrap().split("\n[").next().unwrap();
    let mut foreign: Vec<String> =
        crates.lines().filter_map(|line| line.split_once(" =")).map(|(name, _)| format!("{}::", name.replace('-', "_"))).collect();
    foreign.push("crate::".to_owned());
    assert!(foreign.iter().any(|name| name == "blake3::"), "{foreign:?}");
    let mut wrong = Vec::new();
    for (path, text) in files("src/chart", &["rs"]) {
        for (number, line) in without_tests(&text).lines().enumerate() {
            let code = line.split("//").next().unwrap_or("").replace("crate::chart", "");
            wrong.extend(foreign.iter().filter(|name| code.contains(*name)).map(|name| format!("{path}:{}: `{name}`", number + 1)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_file_begins_with_what_it_is() {
    let headless: Vec<String> = files("src", &["rs"])
        .into_iter()
        .chain(files("tests", &["rs"]))
        .filter(|(_, text)| !text.starts_with("//! "))
        .map(|(path, _)| path)
        .collect();
    assert!(headless.is_empty(), "no `//!` header: {headless:?}");
}

#[test]
fn no_file_grows_into_two() {
    let sizes: BTreeMap<&str, usize> = [("src/main.rs", 60), ("src/build/pipeline.rs", 150)].into();
    let long: Vec<String> = files("src", &["rs"])
        .into_iter()
        .filter_map(|(path, text)| {
            let lines = without_tests(&text).lines().count();
            let most = sizes.get(path.as_str()).copied().unwrap_or(400);
            (lines > most).then(|| format!("{path}: {lines} lines, at most {most}"))
        })
        .collect();
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn every_rule_is_emitted_and_its_name_is_kebab_case() {
    let code: String = files("src", &["rs"]).into_iter().filter(|(path, _)| path != "src/finding/rule.rs").map(|(_, text)| text).collect();
    let mut wrong = Vec::new();
    for rule in rule::ALL {
        let constant = rule.name.replace('-', "_").to_uppercase();
        if !code.contains(&format!("rule::{constant}")) && !code.contains(&format!("{constant},")) {
            wrong.push(format!("{}: no code emits it", rule.name));
        }
        let good = rule.name.split('-').all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()));
        if !good || rule::ALL.iter().filter(|other| other.name == rule.name).count() != 1 {
            wrong.push(format!("{}: not one kebab-case name", rule.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn nothing_points_at_a_machine_or_is_left_to_do() {
    let everywhere = ["src", "tests", "themes", "content"]
        .into_iter()
        .flat_map(|folder| files(folder, &["rs", "md", "js", "mjs", "css", "html", "yaml"]));
    let marks = [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("/ro", "ot/"), concat!("/wo", "rk/"), concat!("tran", "script")];
    let mut wrong = Vec::new();
    for (path, text) in everywhere {
        for (number, line) in text.lines().enumerate() {
            wrong.extend(marks.iter().filter(|mark| line.contains(**mark)).map(|mark| format!("{path}:{}: {mark}", number + 1)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_file_is_left_out_of_the_program() {
    let sources = files("src", &["rs"]);
    let declares = |path: &str, name: &str| {
        sources
            .iter()
            .any(|(other, text)| other == path && text.lines().any(|line| line.trim_start_matches("pub ").trim() == format!("mod {name};")))
    };
    let mut wrong = Vec::new();
    for (path, _) in &sources {
        let inner = path.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
        if matches!(inner, "lib" | "main") {
            continue;
        }
        let (folder, name) = inner.rsplit_once('/').unwrap_or(("", inner));
        let parents = if folder.is_empty() {
            vec!["src/lib.rs".to_owned()]
        } else {
            vec![format!("src/{folder}.rs"), format!("src/{folder}/mod.rs")]
        };
        if !parents.iter().any(|parent| declares(parent, name)) {
            wrong.push(path.clone());
        }
    }
    assert!(wrong.is_empty(), "no module declares {wrong:?}");
}
