//! The one test binary. Modules in reading order.

mod graphs;
mod rules;
mod support;
