//! `duplicate-answer`: two answers of a question that nobody can tell apart.

use std::collections::BTreeMap;

use crate::finding::{Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{on_step, questions, short};
use crate::text::place::Place;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step, question) in questions(context.library) {
        let mut first: BTreeMap<String, Place> = BTreeMap::new();
        for text in question.answers.iter().filter_map(|answer| answer.text.as_ref()) {
            let Some(before) = first.get(&plain(text)) else {
                first.insert(plain(text), text.at);
                continue;
            };
            let message = format!("the answer `{}` is there twice", short(text));
            let finding = on_step(&rule::DUPLICATE_ANSWER, procedure, step, text.at, message).subject(text.as_str());
            findings.push(finding.also(*before, "first here").help("word the two so that they differ in more than letter case and spaces"));
        }
    }
}

/// What is left of a text without letter case and spaces.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect()
}
