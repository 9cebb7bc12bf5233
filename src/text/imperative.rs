//! Instructions in English sentences: which verbs tell the reader to do something. A reading of surfaces, without a dictionary of the whole
//! language: what it cannot decide it takes for a description.

use super::sentence::{Sentence, Sort, Token};
use super::verbs::{INTRODUCES, LEADS, NOT_LEADS, NOUNS_TOO, OBJECT_BEGINS, PREPOSITIONS, SUBORDINATES, SURE, UNSURE, is_finite};

/// Something that the reader is told to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Act {
    /// Index of the verb among the sentence's spoken tokens.
    pub verb: usize,
    /// "Do not", "never", "must not".
    pub negated: bool,
}

/// The acts of a sentence, in its order. A question has none.
pub fn acts(sentence: &Sentence) -> Vec<Act> {
    let tokens = sentence.spoken();
    if sentence.question {
        return Vec::new();
    }
    let mut acts = Vec::new();
    let mut start = 0;
    for (index, token) in tokens.iter().enumerate() {
        if matches!(token.sort, Sort::Semicolon | Sort::Colon) {
            of_part(&tokens, start, index, &mut acts);
            start = index + 1;
        }
    }
    of_part(&tokens, start, tokens.len(), &mut acts);
    acts
}

/// The acts between two semicolons or colons.
fn of_part(tokens: &[&Token], start: usize, end: usize, acts: &mut Vec<Act>) {
    let tokens = tokens.get(..end).unwrap_or_default();
    let Some(first) = head(tokens, start, false).or_else(|| behind_introduction(tokens, start)) else { return };
    let mut from = first.verb + 1;
    acts.push(first);
    while from < end {
        let joins = tokens[from].sort == Sort::Comma || matches!(tokens[from].word.as_str(), "and" | "then" | "or" | "but");
        from += 1;
        if joins && let Some(act) = head(tokens, from, true) {
            from = act.verb + 1;
            acts.push(act);
        }
    }
}

/// "If the lamp is on, press …", "With the covers shut, press …", "If worn replace it".
fn behind_introduction(tokens: &[&Token], start: usize) -> Option<Act> {
    let first = (start..tokens.len().min(start + MOST_LEADS)).find(|at| !is_lead(word(tokens, *at)))?;
    let opening = word(tokens, first);
    if !INTRODUCES.contains(opening) && !(opening.len() > 4 && opening.ends_with("ing")) {
        return None;
    }
    let bare = matches!(opening, "if" | "when" | "unless" | "where").then(|| head(tokens, first + 2, true)).flatten();
    let commas = (first..tokens.len()).filter(|at| tokens[*at].sort == Sort::Comma);
    bare.or_else(|| commas.map(|at| at + 1).find_map(|at| head(tokens, at, true)))
}

/// As many adverbs as can stand before one verb: a text of nothing else is not walked again for each of its words.
const MOST_LEADS: usize = 8;

/// The act that begins here. `strict` where a noun could stand as well: behind a comma or `and`.
fn head(tokens: &[&Token], start: usize, strict: bool) -> Option<Act> {
    let at = (start..tokens.len().min(start + MOST_LEADS)).find(|at| !is_lead(word(tokens, *at)))?;
    let next = |steps: usize| word(tokens, at + steps);
    let named = |verb: usize, negated: bool| (!word(tokens, verb).is_empty()).then_some(Act { verb, negated });
    match (next(0), next(1), next(2)) {
        ("do", "not", _) => return named(at + 2, true),
        ("don't" | "never", ..) => return named(at + 1, true),
        ("you", "must" | "should" | "shall", "not") => return named(at + 3, true),
        ("you", "must" | "should" | "shall", _) => return named(at + 2, false),
        ("you", "have" | "need", "to") => return named(at + 3, false),
        _ => {}
    }
    is_instruction(tokens, at, strict).then_some(Act { verb: at, negated: is_of_nothing(tokens, at) })
}

