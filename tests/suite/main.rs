//! The one test binary. Modules in reading order.
mod safety_rules;

mod read;
