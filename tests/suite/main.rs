//! The one test binary. Modules in reading order.

mod catalogue_rules;
mod read;
mod safety_rules;
mod words_rules;
