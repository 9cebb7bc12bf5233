//! The group *safety*.

pub mod on_paths;

use super::Check;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] = &[];
