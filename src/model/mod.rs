//! What a library *is*: procedures, steps, the safety catalogue, equipment. Values only, each with its place; nothing is judged here.
//!
//! Everything an author may get wrong is kept as written (an id that names nothing, an outcome nobody knows), so that the rules can say so.

pub mod body;
pub mod catalogue;
pub mod equipment;
pub mod library;
pub mod procedure;
pub mod procedures;
pub mod step;
