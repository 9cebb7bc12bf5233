//! `instruction-vague`: a condition hidden in an action, or a measure without a measure.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::finding::rule::INSTRUCTION_VAGUE;
use crate::finding::{Finding, Findings};
use crate::rules::instructions::{Line, Of, Places};
use crate::text::imperative::word;
use crate::text::sentence::{Sort, Token};
use crate::text::verbs::Lexicon;

/// What stands where a figure, a mark or a sound should. Several words are side by side.
const VAGUE: [&str; 36] = [
    "properly",
    "correctly",
    "appropriately",
    "adequately",
    "sufficiently",
    "suitably",
    "thoroughly",
    "reasonably",
    "some",
    "several",
    "a few",
    "few",
    "a little",
    "a bit",
    "a couple",
    "a while",
    "enough",
    "sufficient",
    "adequate",
    "appropriate",
    "slightly",
    "roughly",
    "regularly",
    "occasionally",
    "periodically",
    "frequently",
    "a moment",
    "as necessary",
    "as needed",
    "as required",
    "as appropriate",
    "as possible",
    "from time to time",
    "and so on",
    "etc",
    "or so",
];

/// The same by their first words, in words.
static VAGUE_FROM: LazyLock<HashMap<&str, Vec<Vec<&str>>>> = LazyLock::new(|| {
    let mut from: HashMap<&str, Vec<Vec<&str>>> = HashMap::new();
    for phrase in VAGUE {
        let words: Vec<&str> = phrase.split(' ').collect();
        from.entry(words[0]).or_default().push(words);
    }
    from
});

/// Behind `when`, `where` or `as`, a state that decides whether the action is done at all.
static STATES: Lexicon = Lexicon::new(
    "necessary needed required possible appropriate applicable worn dirty damaged broken bent torn loose faulty defective cracked empty full wet damp low",
);

/// Before `if`: the reader is to find out, which hides nothing; or no condition is meant.
static ASKS: Lexicon =
    Lexicon::new("check see ask look tell say test note record find out watch feel know sure decide wonder as even what");

/// Behind `check`: what it is checked for.
static CRITERIA: Lexicon = Lexicon::new("that whether if for against with how which where what when who between until by");

/// Words of one sentence that are looked at: so that the work grows with the text, whatever stands in it.
const MOST: usize = 500;

pub fn of_line(line: &Line<'_>, places: &mut Places<'_>, findings: &mut Findings) {
    let tokens = line.sentence.spoken();
    for (at, length, sort) in defects(line, &tokens) {
        let (first, last) = (&tokens[at], &tokens[at + length - 1]);
        let range = first.range.start..last.range.end;
        let words = line.text.passage.text.get(range.clone()).unwrap_or_default().to_lowercase();
        let finding = Finding::new(&INSTRUCTION_VAGUE, places.of(&line.text.passage, range), sort.message(&words));
        findings.push(line.text.place(finding).subject(words).help(sort.help()));
    }
}

#[derive(Clone, Copy)]
enum Defect {
    Condition,
    Measure,
    Check,
}

impl Defect {
    fn message(self, words: &str) -> String {
        match self {
            Defect::Condition => format!("`{words}` hides a question in an instruction"),
            Defect::Measure => format!("`{words}` measures nothing"),
            Defect::Check => "nothing is said of what `check` looks for".to_owned(),
        }
    }

    fn help(self) -> &'static str {
        match self {
            Defect::Condition => "ask it in a step of its own, with an action for each answer",
            Defect::Measure => "say what can be seen or measured: a figure, a mark, a sound",
            Defect::Check => "say what is right: `check that`, `check for`, or a question with its answers",
        }
    }
}

/// The defects of an instruction: index, length and sort of each.
fn defects(line: &Line<'_>, tokens: &[&Token]) -> Vec<(usize, usize, Defect)> {
    let tokens = tokens.get(..MOST).unwrap_or(tokens);
    let mut found = Vec::new();
    for at in 0..tokens.len() {
        let phrases = VAGUE_FROM.get(word(tokens, at)).into_iter().flatten();
        if let Some(length) = phrases.filter_map(|phrase| stands(tokens, at, phrase)).max() {
            let covered = found.last().is_some_and(|(start, length, _)| at < start + length);
            if !covered {
                found.push((at, length, Defect::Measure));
            }
        }
        // A caution and a leaflet cannot branch; a step can.
        if matches!(line.text.of, Of::Action | Of::Step) && is_condition(tokens, at) && decides(line, tokens, at) {
            found.push((at, 1, Defect::Condition));
        }
    }
    let checks = line
        .acts
        .iter()
        .take_while(|act| act.verb < tokens.len())
        .filter(|act| !act.negated && word(tokens, act.verb) == "check" && !has_criterion(line, tokens, act.verb));
    found.extend(checks.map(|act| (act.verb, 1, Defect::Check)));
    found
}

/// How many words a phrase has, if it stands here.
fn stands(tokens: &[&Token], at: usize, phrase: &[&str]) -> Option<usize> {
    phrase.iter().enumerate().all(|(step, part)| word(tokens, at + step) == *part).then_some(phrase.len())
}

fn is_condition(tokens: &[&Token], at: usize) -> bool {
    let before = (1..=4).take_while(|back| *back <= at).map(|back| word(tokens, at - back)).take_while(|word| !word.is_empty());
    match word(tokens, at) {
        // Only what stands close before asks: "see if", "make sure that it is off; if …" does not.
        "if" => !before.take(2).any(|word| ASKS.contains(word)),
        "unless" => true,
        "should" => at == 0,
        "when" | "where" | "wherever" => STATES.contains(word(tokens, at + 1)),
        _ => false,
    }
}

/// Whether the condition decides about something that is done. What is left undone, or stopped, is a guard and no branch.
fn decides(line: &Line<'_>, tokens: &[&Token], at: usize) -> bool {
    let parts = |token: &Token| matches!(token.sort, Sort::Semicolon | Sort::Colon);
    let start = (0..at).rev().find(|index| parts(tokens[*index])).map_or(0, |index| index + 1);
    let end = (at..tokens.len()).find(|index| parts(tokens[*index])).unwrap_or(tokens.len());
    let inside: Vec<_> = line.acts.iter().take_while(|act| act.verb < end).filter(|act| act.verb >= start).collect();
    let governed = inside.iter().rev().find(|act| act.verb < at).or_else(|| inside.first());
    match governed {
        Some(act) => !act.negated && word(tokens, act.verb) != "stop",
        None => line.acts.is_empty(),
    }
}

fn has_criterion(line: &Line<'_>, tokens: &[&Token], verb: usize) -> bool {
    let end = line.acts.iter().map(|act| act.verb).find(|next| *next > verb).unwrap_or(tokens.len());
    let mut rest = tokens.get(verb + 1..end).unwrap_or_default().iter();
    rest.any(|token| token.sort == Sort::Colon || CRITERIA.contains(&token.word))
}
