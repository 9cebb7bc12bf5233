//! The one test binary. Modules in reading order.

mod build;
mod emit;
mod graphs;
mod rules;
mod support;
