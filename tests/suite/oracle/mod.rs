//! A second, slow proof that shares nothing with the first: small random libraries, walked moment by moment, against the compiler's findings.

mod compare;
pub mod covered;
pub mod generate;
mod graph;
mod idle;
mod mends;
mod procedures;
mod routes;
mod search;
mod steps;
mod verdict;
mod walk;
mod walks;
mod ways;
mod what_if;
mod world;
