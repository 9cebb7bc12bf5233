//! `instruction-long`: a procedural sentence of over 20 words.

use crate::finding::rule::INSTRUCTION_LONG;
use crate::finding::{Finding, Findings};
use crate::rules::instructions::{Line, Places};

/// The most words of a procedural sentence (ASD-STE100, section 5).
pub const MOST: usize = 20;

pub fn of_line(line: &Line<'_>, places: &mut Places<'_>, findings: &mut Findings) {
    let (words, range) = line.sentence.longest();
    if words > MOST {
        let message = format!("{words} words in one instruction; the most is {MOST}");
        let finding = Finding::new(&INSTRUCTION_LONG, places.of(&line.text.passage, range), message);
        findings.push(line.text.place(finding).help("make two sentences of it, one instruction in each"));
    }
}
