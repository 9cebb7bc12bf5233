//! The one test binary. Modules in reading order.

mod build;
mod catalogue_rules;
mod chart;
mod cli;
mod cut;
mod demo;
mod emit;
mod flow_data;
mod flow_rules;
mod graphs;
mod letters;
mod letters_flow;
mod mutants;
mod oracle;
mod outside;
mod proof;
mod read;
mod render;
mod review;
mod rules;
mod safety_rules;
mod support;
mod theme;
mod tidy;
mod words_rules;
