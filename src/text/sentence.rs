//! Sentences of English text: where each begins and ends, its words and its signs. Knows no grammar and no procedures.

use std::ops::Range;

/// A sentence of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    /// Bytes of the text, the final stop included.
    pub range: Range<usize>,
    pub tokens: Vec<Token>,
    /// Whether it ends with a question mark.
    pub question: bool,
}

/// A word or a sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    pub range: Range<usize>,
    pub sort: Sort,
    /// The word in lower case; empty for signs and quoted texts.
    pub word: String,
    /// Whether it stands in parentheses.
    pub aside: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    Word,
    /// A whole text in quotation marks, or code: somebody else's words, counted as one.
    Quoted,
    Comma,
    Semicolon,
    /// A colon or a dash.
    Colon,
    Stop,
    Question,
    Open,
    Close,
}

impl Sentence {
    /// How many words its longest part has. A colon and a dash count as a full stop, text in parentheses as a sentence of its own, a number, a
    /// hyphenated group and a quoted text as one word (ASD-STE100, section 8; hyphens as in its Issue 7, from memory).
    pub fn longest(&self) -> (usize, Range<usize>) {
        let mut best = (0, self.range.clone());
        for aside in [false, true] {
            let tokens: Vec<&Token> = self.tokens.iter().filter(|token| token.aside == aside).collect();
            let edge = |token: &&Token| token.sort == Sort::Colon || (aside && matches!(token.sort, Sort::Open | Sort::Close));
            for part in tokens.split(edge) {
                let words = part.iter().filter(|token| matches!(token.sort, Sort::Word | Sort::Quoted)).count();
                if let (Some(first), Some(last)) = (part.first(), part.last())
                    && words > best.0
                {
                    best = (words, first.range.start..last.range.end);
                }
            }
        }
        best
    }

    /// The words and signs outside parentheses.
    pub fn spoken(&self) -> Vec<&Token> {
        self.tokens.iter().filter(|token| !token.aside && !matches!(token.sort, Sort::Open | Sort::Close)).collect()
    }
}

/// Shortened words after which a sentence goes on. `no` and `fig` do so before a number only.
const SHORTENED: [&str; 22] = [
    "e.g", "i.e", "eg", "ie", "approx", "ca", "cf", "fig", "figs", "incl", "excl", "max", "min", "no", "nos", "p", "pp", "resp", "vs",
    "dia", "ref", "sec",
];
const BEFORE_NUMBERS: [&str; 10] = ["fig", "figs", "no", "nos", "p", "pp", "ref", "sec", "min", "max"];

/// The sentences of a text. `quoted` are ranges that are not the author's own words; texts in double quotation marks are found here.
pub fn sentences(text: &str, quoted: &[Range<usize>]) -> Vec<Sentence> {
    let tokens = tokens(text, quoted);
    let mut lengths = Vec::new();
    let mut open = 0;
    for (index, token) in tokens.iter().enumerate() {
        open += 1;
        if ends(text, token, open, tokens.get(index.wrapping_sub(1)), tokens.get(index + 1)) {
            lengths.push(open);
            open = 0;
        }
    }
    lengths.push(open);
    let mut tokens = tokens.into_iter();
    lengths.into_iter().filter_map(|length| close(tokens.by_ref().take(length).collect())).collect()
}

fn close(tokens: Vec<Token>) -> Option<Sentence> {
    let (first, last) = (tokens.first()?, tokens.last()?);
    let range = first.range.start..last.range.end;
    let question = tokens.iter().rev().find(|token| !matches!(token.sort, Sort::Close)).is_some_and(|token| token.sort == Sort::Question);
    tokens.iter().any(|token| matches!(token.sort, Sort::Word | Sort::Quoted)).then_some(Sentence { range, tokens, question })
}

