//! Threads every line through the rows between its ends. Rows alternate: even ones hold labels, odd ones hold steps, so that a label has a
//! place of its own like any box. Lines to one step join as soon as they can and go on as one thread (ISO 5807: lines may join), so a step
//! that everything leads to costs one thread, not one for each line.
//!
//! A line back up leaves its step at a side, runs up along a lane and enters its target at a side: so it turns round no other line. Only a step
//! with one open side that is itself gone back to, and a step that leads to itself, is left at the bottom.

use crate::chart::graph::{Graph, Size};

/// How straight long threads and lanes are held.
const LONG: i64 = 16;
/// So many lines to a step run as one; two only meet at its door.
const JOINED: usize = 3;

/// What stands at a place in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Step(usize),
    /// The label of an edge, or the place where an edge without one leaves its fork.
    Own(usize),
    /// Lines on their way down to a step, by the step; or a line alone, by the number of steps and its own.
    Thread(usize),
    /// Lines on their way back up to a step.
    Lane(usize),
}

#[derive(Clone, Copy, Debug)]
pub struct Cell {
    pub kind: Kind,
    pub row: usize,
    pub left: i32,
    pub right: i32,
    pub height: i32,
}

/// Two cells of neighbouring rows that a line connects.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    pub upper: usize,
    pub lower: usize,
    /// How much it wants to be straight.
    pub weight: i64,
}

#[derive(Clone, Debug, Default)]
pub struct Fabric {
    pub cells: Vec<Cell>,
    pub links: Vec<Link>,
    /// Cells from left to right, row by row from the top.
    pub rows: Vec<Vec<usize>>,
    /// For each edge the cells it passes, from its beginning to its end.
    pub paths: Vec<Vec<usize>>,
    pub ways: Vec<Way>,
}

/// How an edge runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Out at the bottom and in at the top.
    Down,
    /// Out at a side, up, and in at a side.
    Up,
    /// Out at the bottom, round, up, and in at a side.
    Turn,
}

/// The row of labels above the first row of steps is row 0, and one more row of labels ends the drawing.
pub fn weave(graph: &Graph, back: &[bool], rows: &[usize]) -> Fabric {
    let mut loom = Loom::new(graph, back, rows);
    for (index, edge) in graph.edges.iter().enumerate() {
        if back[index] {
            loom.lead_back(index, edge.from, edge.to);
        } else {
            loom.lead_down(index, edge.from, edge.to);
        }
    }
    loom.finish()
}

struct Loom<'a> {
    graph: &'a Graph,
    fabric: Fabric,
    /// For each step the cells of the lines to it by their row: threads and lanes.
    threads: Vec<Vec<Option<usize>>>,
    lanes: Vec<Vec<Option<usize>>>,
    exits: Vec<usize>,
    entries: Vec<usize>,
    /// Steps that a line goes back to.
    targets: Vec<bool>,
}

impl<'a> Loom<'a> {
    fn new(graph: &'a Graph, back: &[bool], rows: &[usize]) -> Self {
        let last = rows.iter().max().map_or(0, |row| 2 * row + 3);
        let (mut exits, mut entries) = (vec![0; graph.nodes.len()], vec![0; graph.nodes.len()]);
        let mut targets = vec![false; graph.nodes.len()];
        for (edge, back) in graph.edges.iter().zip(back) {
            exits[edge.from] += 1;
            entries[edge.to] += 1;
            targets[edge.to] |= back;
        }
        let fabric = Fabric { rows: vec![Vec::new(); last + 1], ..Fabric::default() };
        let (threads, lanes) = (vec![Vec::new(); graph.nodes.len()], vec![Vec::new(); graph.nodes.len()]);
        let mut loom = Self { graph, fabric, threads, lanes, exits, entries, targets };
        for (index, node) in graph.nodes.iter().enumerate() {
            let kind = Kind::Step(index);
            loom.add(Cell { kind, row: 2 * rows[index] + 1, left: node.left, right: node.right, height: node.height });
        }
        loom
    }

    fn add(&mut self, cell: Cell) -> usize {
        let index = self.fabric.cells.len();
        self.fabric.rows[cell.row].push(index);
        self.fabric.cells.push(cell);
        index
    }

    /// The cell of a thread or lane in a row, and whether it is new there.
    fn shared(&mut self, kind: Kind, row: usize) -> (usize, bool) {
        let cells = match kind {
            Kind::Lane(to) => &mut self.lanes[to],
            Kind::Step(to) | Kind::Own(to) | Kind::Thread(to) => &mut self.threads[to],
        };
        cells.resize(self.fabric.rows.len(), None);
        if let Some(cell) = cells[row] {
            return (cell, false);
        }
        cells[row] = Some(self.fabric.cells.len());
        (self.add(Cell { kind, row, left: 0, right: 0, height: 0 }), true)
    }

    /// A cell of the edge's own: for its label, or to part it from others.
    fn own(&mut self, edge: usize, row: usize) -> usize {
        let size = self.graph.edges[edge].label.unwrap_or(Size { width: 0, height: 0 });
        let right = size.width - size.width / 2;
        self.add(Cell { kind: Kind::Own(edge), row, left: size.width / 2, right, height: size.height })
    }

