//! `reach-undeclared`: words that reach, pull out, open or remove something, and a step that declares nothing.

use std::collections::BTreeSet;

use crate::finding::rule::{HAZARD_UNDECLARED, REACH_UNDECLARED};
use crate::finding::{Finding, Findings};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::rules::instructions::{Line, Places, are_known, of_front_matter, of_section};
use crate::text::id::Id;
use crate::text::imperative::word;
use crate::text::sentence::{Sort, Token};
use crate::text::verbs::Lexicon;

/// Verbs that open or take out whatever their object is.
static OPENS: Lexicon =
    Lexicon::new("open remove pull unplug unscrew unclip unlatch unhook detach disconnect withdraw extract dismantle disassemble");

/// Verbs that do so with `out`, `off`, `up` or `open`.
static TAKES: Lexicon = Lexicon::new("take lift slide draw swing fold flip slip get bring drop hinge");
static OUT: Lexicon = Lexicon::new("out off open");

/// Whither a hand reaches.
static INWARD: Lexicon = Lexicon::new("in into inside behind under beneath through past between around");
static HANDS: Lexicon = Lexicon::new("hand hands finger fingers arm arms");

/// What is opened or taken away without a hand in the machine: on a screen, off the paper's wrapping,
/// off a person, at the wall (the plug, which the catalogue's own words give away).
static ELSEWHERE: Lexicon = Lexicon::new(
    "file files document documents menu menus program driver drivers job jobs queue folder dialogue dialog setting settings message call calls record records \
     procedure list report link browser spreadsheet picture preview pack packs packet packets ream reams wrapper wrapping box bag bags bottle tin carton tag tags tape \
     hand hands finger fingers ring rings watch jewellery glove gloves lanyard tie service use plug machine printer window nothing no none neither",
);

/// Participles of the passive: "the tray is pulled out".
static DONE: Lexicon = Lexicon::new("opened removed pulled unplugged unscrewed detached disconnected withdrawn extracted dismantled");
static TAKEN: Lexicon = Lexicon::new("taken lifted slid drawn swung folded");

/// With one of these before it in the clause, nothing is opened here and now.
static ASIDE: Lexicon =
    Lexicon::new("no not never nothing nobody none neither nor without before until unless if when once after as while");

/// Words before a verb that can belong to its clause.
const CLAUSE: usize = 40;

/// `findings`: what a part's own words give away in this procedure; that is not said again.
pub fn of_procedure<'a>(library: &'a Library, procedure: &Procedure, places: &mut Places<'a>, findings: &mut Findings) {
    if !are_known(library) {
        return;
    }
    let told = findings.iter().filter(|finding| finding.rule == &HAZARD_UNDECLARED);
    let told: BTreeSet<Id> = told.filter_map(|finding| finding.step.clone()).collect();
    for step in procedure.steps.iter().filter(|step| declares_nothing(step) && !told.contains(&step.id)) {
        let mut texts = of_front_matter(library, procedure, step);
        texts.extend(of_section(procedure, step));
        let first = texts.iter().find_map(|text| text.lines().iter().find_map(|line| Some((text, token(line)?))));
        if let Some((text, token)) = first {
            let verb = token.word;
            let at = places.of(&text.passage, token.range);
            let finding = Finding::new(&REACH_UNDECLARED, at, format!("`{verb}` works on the machine, and the step declares nothing"));
            let help = "write what it `touches` or `exposes` to, or deny the part it names with `not-touching`";
            findings.push(finding.procedure(&procedure.id).step(&step.id).subject(verb).help(help));
        }
    }
}

fn declares_nothing(step: &Step) -> bool {
    step.touches.is_empty() && step.exposes.is_empty() && step.not_touching.is_empty()
}

/// The first word of a sentence that reaches, pulls out, opens or removes.
fn token(line: &Line<'_>) -> Option<Token> {
    let tokens = line.sentence.spoken();
    let told = line.acts.iter().filter(|act| !act.negated).map(|act| act.verb);
    let of_reader = (1..tokens.len()).filter(|at| is_readers(&tokens, *at));
    let active = told.chain(of_reader).filter(|at| goes_in(&tokens, *at));
    let passive = (1..tokens.len()).filter(|at| is_passive(&tokens, *at));
    active.chain(passive).min().map(|at| tokens[at].clone())
}

/// "You open", "you can reach".
fn is_readers(tokens: &[&Token], at: usize) -> bool {
    let modal = matches!(word(tokens, at - 1), "can" | "may" | "will");
    let subject = if modal && at > 1 { at - 2 } else { at - 1 };
    word(tokens, subject) == "you"
        && !(subject.saturating_sub(CLAUSE)..subject).any(|before| matches!(word(tokens, before), "before" | "until" | "unless"))
}

fn goes_in(tokens: &[&Token], verb: usize) -> bool {
    let ends = |token: &&&Token| {
        matches!(token.sort, Sort::Comma | Sort::Semicolon | Sort::Colon | Sort::Stop)
            || matches!(token.word.as_str(), "and" | "then" | "or")
    };
    let behind = tokens.get(verb + 1..).unwrap_or_default();
    let clause: Vec<&str> = behind.iter().take_while(|token| !ends(token)).map(|token| token.word.as_str()).collect();
    let object = clause.iter().skip_while(|word| OUT.contains(word)).take_while(|word| {
        !OUT.contains(word) && !INWARD.contains(word) && !matches!(**word, "from" | "of" | "on" | "with" | "until" | "to" | "by")
    });
    let elsewhere = object.clone().any(|word| ELSEWHERE.contains(word));
    let verb = word(tokens, verb);
    match verb {
        "reach" => clause.iter().take(3).any(|word| INWARD.contains(word)),
        "put" | "push" | "stick" | "slide" if object.clone().any(|word| HANDS.contains(word)) => {
            clause.iter().any(|word| INWARD.contains(word))
        }
        _ if OPENS.contains(verb) => !elsewhere && !clause.is_empty(),
        _ if TAKES.contains(verb) => {
            !elsewhere
                && clause.iter().enumerate().any(|(at, word)| OUT.contains(word) && clause.get(at + 1..at + 3) != Some(&["of", "use"]))
        }
        _ => false,
    }
}

/// "It is pulled out", "the lid has to be opened".
fn is_passive(tokens: &[&Token], at: usize) -> bool {
    let participle = word(tokens, at);
    let near = |step: usize| OUT.contains(word(tokens, at + step));
    if !(DONE.contains(participle) || (TAKEN.contains(participle) && (near(1) || near(2)))) {
        return false;
    }
    let back = if word(tokens, at - 1).ends_with("ly") && at > 1 { at - 2 } else { at - 1 };
    let floor = at.saturating_sub(CLAUSE);
    let start = (floor..at).rev().find(|index| tokens[*index].sort != Sort::Word).map_or(floor, |index| index + 1);
    let before: Vec<&str> = (start..at).map(|index| word(tokens, index)).collect();
    matches!(word(tokens, back), "is" | "are" | "be") && !before.iter().any(|word| ASIDE.contains(word) || ELSEWHERE.contains(word))
}
