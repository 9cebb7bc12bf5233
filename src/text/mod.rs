//! The ground everything stands on: where something is written, what it is called, how big it is.
//! Knows nothing of procedures.

pub mod digest;
pub mod folder;
pub mod id;
pub mod imperative;
pub mod nearest;
pub mod passage;
pub mod place;
pub mod quantity;
pub mod sentence;
pub mod signs;
pub mod stem;
pub mod target;
pub mod verbs;
pub mod words;
