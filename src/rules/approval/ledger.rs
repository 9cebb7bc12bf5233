//! Writes an approval into the text of `approvals.yaml`. Everything else in it stays as it is, comments included.

use std::ops::Range;

use jiff::civil::Date;

use crate::read::yaml::{self, Mapping, Node, Value};
use crate::text::id::Id;
use crate::text::place::{FileId, Place};

/// The file, from the top of a library.
pub const NAME: &str = "approvals.yaml";

/// One approval as it is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    pub procedure: Id,
    pub revision: u32,
    pub digest: String,
    pub by: String,
    pub on: Date,
}

const TITLE: &str =
    "# What was approved, in which revision, by which role and when. Written by `stepward approve`; the digests are of no use by hand.\n";
/// Where a line of digests is broken, in characters.
const WIDTH: usize = 118;

/// The text with the approval in it: in the place of the last one of that procedure, else after the last entry. `None` for a text that cannot be
/// understood, or is written in a way in which the entry has no sure place.
pub fn sign(text: &str, entry: &Entry) -> Option<String> {
    let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let signed = match root(text, mark)? {
        None => after_the_end(text, entry),
        Some(root) => match entry_of(&root, "approvals") {
            None if root.entries.is_empty() => after_the_end(text, entry),
            // A key that the format does not know is a finding, and not ours to write beside.
            None => return None,
            Some((_, Node { value: Value::List(items), at })) => in_list(text, *at, items, entry)?,
            Some((key, Node { value: Value::Scalar(scalar), .. })) if scalar.plain && scalar.text.is_empty() => {
                insert(text, line_end(text, key.end as usize), &on_new_lines(entry, "  "))
            }
            Some(_) => return None,
        },
    };
    // Whatever way of writing was met: what is read back is what was meant, or nothing is written.
    let before = root(text, mark)?.map(|root| list(&root)).unwrap_or_default();
    let after = list(&root(&signed, mark)??);
    is_signed(&before, &after, entry).then_some(signed)
}

/// The outermost mapping; `None` inside for a text without anything, outside for one that cannot be understood.
fn root(text: &str, mark: usize) -> Option<Option<Mapping>> {
    let document = yaml::parse(text, mark..text.len(), FileId::default());
    if !document.problems.is_empty() || !document.duplicates.is_empty() {
        return None;
    }
    match document.root.map(|node| node.value) {
        None => Some(None),
        Some(Value::Map(mapping)) => Some(Some(mapping)),
        Some(Value::Scalar(scalar)) if scalar.plain && scalar.text.is_empty() => Some(None),
        Some(Value::Scalar(_) | Value::List(_)) => None,
    }
}

fn entry_of<'n>(mapping: &'n Mapping, key: &str) -> Option<(Place, &'n Node)> {
    mapping.entries.iter().find(|(name, _)| name.value == key).map(|(name, node)| (name.at, node))
}

/// Every entry as its keys and words.
fn list(root: &Mapping) -> Vec<Vec<(String, String)>> {
    let Some((_, Node { value: Value::List(items), .. })) = entry_of(root, "approvals") else { return Vec::new() };
    let word = |node: &Node| match &node.value {
        Value::Scalar(scalar) => scalar.text.trim().to_owned(),
        Value::List(_) | Value::Map(_) => String::new(),
    };
    let entry = |item: &Node| match &item.value {
        Value::Map(mapping) => mapping.entries.iter().map(|(key, node)| (key.value.clone(), word(node))).collect(),
        Value::Scalar(_) | Value::List(_) => Vec::new(),
    };
    items.iter().map(entry).collect()
}

fn is_signed(before: &[Vec<(String, String)>], after: &[Vec<(String, String)>], entry: &Entry) -> bool {
    let of_it = |one: &Vec<(String, String)>| one.iter().any(|(key, word)| key == "procedure" && *word == *entry.procedure.as_str());
    let at = before.iter().rposition(of_it).unwrap_or(before.len());
    let mut wanted = before.to_vec();
    let mut words: Vec<(String, String)> = values(entry).map(|(key, word)| (key.to_owned(), word)).into();
    words.insert(0, ("procedure".to_owned(), entry.procedure.to_string()));
    let Some(signed) = after.get(at) else { return false };
    let same = words.iter().all(|pair| signed.contains(pair)) && signed.len() == words.len();
    if let Some(old) = wanted.get_mut(at) {
        old.clone_from(signed);
    } else {
        wanted.push(signed.clone());
    }
    same && wanted == after
}

