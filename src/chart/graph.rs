//! What is to be drawn: boxes with sizes and the lines between them. Units are CSS pixels.

/// A box. The line in meets it at the top and the line out leaves at the bottom, both on its axis; lines back up leave and enter at the middle
/// of a side, where the symbol's outline must meet the edge of the box: always at the left, at the right if both extents are the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Node {
    /// Extent from the axis to the left edge.
    pub left: i32,
    /// Extent from the axis to the right edge; more than `left` if signs stand beside the symbol.
    pub right: i32,
    pub height: i32,
    /// How far below the top edge the symbol's outline crosses the axis.
    pub inlet: i32,
    /// How far above the bottom edge the symbol's outline crosses the axis.
    pub outlet: i32,
}

impl Node {
    /// A plain box whose axis is its middle.
    pub fn plain(width: i32, height: i32) -> Self {
        Self { left: width / 2, right: width - width / 2, height, inlet: 0, outlet: 0 }
    }

    /// Whether a line may meet it at the middle of its right edge: what reaches further to the right than to the left has signs or words there.
    pub fn is_open_at_right(&self) -> bool {
        self.right - self.left <= 1
    }
}

/// Width and height of a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    pub width: i32,
    pub height: i32,
}

/// A line from one box to another, or back to the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Edge {
    pub from: usize,
    pub to: usize,
    pub label: Option<Size>,
    /// How much this line wants to be short and straight: 1 or more; the usual way on has the most.
    pub weight: i32,
}

/// Boxes in the author's order, lines in the author's order, and the box where reading begins.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Graph {
    pub nodes: Vec<Node>,
    /// Both ends of every edge are indices into `nodes`.
    pub edges: Vec<Edge>,
    pub start: usize,
}
