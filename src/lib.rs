//! Stepward.

pub mod text;

pub mod finding;
pub mod model;

pub mod flow;
pub mod formula;
pub mod read;

pub mod chart;
pub mod rules;

pub mod analyse;
pub mod emit;
pub mod theme;

pub mod render;

pub mod build;

pub mod cli;
