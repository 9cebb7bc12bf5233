//! Stepward compiles laser-printer service procedures, written as Markdown with a decision graph in YAML front matter, into a static site that people
//! follow at the machine and on the phone. It publishes only what it has proved: every branch ends in an action, and every safety caution is
//! shown before the step that needs it, on every path.
//!
//! # The stages
//!
//! 1. **A folder** of files comes in through the one opening to the outside, [`build::world::World`].
//! 2. **Reading** ([`read::read`]) turns text into a [`model::library::Library`] and a list of findings. It never fails: what cannot be understood is
//!    a [`finding::Finding`] at its line and column, and everything else is read all the same.
//! 3. **Judging** ([`analyse::analyse`]) runs the [`rules`]. Those that need no path come first; the others ask [`flow`], which carries what is known
//!    (cautions shown, conditions held, who is at the machine) over all paths at once and, for whatever fails, finds the shortest path that shows it.
//! 4. **The gate** ([`analyse::gate::clear`]) hands out a [`analyse::gate::Cleared`] library, or the errors that keep it shut. Nothing else makes one.
//! 5. **Rendering** ([`render`]) turns a cleared library, and nothing but a cleared library, into pages: bytes in memory.
//! 6. **Publishing** ([`build::pipeline`]) swaps the new site in whole, or leaves the old one whole.
//!
//! `build/pipeline.rs` runs these in this order: the file to read second.
//!
//! # The layers
//!
//! Modules stand below in reading order, from the ground up. A module imports what stands on a lower line, never what stands above or beside it;
//! `tests/suite/tidy.rs` holds this. Up to and including `render` nothing reads a file, a clock or a terminal.

pub mod text;

pub mod model;

pub mod finding;

pub mod read;

pub mod formula;

pub mod flow;

pub mod rules;

pub mod chart;

pub mod trade;

pub mod compare;

pub mod analyse;

pub mod emit;

pub mod theme;

pub mod render;

pub mod build;

pub mod preview;

pub mod cli;