    fn link(&mut self, upper: usize, lower: usize, weight: i64) {
        self.fabric.links.push(Link { upper, lower, weight });
    }

    /// Bends belong where lines fork or join anyhow, so between steps of one exit and one entry a line is held straighter.
    fn weight(&self, edge: usize) -> i64 {
        let edge = &self.graph.edges[edge];
        let plain = i64::from(self.exits[edge.from] == 1) + i64::from(self.entries[edge.to] == 1);
        i64::from(edge.weight) * (2 + plain)
    }

    /// The beginning of a path: the step, and a cell of the edge's own if it has a label or leaves a fork.
    fn leave(&mut self, edge: usize, from: usize) -> Vec<usize> {
        if self.graph.edges[edge].label.is_none() && self.exits[from] == 1 {
            return vec![from];
        }
        let own = self.own(edge, self.fabric.cells[from].row + 1);
        self.link(from, own, self.weight(edge));
        vec![from, own]
    }

    fn lead_down(&mut self, edge: usize, from: usize, to: usize) {
        let weight = self.weight(edge);
        let mut path = self.leave(edge, from);
        let mut here = path.last().copied().unwrap_or(from);
        // The first stretch is this edge's own; where it has joined a thread there is nothing to add.
        let mut own = true;
        for row in self.fabric.cells[here].row + 1..self.fabric.cells[to].row {
            let (thread, new) = if self.entries[to] < JOINED { self.lone(edge, row) } else { self.shared(Kind::Thread(to), row) };
            if own {
                self.link(here, thread, if matches!(self.fabric.cells[here].kind, Kind::Thread(_)) { LONG } else { weight + 1 });
            }
            own = new;
            path.push(thread);
            here = thread;
        }
        // A jog on the last stretch is seen most.
        if own || self.entries[to] >= JOINED {
            let threaded = matches!(self.fabric.cells[here].kind, Kind::Thread(_));
            self.link(here, to, weight + if threaded { 6 } else { 1 });
        }
        path.push(to);
        self.fabric.paths.push(path);
        self.fabric.ways.push(Way::Down);
    }

    /// A cell of a thread that no other line joins.
    fn lone(&mut self, edge: usize, row: usize) -> (usize, bool) {
        (self.add(Cell { kind: Kind::Thread(self.graph.nodes.len() + edge), row, left: 0, right: 0, height: 0 }), true)
    }

    fn lead_back(&mut self, edge: usize, from: usize, to: usize) {
        let node = &self.graph.nodes[from];
        let taken = self.targets[from] && !node.is_open_at_right();
        let way = if from == to || taken { Way::Turn } else { Way::Up };
        let path = if way == Way::Turn { self.turn_back(edge, from, to) } else { self.lead_up(edge, from, to) };
        self.fabric.paths.push(path);
        self.fabric.ways.push(way);
    }

    /// Out at the side, up past the label and beside everything between, and into the side of the target.
    fn lead_up(&mut self, edge: usize, from: usize, to: usize) -> Vec<usize> {
        let mut path = vec![from];
        let mut here = from;
        if self.graph.edges[edge].label.is_some() || self.exits[from] > 1 {
            here = self.own(edge, self.fabric.cells[from].row - 1);
            self.link(here, from, 2);
            path.push(here);
        }
        path.extend(self.climb(to, here));
        path
    }

    /// Down past the label, over to the lane, up beside everything between, and into the side of the target.
    fn turn_back(&mut self, edge: usize, from: usize, to: usize) -> Vec<usize> {
        let mut path = self.leave(edge, from);
        let here = path.last().copied().unwrap_or(from);
        // The line turns round above this row; a cell there lets the turn count as what it crosses.
        let (turn, _) = self.shared(Kind::Lane(to), self.fabric.cells[here].row + 1);
        self.link(here, turn, 1);
        path.extend(self.climb(to, turn));
        path
    }

    /// From a cell up to the side of a step.
    fn climb(&mut self, to: usize, from: usize) -> Vec<usize> {
        let mut path = Vec::new();
        let mut here = from;
        let mut own = true;
        for row in (self.fabric.cells[to].row + 1..self.fabric.cells[from].row).rev() {
            let (lane, new) = self.shared(Kind::Lane(to), row);
            if own {
                self.link(lane, here, if matches!(self.fabric.cells[here].kind, Kind::Lane(_)) { LONG } else { 3 });
            }
            own = new;
            path.push(lane);
            here = lane;
        }
        if own && here != to {
            self.link(to, here, 1);
        }
        path.push(to);
        path
    }

    fn finish(mut self) -> Fabric {
        let links = &mut self.fabric.links;
        links.sort_unstable_by_key(|link| (link.upper, link.lower));
        links.dedup_by(|next, kept| {
            let same = (next.upper, next.lower) == (kept.upper, kept.lower);
            if same {
                kept.weight = if kept.weight.max(next.weight) == LONG { LONG } else { kept.weight + next.weight };
            }
            same
        });
        self.fabric
    }
}
