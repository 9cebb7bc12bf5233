//! A second, slow proof that shares nothing with the first: small random libraries, walked moment by moment, against the compiler's findings.

mod compare;
pub mod generate;
mod graph;
mod procedures;
mod search;
mod steps;
mod verdict;
mod walk;
mod ways;
mod world;
