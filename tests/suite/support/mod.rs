//! What several test modules use.

pub mod random;
