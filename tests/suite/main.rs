//! The one test binary. Modules in reading order.

mod build;
mod chart;
mod cli;
mod emit;
mod flow_data;
mod flow_rules;
mod graphs;
mod oracle;
mod proof;
mod read;
mod render;
mod rules;
mod support;
mod tidy;
