//! Threads every line through the rows between its ends. Rows alternate: even ones hold labels, odd ones hold steps, so that a label has a
//! place of its own like any box. Lines to one step join as soon as they can and go on as one thread (ISO 5807: lines may join), so a step
//! that everything leads to costs one lane, not one for each line.

use std::collections::BTreeMap;

use crate::chart::graph::Graph;

/// What stands at a place in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Step(usize),
    /// The label of an edge, or the place where an edge without one leaves its fork.
    Own(usize),
    /// Lines on their way down to a step.
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
}

/// The row of labels above the first row of steps is row 0, and one more row of labels ends the drawing.
pub fn weave(graph: &Graph, back: &[bool], rows: &[usize]) -> Fabric {
    let mut loom = Loom::new(graph, rows);
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
    /// Shared cells by what they are and their row.
    shared: BTreeMap<(Kind, usize), usize>,
    links: BTreeMap<(usize, usize), i64>,
    forks: Vec<bool>,
    joins: Vec<bool>,
}

impl<'a> Loom<'a> {
    fn new(graph: &'a Graph, rows: &[usize]) -> Self {
        let last = rows.iter().max().map_or(0, |row| 2 * row + 3);
        let (mut exits, mut entries) = (vec![0; graph.nodes.len()], vec![0; graph.nodes.len()]);
        for edge in &graph.edges {
            exits[edge.from] += 1;
            entries[edge.to] += 1;
        }
        let fabric = Fabric { rows: vec![Vec::new(); last + 1], ..Fabric::default() };
        let many = |counts: Vec<usize>| counts.into_iter().map(|count| count > 1).collect();
        let (forks, joins) = (many(exits), many(entries));
        let mut loom = Self { graph, fabric, shared: BTreeMap::new(), links: BTreeMap::new(), forks, joins };
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

    fn shared(&mut self, kind: Kind, row: usize) -> usize {
        if let Some(cell) = self.shared.get(&(kind, row)) {
            return *cell;
        }
        let cell = self.add(Cell { kind, row, left: 0, right: 0, height: 0 });
        self.shared.insert((kind, row), cell);
        cell
    }

    fn link(&mut self, upper: usize, lower: usize, weight: i64) {
        *self.links.entry((upper, lower)).or_insert(0) += weight;
    }

    /// Bends belong where lines fork or join anyhow, so between steps of one exit and one entry a line is held straighter.
    fn weight(&self, edge: usize) -> i64 {
        let edge = &self.graph.edges[edge];
        let plain = i64::from(!self.forks[edge.from]) + i64::from(!self.joins[edge.to]);
        i64::from(edge.weight) * (2 + plain)
    }

    /// The beginning of a path: the step, and a cell of the edge's own if it has a label or leaves a fork.
    fn leave(&mut self, edge: usize, from: usize) -> Vec<usize> {
        let label = self.graph.edges[edge].label;
        if label.is_none() && !self.forks[from] {
            return vec![from];
        }
        let size = label.unwrap_or(crate::chart::graph::Size { width: 0, height: 0 });
        let row = self.fabric.cells[from].row + 1;
        let right = size.width - size.width / 2;
        let own = self.add(Cell { kind: Kind::Own(edge), row, left: size.width / 2, right, height: size.height });
        self.link(from, own, self.weight(edge));
        vec![from, own]
    }

    fn lead_down(&mut self, edge: usize, from: usize, to: usize) {
        let weight = self.weight(edge);
        let mut path = self.leave(edge, from);
        let mut here = path.last().copied().unwrap_or(from);
        for row in self.fabric.cells[here].row + 1..self.fabric.cells[to].row {
            let thread = self.shared(Kind::Thread(to), row);
            self.lead_on(here, thread, weight);
            path.push(thread);
            here = thread;
        }
        self.lead_on(here, to, weight);
        path.push(to);
        self.fabric.paths.push(path);
    }

    fn lead_on(&mut self, here: usize, next: usize, weight: i64) {
        let shared = |kind| matches!(kind, Kind::Thread(_));
        let (a, b) = (self.fabric.cells[here].kind, self.fabric.cells[next].kind);
        // Long threads hold straight before all else, however many lines have joined them.
        match (shared(a), shared(b)) {
            (true, true) => {
                self.links.insert((here, next), 16);
            }
            // A jog on the last stretch is seen most.
            (true, false) => self.link(here, next, weight + 6),
            (false, _) => self.link(here, next, weight + 1),
        }
    }

    /// Down past the label, over to the lane, up beside everything between, and into the target from above.
    fn lead_back(&mut self, edge: usize, from: usize, to: usize) {
        let mut path = self.leave(edge, from);
        let here = path.last().copied().unwrap_or(from);
        let turn = self.fabric.cells[here].row + 1;
        let top = self.fabric.cells[to].row - 1;
        let lane: Vec<usize> = (top..=turn).map(|row| self.shared(Kind::Lane(to), row)).collect();
        for pair in lane.windows(2) {
            self.links.insert((pair[0], pair[1]), 16);
        }
        self.link(here, lane[lane.len() - 1], 1);
        self.links.insert((lane[0], to), 1);
        path.extend(lane[1..lane.len() - 1].iter().rev());
        path.push(to);
        self.fabric.paths.push(path);
    }

    fn finish(mut self) -> Fabric {
        self.fabric.links = self.links.into_iter().map(|((upper, lower), weight)| Link { upper, lower, weight }).collect();
        self.fabric
    }
}
