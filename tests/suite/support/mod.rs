//! What several test modules use.

pub mod command;
pub mod drawing;
pub mod flow;
pub mod html;
pub mod random;
pub mod reviewed;
pub mod small_library;
