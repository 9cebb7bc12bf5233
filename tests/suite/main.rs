//! The one test binary. Modules in reading order.

mod build;
mod emit;
mod flow_rules;
mod graphs;
mod proof;
mod read;
mod rules;
mod support;
mod tidy;
