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
use crate::rules::instructions::{Places, of_library};

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] =
    &[link_broken::check, picture_missing::check, picture_without_words::check, raw_html::check, heading_order::check, instructions];

/// Both rules of instructions: what one is takes longer to find than to judge.
fn instructions(context: &Context<'_>, findings: &mut Findings) {
    let mut places = Places::new(&context.library.sources);
    for text in of_library(context) {
        for line in text.lines().iter().filter(|line| line.is_instruction()) {
            instruction_long::of_line(line, &mut places, findings);
            instruction_vague::of_line(line, &mut places, findings);
        }
    }
}
