//! `acts-many`: a step with an exposure whose section is a numbered list or holds several instructions.

use crate::finding::rule::ACTS_MANY;
use crate::finding::{Finding, Findings};
use crate::model::procedure::Procedure;
use crate::model::step::Step;
use crate::rules::Context;
use crate::rules::instructions::{Places, are_known, of_section};
use crate::rules::safety::own_words;
use crate::text::imperative::word;
use crate::text::place::Place;
use crate::text::verbs::Lexicon;

/// Looking, writing down, telling and waiting leave the machine as it is, and "use" names a tool: they may stand beside the one act of a step.
static QUIET: Lexicon = Lexicon::new(
    "ask avoid book call check compare confirm count determine ensure examine expect feel find inform inspect keep leave let listen look mark mind name note \
     number phone photograph quote read record refer remember report say see show stay stop tell time use verify wait watch wear write",
);

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut places = Places::new(&context.library.sources);
    for procedure in own_words::judged(context) {
        let exposed = procedure.steps.iter().filter(|step| !context.library.catalogue.exposed(step).is_empty());
        for step in exposed {
            let list = procedure.words_of(step).and_then(|section| section.numbered_list);
            let finding = match list {
                Some(at) => Some(Finding::new(&ACTS_MANY, at, "the words of a step with an exposure are a numbered list")),
                None if are_known(context.library) => of_several(procedure, step, &mut places),
                None => None,
            };
            let help = "make a step of each act, so that the caution of each stands before it";
            findings.push_some(finding.map(|finding| finding.procedure(&procedure.id).step(&step.id).help(help)));
        }
    }
}

/// Points at the second act.
fn of_several(procedure: &Procedure, step: &Step, places: &mut Places<'_>) -> Option<Finding> {
    let mut acts: Vec<Place> = Vec::new();
    for text in of_section(procedure, step) {
        for line in text.lines() {
            let tokens = line.sentence.spoken();
            let loud = line.acts.iter().filter(|act| !act.negated && !QUIET.contains(word(&tokens, act.verb)));
            acts.extend(loud.map(|act| places.of(&text.passage, tokens[act.verb].range.clone())));
        }
    }
    let (first, second) = (acts.first()?, acts.get(1)?);
    let message = format!("the words of a step with an exposure hold {} instructions", acts.len());
    Some(Finding::new(&ACTS_MANY, *second, message).also(*first, "the first is here"))
}