/// Whether the sentence ends with this token, the `count`th of it.
fn ends(text: &str, token: &Token, count: usize, before: Option<&Token>, next: Option<&Token>) -> bool {
    if token.aside {
        return false;
    }
    let Some(next) = next else { return true };
    let begins = text.get(next.range.clone()).and_then(|it| it.trim_start_matches(['"', '“', '«', '(']).chars().next());
    let lower = begins.is_some_and(char::is_lowercase);
    match token.sort {
        Sort::Question => !matches!(next.sort, Sort::Close),
        // A quoted text with a stop of its own ends the sentence if another begins.
        Sort::Quoted => {
            let whole = text.get(token.range.clone()).unwrap_or_default().trim_end_matches(['"', '”', '»']);
            whole.ends_with(['.', '!', '?']) && next.sort == Sort::Word && begins.is_some_and(char::is_uppercase)
        }
        Sort::Stop => {
            let word = before.filter(|before| before.sort == Sort::Word).map_or("", |before| before.word.as_str());
            let numeral = begins.is_some_and(|first| first.is_ascii_digit());
            let shortened = if BEFORE_NUMBERS.contains(&word) { numeral } else { SHORTENED.contains(&word) };
            // `1.` at the very beginning numbers what follows.
            let numbering = count == 2 && !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
            !lower && !shortened && !numbering && !matches!(next.sort, Sort::Stop | Sort::Comma | Sort::Close)
        }
        Sort::Word | Sort::Comma | Sort::Semicolon | Sort::Colon | Sort::Open | Sort::Close => false,
    }
}

fn tokens(text: &str, quoted: &[Range<usize>]) -> Vec<Token> {
    let mut quoted = quoted.to_vec();
    quoted.extend(in_marks(text));
    quoted.sort_by_key(|range| range.start);
    let mut tokens = Vec::new();
    let mut at = 0;
    for range in quoted {
        if range.start < at {
            continue;
        }
        plain(text, at..range.start, &mut tokens);
        let trimmed = text.get(range.clone()).unwrap_or_default().trim_end().len();
        tokens.push(Token { range: range.start..range.start + trimmed, sort: Sort::Quoted, word: String::new(), aside: false });
        at = range.end;
    }
    plain(text, at..text.len(), &mut tokens);
    mark_asides(&mut tokens);
    tokens
}

/// Texts in double quotation marks. A mark directly behind a digit means inches.
fn in_marks(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut open: Option<(usize, char)> = None;
    let mut before = ' ';
    for (at, character) in text.char_indices() {
        match (open, character) {
            (Some((start, end)), _) if character == end => {
                found.push(start..at + character.len_utf8());
                open = None;
            }
            (None, '"') if !before.is_ascii_digit() => open = Some((at, '"')),
            (None, '“' | '„') => open = Some((at, '”')),
            (None, '«') => open = Some((at, '»')),
            _ => {}
        }
        before = character;
    }
    found
}

fn mark_asides(tokens: &mut [Token]) {
    let mut depth = 0_usize;
    let closes = tokens.iter().filter(|token| token.sort == Sort::Close).count();
    let mut left = closes;
    for token in tokens {
        if token.sort == Sort::Open && left > 0 {
            depth += 1;
        }
        token.aside = depth > 0;
        if token.sort == Sort::Close {
            left -= 1;
            depth = depth.saturating_sub(1);
        }
    }
}

/// Cuts a stretch without quotations at white space, and signs off the ends of words.
fn plain(text: &str, range: Range<usize>, tokens: &mut Vec<Token>) {
    let slice = text.get(range.clone()).unwrap_or_default();
    let mut start = None;
    for (at, character) in slice.char_indices().chain([(slice.len(), ' ')]) {
        let parts = character.is_whitespace() || matches!(character, '—' | '…' | '(' | ')' | '[' | ']');
        if !parts {
            start.get_or_insert(at);
            continue;
        }
        if let Some(from) = start.take() {
            chunk(text, range.start + from..range.start + at, tokens);
        }
        let sort = match character {
            '—' => Sort::Colon,
            '…' => Sort::Stop,
            '(' | '[' => Sort::Open,
            ')' | ']' => Sort::Close,
            _ => continue,
        };
        let here = range.start + at;
        tokens.push(Token { range: here..here + character.len_utf8(), sort, word: String::new(), aside: false });
    }
}

