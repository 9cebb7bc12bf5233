//! Words to documents: how much each word says for each document, worked out once so that a page only adds up.
//!
//! The measure is BM25 with weighted fields (S. Robertson, H. Zaragoza, "The Probabilistic Relevance Framework", 2009, from memory), in steps of
//! 1/63 of the greatest. Words stand in the forms in which they were written, each leading to the slot of its stem, so that a page needs no stemmer.

use std::collections::{BTreeMap, BTreeSet};

use crate::text::words::{Sameness, words};

/// A text of a document and how much its words count.
pub struct Field {
    weight: f64,
    text: String,
}

impl Field {
    pub fn new(weight: f64, text: &str) -> Self {
        Self { weight, text: text.to_owned() }
    }
}

/// The index as it is written.
pub struct Terms {
    /// Every form of every word, in order, parted by blanks.
    pub forms: String,
    /// For each form its slot, or -1 for a word that says nothing.
    pub slots: Vec<i64>,
    /// For each slot documents and impacts (1 to 63) in turn.
    pub posts: Vec<Vec<u64>>,
}

/// Where more of the same word stops to say more, in units of weighted counts. A symptom counts 8, so one says more than any number of steps.
const SATURATION: f64 = 6.0;
/// How far long documents are held against themselves.
const LENGTH: f64 = 0.5;
const STEPS: f64 = 63.0;

/// English words that say nothing about a fault, from memory of such lists. They are known, so that they are not taken for slips of others.
const EMPTY: &str = "a about after again all also am an and any are aren arent as at be because been before being but by came can cannot cant come \
    comes coming could couldn couldnt d did didn didnt do does doesn doesnt doing don dont each even every for from get gets getting go goes going gone \
    got had has have having he her here his how i if in into is isn isnt it its just keep keeps ll m make makes making me my no not now of on once one only \
    or other our out over own please put re s same say says she should so some still such t than that the their them then there these they this \
    those through to too under until up us ve very was wasn wasnt we well went were what when where which while who why will with won wont would \
    wouldn you your";

pub fn terms(documents: &[&[Field]], sameness: Sameness) -> Terms {
    let (counts, mut forms) = count(documents, sameness);
    let lengths: Vec<f64> = counts.iter().map(|count| count.values().sum()).collect();
    let mean = (lengths.iter().sum::<f64>() / lengths.len().max(1) as f64).max(1.0);
    let mut weights: BTreeMap<&str, Vec<(u64, f64)>> = BTreeMap::new();
    for ((number, count), length) in (0..).zip(&counts).zip(&lengths) {
        for (stem, weight) in count {
            let fair = weight / (1.0 - LENGTH + LENGTH * length / mean);
            weights.entry(stem).or_default().push((number, fair / (fair + SATURATION)));
        }
    }
    let rarity = |found: usize| (1.0 + (counts.len() as f64 - found as f64 + 0.5) / (found as f64 + 0.5)).ln();
    let scale = STEPS / rarity(1).max(f64::MIN_POSITIVE);
    let post = |list: &Vec<(u64, f64)>| {
        let steps = list.iter().map(|(number, weight)| (*number, (weight * rarity(list.len()) * scale).round().clamp(1.0, STEPS) as u64));
        steps.flat_map(|(number, impact)| [number, impact]).collect()
    };
    let slots: BTreeMap<&str, i64> = weights.keys().copied().zip(0..).collect();
    let posts = weights.values().map(post).collect();
    if sameness == Sameness::Stem {
        forms.extend(EMPTY.split_whitespace().map(|word| (word.to_owned(), String::new())));
    }
    let slot_of = |stem: &String| slots.get(stem.as_str()).copied().unwrap_or(-1);
    Terms { forms: forms.keys().map(String::as_str).collect::<Vec<_>>().join(" "), slots: forms.values().map(slot_of).collect(), posts }
}

type Counts = Vec<BTreeMap<String, f64>>;

/// For each document its stems with their weighted counts; and every form with its stem.
fn count(documents: &[&[Field]], sameness: Sameness) -> (Counts, BTreeMap<String, String>) {
    let empty: BTreeSet<&str> = if sameness == Sameness::Stem { EMPTY.split_whitespace().collect() } else { BTreeSet::new() };
    let mut forms = BTreeMap::new();
    let mut of = |document: &&[Field]| {
        let mut stems = BTreeMap::new();
        for field in *document {
            let written = words(&field.text, Sameness::Exact);
            for (form, stem) in written.into_iter().zip(words(&field.text, sameness)).filter(|(form, _)| !empty.contains(form.as_str())) {
                *stems.entry(stem.clone()).or_default() += field.weight;
                forms.insert(form, stem);
            }
        }
        stems
    };
    let counts = documents.iter().map(&mut of).collect();
    (counts, forms)
}

/// A panel code as it is compared: letters and digits alone, small.
pub fn code(written: &str) -> String {
    words(written, Sameness::Exact).concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(texts: &[&[(f64, &str)]]) -> Terms {
        let fields: Vec<Vec<Field>> =
            texts.iter().map(|fields| fields.iter().map(|(weight, text)| Field::new(*weight, text)).collect()).collect();
        terms(&fields.iter().map(Vec::as_slice).collect::<Vec<_>>(), Sameness::Stem)
    }

    fn post<'a>(terms: &'a Terms, form: &str) -> Option<&'a [u64]> {
        let at = terms.forms.split(' ').position(|one| one == form)?;
        terms.posts.get(usize::try_from(*terms.slots.get(at)?).ok()?).map(Vec::as_slice)
    }

    #[test]
    fn a_rare_word_and_a_heavy_field_say_more() {
        let terms = of(&[&[(8.0, "dark lines"), (1.0, "toner")], &[(1.0, "the line of toner")], &[(1.0, "toner rolls")]]);
        let (dark, lines) = (post(&terms, "dark").unwrap(), post(&terms, "lines").unwrap());
        assert_eq!(post(&terms, "line"), Some(lines), "forms of one stem share a slot");
        assert!(dark[1] > lines[1], "in one document, not in two: {dark:?} {lines:?}");
        assert!(lines[1] > lines[3], "in a symptom, not in a step: {lines:?}");
        assert!(terms.posts.iter().flat_map(|post| post.chunks(2)).all(|pair| (1..=63).contains(&pair[1])));
        assert!(terms.forms.split(' ').any(|form| form == "the") && post(&terms, "the").is_none(), "known, and without a slot");
    }

    #[test]
    fn nothing_to_find_is_no_fault() {
        assert!(of(&[]).posts.is_empty());
        assert!(of(&[&[]]).posts.is_empty());
    }

    #[test]
    fn codes_are_compared_by_letters_and_digits() {
        assert_eq!(code("J-30"), "j30");
        assert_eq!(code(" 13.20/1 "), "13201");
    }
}
