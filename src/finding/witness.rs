//! One concrete way through a procedure that shows a failure, answer by answer.

use crate::text::id::Id;

pub type Witness = Vec<WitnessEntry>;

/// A step and the way taken on from it. The last entry of a witness is the failing step: no way, no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WitnessEntry {
    pub procedure: Id,
    pub step: Id,
    pub way: Option<WayKind>,
    pub answer: Option<String>,
}

/// How a way on is told from the others of its step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WayKind {
    Answer,
    Band,
    Part,
    Model,
    Outcome,
    Unsure,
    Otherwise,
    Next,
}

impl WayKind {
    pub fn as_str(self) -> &'static str {
        match self {
            WayKind::Answer => "answer",
            WayKind::Band => "band",
            WayKind::Part => "part",
            WayKind::Model => "model",
            WayKind::Outcome => "outcome",
            WayKind::Unsure => "unsure",
            WayKind::Otherwise => "otherwise",
            WayKind::Next => "next",
        }
    }
}
