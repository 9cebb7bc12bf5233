//! Graph questions about a library, and the facts of the safety proof. Knows no findings: it answers, `rules` judges.
//!
//! [`facts`] is the catalogue made ready for counting, [`net`] a procedure made ready for one model. [`state`] holds what is known at a point of a
//! flow and [`carry`] what one step does to it; [`must`] carries that to a fixed point over all paths, and [`witness`] finds the shortest path that
//! shows a fault. [`reach`] and [`loops`] answer plain graph questions.
//! [`idle`] finds cautions that nothing depends on; [`contexts`] spells the fixed point out, for those who would check it without us.
//! [`coverage`] is what a reviewer sees of all this.

pub mod graph;

pub mod facts;
pub mod net;
pub mod state;

pub mod carry;
pub mod loops;
pub mod reach;

pub mod deep;

pub mod contexts;
pub mod coverage;
pub mod idle;
pub mod must;
pub mod proof;
pub mod witness;
