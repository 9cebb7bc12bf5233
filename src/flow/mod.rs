//! Graph questions about a library, and the facts of the safety proof. Knows no findings: it answers, `rules` judges.

pub mod circles;
pub mod graph;
