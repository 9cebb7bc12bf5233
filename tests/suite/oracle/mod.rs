//! A second, slow proof that shares nothing with the first: small random libraries, walked moment by moment, against the compiler's findings.

mod compare;
mod generate;
mod graph;
mod idle;
mod procedures;
mod search;
mod steps;
mod verdict;
mod walk;
mod ways;
mod world;
