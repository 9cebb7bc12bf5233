//! Words of running text, and a search for many phrases at once. Knows nothing of procedures.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use rustc_hash::FxHashMap;
use unicode_normalization::UnicodeNormalization;

use super::stem::stem;

/// When two words are the same word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sameness {
    /// English: the same stem.
    Stem,
    /// Any other language: the same letters, case aside.
    Exact,
}

impl Sameness {
    /// By a BCP 47 language tag: `en` and whatever begins with `en-` have stems.
    pub fn of_language(tag: &str) -> Self {
        let primary = tag.split('-').next().unwrap_or_default();
        if primary.eq_ignore_ascii_case("en") { Self::Stem } else { Self::Exact }
    }
}

/// The words of a text in the form in which they are compared. Letters and digits make words; a hyphen parts them, as anything else does.
/// Characters that do not show (soft hyphen, joiners, spaces of no width) part nothing: the reader sees one word there. Letters that are one in print
/// and several in the file, or the other way round (`ﬁ`, `é` in two parts, letters of full width), are the same letters (Unicode, form NFKC).
pub fn words(text: &str, sameness: Sameness) -> Vec<String> {
    let mut words = Vec::new();
    each_word(text, |word| {
        words.push(match sameness {
            Sameness::Stem => stem(word),
            Sameness::Exact => word.to_owned(),
        });
    });
    words
}

/// The same words, each kept once for as long as the thread lives: texts repeat their words.
fn kept_words(text: &str, sameness: Sameness) -> Vec<Rc<str>> {
    let mut words = Vec::new();
    STEMS.with_borrow_mut(|stems| {
        each_word(text, |word| {
            words.push(match (sameness, stems.get(word)) {
                (Sameness::Exact, _) => word.into(),
                (Sameness::Stem, Some(known)) => known.clone(),
                (Sameness::Stem, None) => {
                    let new: Rc<str> = stem(word).into();
                    if stems.len() == MOST_STEMS {
                        stems.clear();
                    }
                    stems.insert(word.to_owned(), new.clone());
                    new
                }
            });
        });
    });
    words
}

/// As many words as a large library has, several times over (common practice, no source).
const MOST_STEMS: usize = 50_000;

thread_local! {
    static STEMS: RefCell<FxHashMap<String, Rc<str>>> = RefCell::default();
}

/// Each word in lower case, as [`words`] says.
fn each_word(text: &str, told: impl FnMut(&str)) {
    if text.is_ascii() {
        // Nothing of ASCII is unseen, and all of it is in the form NFKC.
        cut(text.chars(), told);
    } else {
        cut(text.chars().filter(|character| !is_unseen(*character)).nfkc(), told);
    }
}

fn cut(characters: impl Iterator<Item = char>, mut told: impl FnMut(&str)) {
    let mut word = String::new();
    for character in characters.chain(std::iter::once(' ')) {
        if character.is_ascii_alphanumeric() {
            word.push(character.to_ascii_lowercase());
        } else if character.is_alphanumeric() {
            word.extend(character.to_lowercase());
        } else if !word.is_empty() {
            told(&word);
            word.clear();
        }
    }
}

/// What Unicode calls a default-ignorable code point (DerivedCoreProperties of Unicode 16, from memory).
fn is_unseen(character: char) -> bool {
    matches!(
        character,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}'
            | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fff8}' | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}'
    )
}

/// Phrases, each leading to a key, searched for all at once. A text is read once, whatever the number of phrases: each of its words is looked up,
/// and only phrases that begin with it are compared.
#[derive(Clone, Debug)]
pub struct Phrases<K> {
    sameness: Sameness,
    /// By first word; what follows it, the phrase as written, and the key.
    by_first: FxHashMap<String, Vec<Phrase<K>>>,
}

#[derive(Clone, Debug)]
struct Phrase<K> {
    rest: Vec<String>,
    written: String,
    key: K,
}

impl<K: Clone + Ord> Phrases<K> {
    pub fn new(sameness: Sameness) -> Self {
        Self { sameness, by_first: FxHashMap::default() }
    }

