//! What several test modules use.

pub mod small_library;
