//! Prints findings: for people, for one line, for programs.
