//! Approvals: what voids one and what does not, on the demo; the digest itself; the command and the file it writes.

mod command;
mod demo;
mod digest;
mod flips;
mod layout;
mod ledger;
mod rules;
