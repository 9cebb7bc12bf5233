//! Which cells each cell is linked to, in one flat list. A line at the side of a step ends left or right of those at its top or bottom, so that
//! their crossings count, too.

use crate::chart::sides::{Side, Sides};
use crate::chart::weave::{Fabric, Kind, Link, Way};

/// A linked cell, and where on it and on one's own cell the line ends.
#[derive(Clone, Copy, Default)]
pub struct End(u32);

/// Ends on a cell: at its left side, on its axis, at its right side.
const ENDS: u32 = 3;

impl End {
    fn new(cell: usize, own: u32, other: u32) -> Self {
        Self(number(cell) * ENDS * ENDS + own * ENDS + other)
    }

    pub fn cell(self) -> usize {
        (self.0 / (ENDS * ENDS)) as usize
    }

    /// A number for the place of the other end in its row.
    pub fn place(self, places: &[u32]) -> u32 {
        places[self.cell()] * ENDS + self.0 % ENDS
    }

    /// A number for the place of one's own end.
    pub fn own(self, place: u32) -> u32 {
        place * ENDS + self.0 / ENDS % ENDS
    }
}

/// The cells linked to each cell, above and below.
pub struct Near {
    /// For each cell where its list begins, where those above end and those below begin, and where those end.
    bounds: Vec<[u32; 3]>,
    ends: Vec<End>,
}

impl Near {
    pub fn new(fabric: &Fabric, sides: &[Sides]) -> Self {
        let mut counts = vec![[0u32; 2]; fabric.cells.len()];
        for link in &fabric.links {
            counts[link.lower][0] += 1;
            counts[link.upper][1] += 1;
        }
        let mut end = 0;
        let bounds: Vec<[u32; 3]> = counts
            .iter()
            .map(|[above, below]| {
                let begin = end;
                end += above + below;
                [begin, begin + above, end]
            })
            .collect();
        let mut next: Vec<[u32; 2]> = bounds.iter().map(|[begin, middle, _]| [*begin, *middle]).collect();
        let mut ends = vec![End::default(); 2 * fabric.links.len()];
        for link in &fabric.links {
            let (upper, lower) = (upper_end(fabric, link, sides), lower_end(fabric, link, sides));
            for (cell, side, end) in
                [(link.lower, 0, End::new(link.upper, lower, upper)), (link.upper, 1, End::new(link.lower, upper, lower))]
            {
                ends[next[cell][side] as usize] = end;
                next[cell][side] += 1;
            }
        }
        Self { bounds, ends }
    }

    pub fn above(&self, cell: usize) -> &[End] {
        let [begin, middle, _] = self.bounds[cell];
        &self.ends[begin as usize..middle as usize]
    }

    pub fn below(&self, cell: usize) -> &[End] {
        let [_, middle, end] = self.bounds[cell];
        &self.ends[middle as usize..end as usize]
    }
}

/// Where a line ends on its upper cell: aside, if it goes back up to that step.
fn upper_end(fabric: &Fabric, link: &Link, sides: &[Sides]) -> u32 {
    let aside = match fabric.cells[link.lower].kind {
        Kind::Lane(to) => to == link.upper,
        Kind::Own(edge) => fabric.ways[edge] == Way::Up,
        Kind::Step(_) | Kind::Thread(_) => false,
    };
    sides.get(link.upper).filter(|_| aside).map_or(1, |sides| end(sides.enter))
}

/// Where a line ends on its lower cell: aside, if it leaves that step on its way up.
fn lower_end(fabric: &Fabric, link: &Link, sides: &[Sides]) -> u32 {
    let aside = match fabric.cells[link.upper].kind {
        Kind::Lane(_) => true,
        Kind::Own(edge) => fabric.ways[edge] == Way::Up,
        Kind::Step(_) | Kind::Thread(_) => false,
    };
    sides.get(link.lower).filter(|_| aside).map_or(1, |sides| end(sides.leave))
}

fn end(side: Option<Side>) -> u32 {
    match side {
        Some(Side::Left) => 0,
        None => 1,
        Some(Side::Right) => 2,
    }
}

/// Drawings have fewer cells than this type has numbers.
pub fn number(cell: usize) -> u32 {
    u32::try_from(cell).unwrap_or(u32::MAX)
}
