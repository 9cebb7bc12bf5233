//! The ground everything stands on: where something is written, what it is called, how big it is.
//! Knows nothing of procedures.

pub mod digest;
pub mod folder;
pub mod id;
pub mod nearest;
pub mod place;
pub mod quantity;
pub mod signs;
pub mod stem;
pub mod target;
pub mod words;
