//! A library with a few pictures, changed in one place at a time, and what that does to the digests of its procedures.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use stepward::model::library::Library;
use stepward::read::read;
use stepward::read::yaml::{self, Node, Value};
use stepward::rules::approval::digest::Digests;
use stepward::text::folder::{Entry, Folder};
use stepward::text::place::FileId;

/// The library, with a picture in one procedure and one on the stop card.
pub fn sample() -> Folder {
    let mut folder = crate::mutants::sample();
    folder.entries.remove("approvals.yaml");
    for name in ["back of a sheet.svg", "stop.svg", "unused.svg"] {
        folder.entries.insert(format!("pictures/{name}"), Entry::File(b"<svg/>".to_vec()));
    }
    let procedure = text(&folder, "procedures/dirt-on-the-back.md") + "\n![The back of a sheet](<../pictures/back of a sheet.svg>)\n";
    put(&mut folder, "procedures/dirt-on-the-back.md", procedure);
    let card = text(&folder, "stop.md") + "\n![A hand, held up](pictures/stop.svg)\n";
    put(&mut folder, "stop.md", card);
    folder
}

pub fn text(folder: &Folder, path: &str) -> String {
    match &folder.entries[path] {
        Entry::File(bytes) => String::from_utf8(bytes.clone()).unwrap(),
        Entry::TooLarge(_) | Entry::Outside => panic!("{path}"),
    }
}

pub fn put(folder: &mut Folder, path: &str, text: impl Into<Vec<u8>>) {
    folder.entries.insert(path.to_owned(), Entry::File(text.into()));
}

pub fn with(folder: &Folder, path: &str, text: impl Into<Vec<u8>>) -> Folder {
    let mut folder = folder.clone();
    put(&mut folder, path, text);
    folder
}

/// The digest of every procedure, as it is written down.
pub type All = BTreeMap<String, String>;

pub fn digests(folder: &Folder) -> All {
    let (library, _) = read(folder);
    of_library(&library)
}

pub fn of_library(library: &Library) -> All {
    let digests = Digests::of(library, library.procedures.iter().map(|one| &one.id));
    library.procedures.iter().map(|one| (one.id.to_string(), digests.get(&one.id).unwrap().to_string())).collect()
}

/// The procedures whose approval would be void, each with the names of what changed for it.
pub fn voided(before: &All, folder: &Folder) -> BTreeMap<String, Vec<String>> {
    let (library, _) = read(folder);
    let digests = Digests::of(&library, library.procedures.iter().map(|one| &one.id));
    let changed = library.procedures.iter().filter_map(|one| {
        let then = before.get(one.id.as_str())?;
        Some((one.id.to_string(), digests.get(&one.id).unwrap().changed_since(then)?))
    });
    changed.collect()
}

/// A single value of a YAML text: the keys that lead to it, where it stands, and what it says.
#[derive(Clone, Debug)]
pub struct Leaf {
    pub path: Vec<String>,
    pub at: Range<usize>,
    pub says: String,
}

impl Leaf {
    pub fn key(&self, depth: usize) -> &str {
        self.path.get(depth).map_or("", String::as_str)
    }
}

/// Where the front matter of a file stands, or the whole of a YAML file.
pub fn yaml_of(path: &str, text: &str) -> Range<usize> {
    if path.ends_with(".md") { 4..4 + text[4..].find("\n---").unwrap() + 1 } else { 0..text.len() }
}

pub fn tree(path: &str, text: &str) -> Node {
    yaml::parse(text, yaml_of(path, text), FileId::default()).root.unwrap()
}

pub fn leaves(path: &str, text: &str) -> Vec<Leaf> {
    let mut all = Vec::new();
    walk(&tree(path, text), &mut Vec::new(), &mut all);
    all
}

fn walk(node: &Node, path: &mut Vec<String>, all: &mut Vec<Leaf>) {
    match &node.value {
        Value::Scalar(scalar) => {
            let at = node.at.start as usize..node.at.end as usize;
            all.push(Leaf { path: path.clone(), at, says: scalar.text.clone() });
        }
        Value::List(items) => items.iter().for_each(|item| walk(item, path, all)),
        Value::Map(mapping) => {
            for (key, value) in &mapping.entries {
                path.push(key.value.clone());
                walk(value, path, all);
                path.pop();
            }
        }
    }
}

/// Who carries out whom, told from the front matter alone.
pub fn callers(folder: &Folder, id: &str) -> BTreeSet<String> {
    let mut all = BTreeSet::from([id.to_owned()]);
    loop {
        let before = all.len();
        for path in procedures(folder) {
            let carries = |leaf: &Leaf| leaf.key(2) == "carry-out" && all.contains(&leaf.says);
            if leaves(&path, &text(folder, &path)).iter().any(carries) {
                all.insert(id_of(&path));
            }
        }
        if all.len() == before {
            return all;
        }
    }
}

pub fn procedures(folder: &Folder) -> Vec<String> {
    folder.entries.keys().filter(|path| path.starts_with("procedures/")).cloned().collect()
}

pub fn id_of(path: &str) -> String {
    path.rsplit('/').next().unwrap().trim_end_matches(".md").to_owned()
}
