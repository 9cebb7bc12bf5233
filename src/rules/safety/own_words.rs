//! A step's own words, and what of the safety catalogue they name.

use std::collections::BTreeMap;

use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::rules::Context;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::words::{Phrases, Sameness};

/// Something named: by which phrase of the catalogue, and the place of the words that name it.
#[derive(Clone, Copy, Debug)]
pub struct Naming<'a> {
    pub phrase: &'a str,
    pub at: Place,
}

/// The procedures whose words are judged: all but the withdrawn, and those of which nothing but the words could be read.
pub fn judged<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Procedure> {
    let misread = context.misread;
    let readable = move |procedure: &&Procedure| !(procedure.steps.is_empty() && misread.contains(&procedure.id));
    context.library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn).filter(readable)
}

/// Everything that a step's page says of its own: what it asks, measures or does, answers, readings, and its section. Not its cautions, and not
/// the words of a procedure that it carries out.
pub fn of_step<'a>(procedure: &'a Procedure, step: &'a Step) -> Vec<&'a At<String>> {
    let mut texts: Vec<&At<String>> = step.text().into_iter().collect();
    match &step.kind {
        StepKind::Ask(question) => texts.extend(question.answers.iter().filter_map(|answer| answer.text.as_ref())),
        StepKind::Measure(measurement) => texts.extend(measurement.readings.iter().filter_map(|reading| reading.ask.as_ref())),
        StepKind::CarryOut(carry_out) => texts.extend(&carry_out.name),
        StepKind::Do(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => {}
    }
    texts.extend(procedure.words_of(step).into_iter().flat_map(|section| &section.blocks));
    texts
}

/// An empty search in the library's language.
pub fn phrases<K: Clone + Ord>(library: &Library) -> Phrases<K> {
    Phrases::new(Sameness::of_language(library.settings.language()))
}

/// The words of every part, those without hazards included.
pub fn of_parts(library: &Library) -> Phrases<&Id> {
    let mut all = phrases(library);
    for part in &library.catalogue.parts {
        part.words.iter().for_each(|words| all.add(words, &part.id));
    }
    all
}

/// What the texts name, each with the first words that do.
pub fn find<'a, K: Clone + Ord>(phrases: &'a Phrases<K>, texts: impl IntoIterator<Item = &'a At<String>>) -> BTreeMap<K, Naming<'a>> {
    let mut found = BTreeMap::new();
    for text in texts {
        for (key, phrase) in phrases.find(text) {
            found.entry(key).or_insert(Naming { phrase, at: text.at });
        }
    }
    found
}
