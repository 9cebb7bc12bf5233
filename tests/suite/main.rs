//! The one test binary. Modules in reading order.

mod build;
mod chart;
mod cli;
mod emit;
mod flow_data;
mod flow_rules;
mod graphs;
mod proof;
mod read;
mod render;
mod rules;
mod support;
mod theme;
mod tidy;
