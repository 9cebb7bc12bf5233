//! A finished drawing: where everything stands. Units are CSS pixels, y grows downwards.

/// A rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Rect {
    pub x: i32,
    pub y: i32,
    pub width: i32,
    pub height: i32,
}

impl Rect {
    /// Whether two rectangles share area; touching edges do not count.
    pub fn overlaps(&self, other: &Rect) -> bool {
        self.x < other.x + other.width && other.x < self.x + self.width && self.y < other.y + other.height && other.y < self.y + self.height
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Point {
    pub x: i32,
    pub y: i32,
}

/// A line from the bottom of one box to the top of another; every stretch is level or upright.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    pub points: Vec<Point>,
    pub label: Option<Rect>,
}

/// Boxes and lines in the order of the graph.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawing {
    pub width: i32,
    pub height: i32,
    pub boxes: Vec<Rect>,
    /// The column of each box's axis.
    pub axes: Vec<i32>,
    pub lines: Vec<Line>,
    /// Crossings between rows, of lines after they joined.
    pub crossings: u64,
}
