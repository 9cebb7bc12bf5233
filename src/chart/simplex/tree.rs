//! The tree of arcs without slack, and its exchanges. Cut values are kept up to date along the cycle of each exchange; only the part of the tree
//! that an exchange cuts off is visited.

use std::collections::BTreeSet;

use crate::chart::simplex::Arc;

/// How many tree arcs to compare when one has to leave.
const SEARCH: usize = 30;
/// So many glances at a cut value cost as much as a visit.
const GLANCES: usize = 8;
const NONE: usize = usize::MAX;

/// Arcs by how far they are from being tight.
type Waiting = BTreeSet<(i64, usize)>;

pub struct Tree<'a> {
    arcs: &'a [Arc],
    pub rank: Vec<i64>,
    /// Nodes visited so far.
    pub work: usize,
    /// All arcs at each node, in one list.
    starts: Vec<usize>,
    near: Vec<usize>,
    in_tree: Vec<bool>,
    /// The tree's arcs, in a fixed order.
    tree: Vec<usize>,
    /// Tree arcs at each node.
    limbs: Vec<Vec<usize>>,
    /// The arc towards the root, and how many arcs there are on the way to it.
    parent: Vec<usize>,
    depth: Vec<usize>,
    cut: Vec<i64>,
    /// The exchange that last cut a node off.
    cut_off: Vec<usize>,
    exchanges: usize,
}

impl<'a> Tree<'a> {
    pub fn new(arcs: &'a [Arc], rank: Vec<i64>) -> Self {
        let count = rank.len();
        let mut starts = vec![0; count + 1];
        for arc in arcs {
            starts[arc.tail + 1] += 1;
            starts[arc.head + 1] += 1;
        }
        for node in 0..count {
            starts[node + 1] += starts[node];
        }
        let (mut next, mut near) = (starts.clone(), vec![0; 2 * arcs.len()]);
        for (index, arc) in arcs.iter().enumerate() {
            for node in [arc.tail, arc.head] {
                near[next[node]] = index;
                next[node] += 1;
            }
        }
        Self {
            arcs,
            rank,
            work: 0,
            starts,
            near,
            in_tree: vec![false; arcs.len()],
            tree: Vec::new(),
            limbs: vec![Vec::new(); count],
            parent: vec![NONE; count],
            depth: vec![0; count],
            cut: vec![0; arcs.len()],
            cut_off: vec![0; count],
            exchanges: 0,
        }
    }

    fn slack(&self, index: usize) -> i64 {
        let arc = &self.arcs[index];
        self.rank[arc.head] - self.rank[arc.tail] - arc.min
    }

    fn other(&self, index: usize, node: usize) -> usize {
        let arc = &self.arcs[index];
        if arc.tail == node { arc.head } else { arc.tail }
    }

    /// Spans the graph with arcs of no slack, moving what is already spanned as a whole. False if the graph is not connected.
    /// Arcs that reach out of the tree wait by `slack + shift so far`, so that a move of the whole tree leaves the order right.
    pub fn grow(&mut self) -> bool {
        let count = self.rank.len();
        let mut joined: Vec<Option<i64>> = vec![None; count];
        let mut shift = 0i64;
        // Arcs out of the tree lose slack when the tree moves down, arcs into it when it moves up.
        let (mut leaving, mut arriving) = (Waiting::new(), Waiting::new());
        let mut fresh = vec![0];
        let mut order = Vec::with_capacity(count);
        joined[0] = Some(0);
        loop {
            while let Some(node) = fresh.pop() {
                order.push(node);
                for place in self.starts[node]..self.starts[node + 1] {
                    let index = self.near[place];
                    let other = self.other(index, node);
                    if joined[other].is_some() {
                        continue;
                    }
                    let slack = self.slack(index);
                    if slack == 0 {
                        joined[other] = Some(shift);
                        self.join(index, node);
                        fresh.push(other);
                    } else if self.arcs[index].tail == node {
                        leaving.insert((slack + shift, index));
                    } else {
                        arriving.insert((slack - shift, index));
                    }
                }
            }
            if order.len() == count {
                break;
            }
            let down = nearest(&mut leaving, |index| joined[self.arcs[index].head].is_none()).map(|(key, index)| (key - shift, index));
            let up = nearest(&mut arriving, |index| joined[self.arcs[index].tail].is_none()).map(|(key, index)| (key + shift, index));
            let (step, index) = match (down, up) {
                (Some((a, _)), Some((b, index))) if b < a => (-b, index),
                (Some((a, index)), _) => (a, index),
                (None, Some((b, index))) => (-b, index),
                (None, None) => return false,
            };
            shift += step;
            let arc = &self.arcs[index];
            let (inner, outer) = if joined[arc.tail].is_some() { (arc.tail, arc.head) } else { (arc.head, arc.tail) };
            joined[outer] = Some(shift);
            self.join(index, inner);
            fresh.push(outer);
        }
        for (rank, joined) in self.rank.iter_mut().zip(&joined) {
            *rank += shift - joined.unwrap_or(shift);
        }
        self.measure_cuts(&order);
        true
    }

    /// Adds an arc from a node of the tree to one outside.
    fn join(&mut self, index: usize, inner: usize) {
        let outer = self.other(index, inner);
        self.in_tree[index] = true;
        self.tree.push(index);
        self.limbs[inner].push(index);
        self.limbs[outer].push(index);
        self.parent[outer] = index;
        self.depth[outer] = self.depth[inner] + 1;
    }

