//! The smallest set of nodes that parts a source from a sink (Menger 1927): a largest flow by shortest augmenting paths (Edmonds, Karp 1972) through
//! nodes split in two, and of all smallest sets the one nearest to the sink.

use std::collections::VecDeque;

/// Where a line begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Point {
    Source,
    /// On arrival at a node.
    Before(usize),
    /// Past it.
    After(usize),
    Sink,
}

/// A graph of numbered nodes. Lines cannot be cut, nodes can where [`Parting::cuttable`] says so.
pub struct Parting {
    nodes: usize,
    /// By point: its lines, by number. A line and the one with the lowest bit turned lead there and back.
    lines: Vec<Vec<usize>>,
    /// Where each leads, and what it can still carry.
    ends: Vec<(usize, u32)>,
}

const ENDLESS: u32 = u32::MAX / 4;

impl Parting {
    pub fn new(nodes: usize) -> Self {
        Self { nodes, lines: vec![Vec::new(); 2 * nodes + 2], ends: Vec::new() }
    }

    /// The way through a node: it may be taken into the set.
    pub fn cuttable(&mut self, node: usize) {
        self.add(2 * node, 2 * node + 1, 1);
    }

    /// The way through a node that may not.
    pub fn uncuttable(&mut self, node: usize) {
        self.add(2 * node, 2 * node + 1, ENDLESS);
    }

    pub fn line(&mut self, from: Point, to: Point) {
        let (from, to) = (self.number(from), self.number(to));
        self.add(from, to, ENDLESS);
    }

    fn number(&self, point: Point) -> usize {
        match point {
            Point::Before(node) => 2 * node,
            Point::After(node) => 2 * node + 1,
            Point::Source => 2 * self.nodes,
            Point::Sink => 2 * self.nodes + 1,
        }
    }

    fn add(&mut self, from: usize, to: usize, carries: u32) {
        self.lines[from].push(self.ends.len());
        self.ends.push((to, carries));
        self.lines[to].push(self.ends.len());
        self.ends.push((from, 0));
    }

    /// The set, in ascending order. `None` if no set of nodes that may be taken parts the two.
    pub fn smallest(mut self) -> Option<Vec<usize>> {
        while let Some(path) = self.augmenting() {
            let carried = path.iter().map(|line| self.ends[*line].1).min()?;
            // Other paths may have used a little of a line that cannot be cut.
            if carried > ENDLESS / 2 {
                return None;
            }
            for line in path {
                self.ends[line].1 -= carried;
                self.ends[line ^ 1].1 += carried;
            }
        }
        let near = self.near_sink();
        Some((0..self.nodes).filter(|node| !near[2 * node] && near[2 * node + 1]).collect())
    }

    /// A shortest path from source to sink that can still carry something, as lines.
    fn augmenting(&self) -> Option<Vec<usize>> {
        let (source, sink) = (self.number(Point::Source), self.number(Point::Sink));
        let mut by: Vec<Option<usize>> = vec![None; self.lines.len()];
        let mut open = VecDeque::from([source]);
        while let Some(point) = open.pop_front() {
            for line in &self.lines[point] {
                let (to, left) = self.ends[*line];
                if left > 0 && to != source && by[to].is_none() {
                    by[to] = Some(*line);
                    open.push_back(to);
                }
            }
        }
        let mut path = Vec::new();
        let mut here = sink;
        while here != source {
            let line = by[here]?;
            path.push(line);
            here = self.ends[line ^ 1].0;
        }
        Some(path)
    }

    /// The points from which the sink can still be reached.
    fn near_sink(&self) -> Vec<bool> {
        let sink = self.number(Point::Sink);
        let mut near = vec![false; self.lines.len()];
        near[sink] = true;
        let mut open = vec![sink];
        while let Some(point) = open.pop() {
            for line in &self.lines[point] {
                let from = self.ends[*line].0;
                if self.ends[*line ^ 1].1 > 0 && !near[from] {
                    near[from] = true;
                    open.push(from);
                }
            }
        }
        near
    }
}
