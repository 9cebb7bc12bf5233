//! The one test binary. Modules in reading order.

mod flow_rules;
mod graphs;
mod read;
mod rules;
mod support;
mod tidy;