    /// Adds a phrase. One without any letter or digit can be found nowhere and is left out.
    pub fn add(&mut self, phrase: &str, key: K) {
        let mut words = words(phrase, self.sameness).into_iter();
        if let Some(first) = words.next() {
            let phrase = Phrase { rest: words.collect(), written: phrase.trim().to_owned(), key };
            self.by_first.entry(first).or_default().push(phrase);
        }
    }

    /// The keys of the phrases that stand in the text, their words side by side, each with its phrase as written.
    pub fn find(&self, text: &str) -> BTreeMap<K, &str> {
        let words = kept_words(text, self.sameness);
        let mut found = BTreeMap::new();
        for (index, word) in words.iter().enumerate() {
            let after = words.get(index + 1..).unwrap_or_default();
            for phrase in self.by_first.get(&**word).into_iter().flatten() {
                if phrase.rest.len() <= after.len() && phrase.rest.iter().zip(after).all(|(wanted, word)| **wanted == **word) {
                    found.entry(phrase.key.clone()).or_insert(phrase.written.as_str());
                }
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(language: &str, phrases: &[&str], text: &str) -> Vec<String> {
        let mut all = Phrases::new(Sameness::of_language(language));
        for phrase in phrases {
            all.add(phrase, *phrase);
        }
        all.find(text).into_keys().map(str::to_owned).collect()
    }

    #[test]
    fn letters_and_digits_make_words_and_everything_else_parts_them() {
        assert_eq!(words("Pull-out the A4 tray; 190\u{a0}°C.", Sameness::Exact), ["pull", "out", "the", "a4", "tray", "190", "c"]);
        assert_eq!(words("Für\u{ad}sorge STRASSE Ωμέγα", Sameness::Exact), ["fürsorge", "strasse", "ωμέγα"]);
        assert!(words(" - · ", Sameness::Stem).is_empty());
    }

    #[test]
    fn a_kept_word_is_the_word() {
        let text = "Switching the roller's fans on, and off: STRASSE, ﬁlters, 190\u{a0}°C; Switching";
        for sameness in [Sameness::Stem, Sameness::Exact] {
            // Twice: first they are new, then they are known.
            for _ in 0..2 {
                let kept: Vec<String> = kept_words(text, sameness).iter().map(|word| word.to_string()).collect();
                assert_eq!(kept, words(text, sameness));
            }
        }
        assert_eq!(
            words("Pull-out 4 A4", Sameness::Exact),
            words("Pull-out 4 A4\u{ad}", Sameness::Exact),
            "plain letters are read the short way"
        );
    }

    #[test]
    fn what_looks_the_same_is_the_same() {
        assert_eq!(words("ﬁlter ﬂap", Sameness::Exact), ["filter", "flap"]);
        assert_eq!(words("e\u{301}lectrode", Sameness::Exact), words("électrode", Sameness::Exact));
        assert_eq!(words("ｆｕｓｅｒ fu\u{fe0f}ser fu\u{2063}ser fu\u{ad}ser", Sameness::Exact), ["fuser"; 4]);
    }

    #[test]
    fn the_words_of_a_phrase_stand_side_by_side_and_in_order() {
        let phrases = ["hot roller", "fuser"];
        assert_eq!(found("en", &phrases, "The hot rollers' edge"), ["hot roller"]);
        assert_eq!(found("en", &phrases, "Hot-roller of the FUSERS"), ["fuser", "hot roller"]);
        assert!(found("en", &phrases, "a hot, then cold roller").is_empty());
        assert!(found("en", &phrases, "roller hot").is_empty());
        assert!(found("en", &phrases, "the refuser").is_empty());
        assert!(found("en", &phrases, "ends with hot").is_empty());
    }

    #[test]
    fn stems_are_for_english_alone() {
        assert_eq!(found("en-GB", &["switch on"], "Switching on the mains"), ["switch on"]);
        assert_eq!(found("EN", &["switch on"], "switched on"), ["switch on"]);
        assert!(found("de", &["walze"], "Walzen").is_empty());
        assert_eq!(found("de", &["walze"], "WALZE"), ["walze"]);
        assert!(found("eng", &["switch on"], "switched on").is_empty());
    }

    #[test]
    fn a_phrase_without_words_is_found_nowhere() {
        assert!(found("en", &["--", ""], "-- anything").is_empty());
    }
}