/// The values that an approval anew changes, as they are read back.
fn values(entry: &Entry) -> [(&'static str, String); 4] {
    let digest = entry.digest.clone();
    [("revision", entry.revision.to_string()), ("digest", digest), ("by", entry.by.clone()), ("on", entry.on.to_string())]
}

fn in_list(text: &str, at: Place, items: &[Node], entry: &Entry) -> Option<String> {
    let of_it = |item: &&Node| match &item.value {
        Value::Map(mapping) => matches!(
            entry_of(mapping, "procedure"),
            Some((_, Node { value: Value::Scalar(scalar), .. })) if scalar.text.trim() == entry.procedure.as_str()
        ),
        Value::Scalar(_) | Value::List(_) => false,
    };
    if let Some(Node { value: Value::Map(mapping), .. }) = items.iter().rfind(of_it) {
        return replace(text, mapping, entry);
    }
    let flow = text.get(at.start as usize..)?.starts_with('[');
    match items.last() {
        // An empty list can only be written `[]`.
        None => {
            let (start, end) = (at.start as usize, at.start as usize + text.get(at.start as usize..)?.find(']')? + 1);
            let before = text.get(..start)?.trim_end_matches([' ', '\t']);
            Some(format!("{before}{}{}", broken_as(text, &on_new_lines(entry, "  ")), text.get(end..)?))
        }
        Some(last) if flow => Some(insert(text, end_of(text, last), &format!(", {}", inline(entry)))),
        Some(last) => {
            let dash = text.get(..last.at.start as usize)?.trim_end();
            let column = dash.strip_suffix('-')?.rsplit(['\n', '\r']).next()?;
            column.chars().all(|c| c == ' ').then_some(())?;
            Some(insert(text, line_end(text, end_of(text, last)), &on_new_lines(entry, column)))
        }
    }
}

/// The values of an entry that is there, each where it stands.
fn replace(text: &str, mapping: &Mapping, entry: &Entry) -> Option<String> {
    let mut new: Vec<(Range<usize>, String)> = Vec::new();
    for (key, _) in values(entry) {
        let (place, node) = entry_of(mapping, key)?;
        let Value::Scalar(_) = node.value else { return None };
        let column = text.get(..place.start as usize)?.rsplit(['\n', '\r']).next()?.chars().take_while(|c| *c == ' ').count();
        new.push((node.at.start as usize..end_of(text, node), written(key, entry, &" ".repeat(column + 4))));
    }
    new.sort_by_key(|(range, _)| range.start);
    let mut signed = text.to_owned();
    for (range, value) in new.into_iter().rev() {
        signed.replace_range(range, &broken_as(text, &value));
    }
    Some(signed)
}

/// Where the words of a node end. (A block's node ends where the next thing begins.)
fn end_of(text: &str, node: &Node) -> usize {
    match &node.value {
        Value::Map(mapping) if !text.get(node.at.start as usize..).is_some_and(|text| text.starts_with('{')) => {
            mapping.entries.last().map_or(node.at.end as usize, |(_, last)| end_of(text, last))
        }
        Value::Map(_) | Value::Scalar(_) | Value::List(_) => {
            let start = node.at.start as usize;
            start + text.get(start..node.at.end as usize).unwrap_or("").trim_end().len()
        }
    }
}

fn after_the_end(text: &str, entry: &Entry) -> String {
    let title = if text.trim_start_matches('\u{feff}').trim().is_empty() { TITLE } else { "" };
    let gap = if text.is_empty() || text.ends_with(['\n', '\r']) { "" } else { "\n" };
    let new = format!("{gap}{title}approvals:\n{}", block(entry, "  "));
    format!("{text}{}", broken_as(text, &new))
}

/// An entry as a block, its dash set in by `indent`.
fn block(entry: &Entry, indent: &str) -> String {
    let deeper = format!("{indent}      ");
    let lines = values(entry).map(|(key, _)| format!("{indent}  {key}: {}\n", written(key, entry, &deeper)));
    format!("{indent}- procedure: {}\n{}", entry.procedure, lines.concat())
}

fn on_new_lines(entry: &Entry, indent: &str) -> String {
    format!("\n{}", block(entry, indent).trim_end())
}

fn inline(entry: &Entry) -> String {
    let pairs = values(entry).map(|(key, _)| format!("{key}: {}", written(key, entry, "      ")));
    format!("{{ procedure: {}, {} }}", entry.procedure, pairs.join(", "))
}

/// A value as YAML; a digest on several lines, set in by `indent`.
fn written(key: &str, entry: &Entry, indent: &str) -> String {
    match key {
        "revision" => entry.revision.to_string(),
        "digest" => format!("\"{}\"", broken(&entry.digest, indent)),
        "on" => entry.on.to_string(),
        _ => {
            let plain =
                entry.by.starts_with(|c: char| c.is_ascii_alphabetic()) && entry.by.chars().all(|c| c.is_ascii_alphanumeric() || c == ' ');
            // A text of JSON is one of YAML.
            if plain { entry.by.clone() } else { serde_json::Value::from(entry.by.as_str()).to_string() }
        }
    }
}

/// Inside double quotes a line break reads as a space.
fn broken(digest: &str, indent: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    for word in digest.split(' ') {
        match lines.last_mut() {
            // The digest that decides stands alone on its line.
            Some(line) if line.contains(':') && line.len() + 1 + word.len() + indent.len() <= WIDTH => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join(&format!("\n{indent}"))
}

fn insert(text: &str, at: usize, new: &str) -> String {
    let (before, after) = text.split_at(at.min(text.len()));
    format!("{before}{}{after}", broken_as(text, new))
}

fn line_end(text: &str, from: usize) -> usize {
    text.get(from..).and_then(|rest| rest.find(['\n', '\r'])).map_or(text.len(), |at| from + at)
}

/// Lines broken as the file breaks them.
fn broken_as(text: &str, new: &str) -> String {
    if text.contains("\r\n") { new.replace('\n', "\r\n") } else { new.to_owned() }
}
