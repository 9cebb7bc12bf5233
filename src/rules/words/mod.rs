//! The group *words*.

mod heading_order;
mod instruction_long;
mod instruction_vague;
mod link_broken;
mod picture_missing;
mod picture_without_words;
mod raw_html;

use super::Check;
use crate::finding::Findings;
use crate::rules::Context;
use crate::rules::instructions::{Places, Text, are_known, around, of_procedure};
use crate::rules::known::{self, On};
use crate::rules::safety::own_words;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] =
    &[link_broken::check, picture_missing::check, picture_without_words::check, raw_html::check, heading_order::check, instructions];

/// Both rules of instructions: what one is takes longer to find than to judge.
fn instructions(context: &Context<'_>, findings: &mut Findings) {
    let library = context.library;
    if !are_known(library) {
        return;
    }
    let mut places = Places::new(&library.sources);
    findings.extend(judged(&around(library), &mut places));
    for procedure in own_words::judged(context) {
        let found = known::of(
            context.remembered,
            |known| &known.instructions,
            procedure,
            On::Itself,
            || judged(&of_procedure(library, procedure), &mut places),
        );
        findings.extend(found);
    }
}

fn judged(texts: &[Text<'_>], places: &mut Places<'_>) -> Findings {
    let mut findings = Findings::default();
    for text in texts {
        for line in text.lines().iter().filter(|line| line.is_instruction()) {
            instruction_long::of_line(line, places, &mut findings);
            instruction_vague::of_line(line, places, &mut findings);
        }
    }
    findings
}
