//! The group *flow*.

pub mod on_paths;
pub mod outcome_unmapped;

use super::Check;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] = &[];
