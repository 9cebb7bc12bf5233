//! Approvals: what voids one and what does not, on a library of ten procedures; the digest itself; the command and the file it writes.

mod command;
mod digest;
mod flips;
mod layout;
mod ledger;
mod rules;
mod sample;