/// A run without white space: a word, and the signs behind it.
fn chunk(text: &str, range: Range<usize>, tokens: &mut Vec<Token>) {
    let whole = text.get(range.clone()).unwrap_or_default();
    let is_word = |character: char| character.is_alphanumeric() || matches!(character, '%' | '°');
    let Some(first) = whole.find(is_word) else {
        let sort = if whole.chars().all(|it| matches!(it, '-' | '–')) { Some(Sort::Colon) } else { whole.chars().next().and_then(sign) };
        tokens.extend(sort.map(|sort| Token { range, sort, word: String::new(), aside: false }));
        return;
    };
    let end =
        whole.rfind(is_word).map_or(whole.len(), |at| at + whole.get(at..).and_then(|it| it.chars().next()).map_or(1, char::len_utf8));
    let written = whole.get(first..end).unwrap_or_default();
    let word = if written.is_ascii() { written.to_ascii_lowercase() } else { written.to_lowercase().replace('’', "'") };
    tokens.push(Token { range: range.start + first..range.start + end, sort: Sort::Word, word, aside: false });
    for (at, character) in whole.get(end..).unwrap_or_default().char_indices() {
        if let Some(sort) = sign(character) {
            let here = range.start + end + at;
            tokens.push(Token { range: here..here + character.len_utf8(), sort, word: String::new(), aside: false });
        }
    }
}

fn sign(character: char) -> Option<Sort> {
    match character {
        ',' => Some(Sort::Comma),
        ';' => Some(Sort::Semicolon),
        ':' | '–' => Some(Sort::Colon),
        '.' | '!' => Some(Sort::Stop),
        '?' => Some(Sort::Question),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<&str> {
        sentences(text, &[]).into_iter().map(|sentence| &text[sentence.range]).collect()
    }

    #[test]
    fn a_stop_ends_a_sentence_unless_it_shortens_a_word_or_parts_a_number() {
        assert_eq!(cut("Wait 2.5 min. Then press it."), ["Wait 2.5 min.", "Then press it."]);
        assert_eq!(cut("Use a cloth, e.g. A4 lint-free. Stop."), ["Use a cloth, e.g. A4 lint-free.", "Stop."]);
        assert_eq!(cut("Turn screw no. 4 home. No. 5 stays."), ["Turn screw no. 4 home.", "No. 5 stays."]);
        assert_eq!(cut("Is it on? No. Press it! Wait..."), ["Is it on?", "No.", "Press it!", "Wait..."]);
        assert_eq!(cut("Look at it (see no. 3. It is red). Then go."), ["Look at it (see no. 3. It is red).", "Then go."]);
        assert_eq!(cut("1. Open it. Go on"), ["1. Open it.", "Go on"]);
    }

    #[test]
    fn a_quoted_text_is_one_word_and_ends_nothing_inside() {
        let text = "The panel says \"Ready. Press OK.\" Wait for it.";
        assert_eq!(cut(text), ["The panel says \"Ready. Press OK.\"", "Wait for it."]);
        assert_eq!(sentences(text, &[])[0].longest().0, 4);
        let code = "Press Menu. Some now.";
        assert_eq!(sentences(code, std::slice::from_ref(&(6..10)))[0].longest().0, 2);
    }

    #[test]
    fn words_are_counted_as_the_handbook_of_simplified_english_counts_them() {
        let longest = |text: &str| sentences(text, &[])[0].longest().0;
        assert_eq!(longest("Wipe the lint-free cloth 75.4 mm along the A4 edge."), 10);
        assert_eq!(longest("Wipe it (this is a demo value of ours) dry."), 7);
        assert_eq!(longest("Do this: wipe the roller dry."), 4);
        assert_eq!(longest("Pull it out - slowly and level - by the grip."), 3);
        assert_eq!(longest("Set 5 % at 48 °C."), 6);
    }
}