    /// Cut values by sums over subtrees of (weight out - weight in); in `order` parents come first.
    fn measure_cuts(&mut self, order: &[usize]) {
        let mut sum = vec![0i64; order.len()];
        for arc in self.arcs {
            sum[arc.tail] += arc.weight;
            sum[arc.head] -= arc.weight;
        }
        for node in order.iter().rev().copied() {
            let index = self.parent[node];
            if index != NONE {
                let above = self.other(index, node);
                sum[above] += sum[node];
                self.cut[index] = if self.arcs[index].tail == node { sum[node] } else { -sum[node] };
            }
        }
    }

    /// The worst of the next few tree arcs of negative cut value, searched in a circle; gives its place in the tree.
    pub fn leaving(&mut self, from: &mut usize) -> Option<usize> {
        let size = self.tree.len();
        let mut worst: Option<(i64, usize)> = None;
        let mut found = 0;
        for step in 0..size {
            let place = (*from + step) % size;
            let cut = self.cut[self.tree[place]];
            if cut < 0 {
                found += 1;
                worst = Some(worst.map_or((cut, place), |best| best.min((cut, place))));
                if found == SEARCH {
                    *from = (place + 1) % size;
                    self.work += step / GLANCES;
                    return worst.map(|(_, place)| place);
                }
            }
        }
        self.work += size / GLANCES;
        worst.map(|(_, place)| place)
    }

    /// Puts the arc of least slack that leads back over the cut in the place of a tree arc; gives that slack.
    pub fn exchange(&mut self, place: usize) -> Option<i64> {
        let leaving = self.tree[place];
        let (tail, head) = (self.arcs[leaving].tail, self.arcs[leaving].head);
        let tail_below = self.parent[tail] == leaving;
        self.exchanges += 1;
        let nodes = self.cut_off(if tail_below { tail } else { head });
        let (slack, entering) = self.entering(&nodes, tail_below)?;
        if slack != 0 {
            let shift = if tail_below { -slack } else { slack };
            nodes.iter().for_each(|node| self.rank[*node] += shift);
        }
        let (from, to) = (self.arcs[entering].tail, self.arcs[entering].head);
        let value = self.cut[leaving];
        self.update_cuts(from, to, value);
        self.cut[entering] = -value;
        self.cut[leaving] = 0;
        self.in_tree[leaving] = false;
        self.in_tree[entering] = true;
        self.tree[place] = entering;
        for node in [tail, head] {
            self.limbs[node].retain(|index| *index != leaving);
        }
        for node in [from, to] {
            self.limbs[node].push(entering);
        }
        self.hang(entering, if tail_below { (from, to) } else { (to, from) });
        Some(slack)
    }

    /// All nodes from one down, marked as cut off by this exchange.
    fn cut_off(&mut self, top: usize) -> Vec<usize> {
        let mut nodes = vec![top];
        let mut done = 0;
        while let Some(&node) = nodes.get(done) {
            done += 1;
            self.cut_off[node] = self.exchanges;
            for index in &self.limbs[node] {
                if self.parent[node] != *index {
                    nodes.push(self.other(*index, node));
                }
            }
        }
        self.work += nodes.len();
        nodes
    }

    /// The arc of least slack from the head's side of a cut back to the tail's side.
    fn entering(&self, nodes: &[usize], tail_below: bool) -> Option<(i64, usize)> {
        let mut best: Option<(i64, usize)> = None;
        for node in nodes {
            for index in &self.near[self.starts[*node]..self.starts[*node + 1]] {
                let arc = &self.arcs[*index];
                let (inner, outer) = if tail_below { (arc.head, arc.tail) } else { (arc.tail, arc.head) };
                if inner == *node && self.cut_off[outer] != self.exchanges && !self.in_tree[*index] {
                    let key = (self.slack(*index), *index);
                    if best.is_none_or(|found| key < found) {
                        best = Some(key);
                    }
                }
            }
        }
        best
    }

    /// Changes the cut values on the cycle that an arc from `tail` to `head` closes.
    fn update_cuts(&mut self, mut tail: usize, mut head: usize, value: i64) {
        while tail != head {
            self.work += 1;
            let from_tail = self.depth[tail] >= self.depth[head];
            let node = if from_tail { tail } else { head };
            let index = self.parent[node];
            let along = (self.arcs[index].tail == node) == from_tail;
            self.cut[index] += if along { value } else { -value };
            let above = self.other(index, node);
            if from_tail {
                tail = above;
            } else {
                head = above;
            }
        }
    }

    /// Turns what was cut off round, so that it hangs on an arc from outside to inside.
    fn hang(&mut self, entering: usize, (outer, inner): (usize, usize)) {
        self.parent[inner] = entering;
        self.depth[inner] = self.depth[outer] + 1;
        let mut nodes = vec![inner];
        while let Some(node) = nodes.pop() {
            for place in 0..self.limbs[node].len() {
                let index = self.limbs[node][place];
                if self.parent[node] != index {
                    let child = self.other(index, node);
                    self.parent[child] = index;
                    self.depth[child] = self.depth[node] + 1;
                    nodes.push(child);
                }
            }
        }
    }
}

fn nearest(waiting: &mut Waiting, useful: impl Fn(usize) -> bool) -> Option<(i64, usize)> {
    while let Some(&(key, index)) = waiting.first() {
        if useful(index) {
            return Some((key, index));
        }
        waiting.remove(&(key, index));
    }
    None
}
