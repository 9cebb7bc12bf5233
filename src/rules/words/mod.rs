//! The group *words*.

mod heading_order;
mod instruction_long;
mod instruction_vague;
mod link_broken;
mod picture_missing;
mod picture_without_words;
mod raw_html;

use super::Check;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] = &[
    link_broken::check,
    picture_missing::check,
    picture_without_words::check,
    raw_html::check,
    heading_order::check,
    instruction_long::check,
    instruction_vague::check,
];
