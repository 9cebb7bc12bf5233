//! What of OLD is what of NEW: by id; else by kind and text, where that is found once on either side; else by the likeness of the texts.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::said::plain;
use crate::text::id::Id;

/// Texts less alike than this (in thousandths) are not taken for each other; one id over two such texts is a warning.
pub const LEAST_LIKENESS: u32 = 300;

/// Something declared that goes by an id.
#[derive(Clone, Debug)]
pub struct Entry {
    pub id: Id,
    pub kind: &'static str,
    pub text: String,
}

/// How two entries were found to be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    Id,
    /// The same kind and text, on either side once.
    Text,
    /// Like texts, in thousandths.
    Likeness(u32),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    pub old: Id,
    pub new: Id,
    pub by: By,
}

/// Each entry at most once; pairs made by id first, in the order of OLD.
pub fn pair(old: &[Entry], new: &[Entry]) -> Vec<Pair> {
    let known: BTreeSet<&Id> = new.iter().map(|entry| &entry.id).collect();
    let mut pairs: Vec<Pair> = Vec::new();
    let mut taken: BTreeSet<&Id> = BTreeSet::new();
    for entry in old.iter().filter(|entry| known.contains(&entry.id)) {
        if taken.insert(&entry.id) {
            pairs.push(Pair { old: entry.id.clone(), new: entry.id.clone(), by: By::Id });
        }
    }
    let open = |list: &'_ [Entry]| list.iter().filter(|entry| !taken.contains(&entry.id)).cloned().collect::<Vec<Entry>>();
    let (mut left, mut right) = (open(old), open(new));
    by_text(&mut left, &mut right, &mut pairs);
    by_likeness(&left, &right, &mut pairs);
    pairs
}

fn by_text(left: &mut Vec<Entry>, right: &mut Vec<Entry>, pairs: &mut Vec<Pair>) {
    let index = |list: &[Entry]| {
        let mut found: BTreeMap<(&'static str, String), Vec<usize>> = BTreeMap::new();
        for (number, entry) in list.iter().enumerate().filter(|(_, entry)| !entry.text.trim().is_empty()) {
            found.entry((entry.kind, plain(&entry.text).to_lowercase())).or_default().push(number);
        }
        found
    };
    let (olds, news) = (index(left), index(right));
    let (mut used_left, mut used_right) = (BTreeSet::new(), BTreeSet::new());
    for (key, found) in &olds {
        if let ([old], Some([new])) = (found.as_slice(), news.get(key).map(Vec::as_slice)) {
            pairs.push(Pair { old: left[*old].id.clone(), new: right[*new].id.clone(), by: By::Text });
            used_left.insert(*old);
            used_right.insert(*new);
        }
    }
    let keep = |list: &mut Vec<Entry>, used: &BTreeSet<usize>| {
        let mut number = 0;
        list.retain(|_| {
            number += 1;
            !used.contains(&(number - 1))
        });
    };
    keep(left, &used_left);
    keep(right, &used_right);
}

/// The most alike first; of equal ones those that stand first.
fn by_likeness(left: &[Entry], right: &[Entry], pairs: &mut Vec<Pair>) {
    let bags = |list: &[Entry]| list.iter().map(|entry| bag(&entry.text)).collect::<Vec<_>>();
    let (olds, news) = (bags(left), bags(right));
    let mut found: Vec<(u32, usize, usize)> = Vec::new();
    for (i, old) in left.iter().enumerate() {
        for (j, new) in right.iter().enumerate().filter(|(_, new)| new.kind == old.kind) {
            let alike = likeness_of(&olds[i], &news[j]);
            if alike >= LEAST_LIKENESS && !new.text.trim().is_empty() {
                found.push((alike, i, j));
            }
        }
    }
    found.sort_by_key(|(alike, i, j)| (std::cmp::Reverse(*alike), *i, *j));
    let (mut used_left, mut used_right) = (BTreeSet::new(), BTreeSet::new());
    for (alike, i, j) in found {
        if !used_left.contains(&i) && !used_right.contains(&j) {
            used_left.insert(i);
            used_right.insert(j);
            pairs.push(Pair { old: left[i].id.clone(), new: right[j].id.clone(), by: By::Likeness(alike) });
        }
    }
}

/// How alike two texts are, in thousandths: twice the words they share over all their words (Dice 1945), each word as often as it stands there.
pub fn likeness(old: &str, new: &str) -> u32 {
    likeness_of(&bag(old), &bag(new))
}

fn bag(text: &str) -> Vec<String> {
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let mut words: Vec<String> = words.map(str::to_lowercase).collect();
    words.sort();
    words
}

fn likeness_of(old: &[String], new: &[String]) -> u32 {
    let all = old.len() + new.len();
    if all == 0 {
        return 1000;
    }
    let (mut i, mut j, mut shared) = (0, 0, 0);
    while let (Some(left), Some(right)) = (old.get(i), new.get(j)) {
        match left.cmp(right) {
            std::cmp::Ordering::Less => i += 1,
            std::cmp::Ordering::Greater => j += 1,
            std::cmp::Ordering::Equal => {
                shared += 1;
                i += 1;
                j += 1;
            }
        }
    }
    u32::try_from(2000 * shared / all).unwrap_or(1000)
}
