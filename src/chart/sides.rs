//! At which sides of their steps the lines back up leave and enter, so that they cross few of the other lines there.

use crate::chart::graph::Graph;
use crate::chart::weave::{Fabric, Kind, Way};

/// From the edge of a box to the column of a line that goes into or out of its side.
pub const EAR: i32 = 16;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Left,
    Right,
}

/// For each step where lines go in and where lines go out aside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sides {
    pub enter: Option<Side>,
    pub leave: Option<Side>,
}

impl Sides {
    fn uses(&self, side: Side) -> bool {
        self.enter == Some(side) || self.leave == Some(side)
    }
}

/// Chooses the sides for rows in their present order.
pub fn choose(graph: &Graph, fabric: &Fabric) -> Vec<Sides> {
    let costs = Costs::new(graph, fabric);
    (0..graph.nodes.len()).map(|step| costs.best(graph, step)).collect()
}

/// Widens the cells of steps by the room that lines at their sides need.
pub fn widen(fabric: &mut Fabric, sides: &[Sides]) {
    for (cell, sides) in fabric.cells.iter_mut().zip(sides) {
        cell.left += if sides.uses(Side::Left) { EAR } else { 0 };
        cell.right += if sides.uses(Side::Right) { EAR } else { 0 };
    }
}

/// Crossings at a step for a line at its left and at its right.
#[derive(Clone, Copy, Default)]
struct Cost {
    any: bool,
    left: usize,
    right: usize,
}

struct Costs {
    enter: Vec<Cost>,
    leave: Vec<Cost>,
}

impl Costs {
    fn new(graph: &Graph, fabric: &Fabric) -> Self {
        let count = graph.nodes.len();
        let mut places = vec![0; fabric.cells.len()];
        for row in &fabric.rows {
            for (place, cell) in row.iter().enumerate() {
                places[*cell] = place;
            }
        }
        // For each step what is linked below and above it: lines of the bottom and the top, and lines of the sides.
        let mut near = vec![[const { Vec::new() }; 4]; count];
        for (path, way) in fabric.paths.iter().zip(&fabric.ways) {
            let (Some(from), Some(to)) = (path.first(), path.last()) else { continue };
            let (Some(next), Some(before)) = (path.get(1), path.len().checked_sub(2).and_then(|place| path.get(place))) else { continue };
            let (leaving, entering) = match way {
                Way::Down => (0, 2),
                Way::Up => (3, 1),
                Way::Turn => (0, 1),
            };
            near[*from][leaving].push(places[*next]);
            near[*to][entering].push(if matches!(fabric.cells[*before].kind, Kind::Step(_)) && before == to {
                usize::MAX
            } else {
                places[*before]
            });
        }
        let cost = |plain: &[usize], aside: &[usize]| Cost {
            any: !aside.is_empty(),
            left: aside.iter().map(|one| plain.iter().filter(|other| *other < one).count()).sum(),
            right: aside.iter().map(|one| plain.iter().filter(|other| *other > one).count()).sum(),
        };
        let enter = near.iter().map(|near| cost(&near[0], &near[1])).collect();
        let leave = near.iter().map(|near| cost(&near[2], &near[3])).collect();
        Self { enter, leave }
    }

    fn best(&self, graph: &Graph, step: usize) -> Sides {
        let (enter, leave) = (self.enter[step], self.leave[step]);
        let open = graph.nodes[step].is_open_at_right();
        let side = |cost: Cost| if !open || cost.left < cost.right { Side::Left } else { Side::Right };
        match (enter.any, leave.any) {
            (false, false) => Sides::default(),
            (true, false) => Sides { enter: Some(side(enter)), leave: None },
            (false, true) => Sides { enter: None, leave: Some(side(leave)) },
            (true, true) if enter.left + leave.right < enter.right + leave.left => {
                Sides { enter: Some(Side::Left), leave: Some(Side::Right) }
            }
            (true, true) => Sides { enter: Some(Side::Right), leave: Some(Side::Left) },
        }
    }
}