/// "Open nothing", "open no cover".
fn is_of_nothing(tokens: &[&Token], verb: usize) -> bool {
    matches!(word(tokens, verb + 1), "nothing" | "no" | "neither" | "none")
}

fn is_instruction(tokens: &[&Token], at: usize, strict: bool) -> bool {
    let verb = word(tokens, at);
    if SURE.contains(verb) && !(strict && NOUNS_TOO.contains(verb)) {
        return true;
    }
    if !SURE.contains(verb) && !UNSURE.contains(verb) {
        return false;
    }
    let Some(next) = tokens.get(at + 1) else { return !strict };
    let number = next.word.starts_with(|first: char| first.is_ascii_digit());
    if next.sort == Sort::Quoted || number || OBJECT_BEGINS.contains(&next.word) {
        return true;
    }
    !strict && !is_subject(tokens, at)
}

/// Whether a word at the beginning of a sentence is a noun that something is said of: "Force breaks its hooks".
fn is_subject(tokens: &[&Token], at: usize) -> bool {
    let next = word(tokens, at + 1);
    if PREPOSITIONS.contains(next) {
        return true;
    }
    let joined = matches!(next, "and" | "or");
    let rest = tokens.get(at + 1..).unwrap_or_default().iter();
    let boundary = |token: &&&Token| !joined && (token.sort == Sort::Comma || SUBORDINATES.contains(&token.word));
    rest.take_while(|token| !boundary(token)).any(|token| is_finite(&token.word))
}

fn is_lead(word: &str) -> bool {
    LEADS.contains(word) || (word.len() > 3 && word.ends_with("ly") && !NOT_LEADS.contains(word))
}

/// The word at an index; empty for signs and past the end.
pub fn word<'t>(tokens: &[&'t Token], at: usize) -> &'t str {
    tokens.get(at).map_or("", |token| token.word.as_str())
}

#[cfg(test)]
mod tests {
    use super::super::sentence::sentences;
    use super::*;

    fn verbs(text: &str) -> Vec<String> {
        let mut all = Vec::new();
        for sentence in sentences(text, &[]) {
            let tokens = sentence.spoken();
            all.extend(acts(&sentence).iter().map(|act| format!("{}{}", if act.negated { "not " } else { "" }, word(&tokens, act.verb))));
        }
        all
    }

    #[test]
    fn instructions_are_found_behind_what_introduces_them() {
        assert_eq!(verbs("Then gently pull the strip out and lay it down."), ["pull", "lay"]);
        assert_eq!(verbs("With the covers shut, press the switch."), ["press"]);
        assert_eq!(verbs("If worn replace it."), ["replace"]);
        assert_eq!(verbs("Smoke or crackling: leave this page and take the stop card."), ["leave", "take"]);
        assert_eq!(verbs("Do not touch it; never pull against it."), ["not touch", "not pull"]);
        assert_eq!(verbs("Print three pages. Open tray 2 until it clicks."), ["print", "open"]);
        assert_eq!(verbs("You must switch it off."), ["switch"]);
        assert_eq!(
            verbs("Open nothing, tag the machine, have the outlet made dead and call the service lead"),
            ["not open", "tag", "have", "call"]
        );
    }

    #[test]
    fn descriptions_and_questions_have_none() {
        for text in [
            "Force breaks its hooks.",
            "Print that wipes away was laid on the sheet.",
            "Clean means no difference.",
            "Shade and ten seconds are enough.",
            "Waste with toner goes into the bag.",
            "Drum, charge roller and developer sit in the cartridge.",
            "Then one probe sits on the tip.",
            "First the tray menu, then the driver.",
            "The bearings open upwards.",
            "If it sticks, half a centimetre back in frees the rail.",
        ] {
            assert!(verbs(text).is_empty(), "{text}: {:?}", verbs(text));
        }
        assert!(verbs("Does it shut without force, and did you press the lever?").is_empty());
    }
}
