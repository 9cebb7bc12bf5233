//! `instruction-long`: a procedural sentence of over 20 words.

use crate::finding::rule::INSTRUCTION_LONG;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::instructions::{Places, of_library};

/// The most words of a procedural sentence (ASD-STE100, section 5).
pub const MOST: usize = 20;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut places = Places::new(&context.library.sources);
    for text in of_library(context) {
        for line in text.lines().iter().filter(|line| line.is_instruction()) {
            let (words, range) = line.sentence.longest();
            if words > MOST {
                let message = format!("{words} words in one instruction; the most is {MOST}");
                let finding = Finding::new(&INSTRUCTION_LONG, places.of(&text.passage, range), message);
                findings.push(text.place(finding).help("make two sentences of it, one instruction in each"));
            }
        }
    }
}
