//! Network simplex on ranks (Gansner, Koutsofios, North, Vo 1993): whole numbers for nodes so that every arc is at least `min` long and
//! the weighted sum of lengths is least. Cut values are kept up to date along the cycle of each exchange.

use std::collections::BTreeSet;

/// How many tree arcs to compare when one has to leave.
const SEARCH: usize = 30;

/// `rank(head) - rank(tail) >= min`, each unit of length costs `weight`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Arc {
    pub tail: usize,
    pub head: usize,
    pub weight: i64,
    pub min: i64,
}

/// Ranks for a connected graph without cycles, the lowest of them 0. `first`, if given, must keep every `min`; it is a place to begin.
/// After `limit` exchanges it stops with what it has, which keeps every `min` too.
pub fn ranks(count: usize, arcs: &[Arc], first: Option<Vec<i64>>, limit: usize) -> Vec<i64> {
    if count == 0 {
        return Vec::new();
    }
    let rank = first.unwrap_or_else(|| longest_paths(count, arcs));
    let mut net = Network::new(count, arcs, rank);
    if net.grow_tight_tree() {
        net.measure_tree();
        net.measure_cuts();
        let (mut from, mut idle) = (0, 0);
        for _ in 0..limit {
            let Some(leaving) = net.leaving(&mut from) else { break };
            let Some(entering) = net.entering(leaving) else { break };
            // Exchanges that move nothing can go round in a circle.
            idle = if net.slack(entering) == 0 { idle + 1 } else { 0 };
            if idle > 200 + count {
                break;
            }
            net.exchange(leaving, entering);
        }
    }
    let lowest = net.rank.iter().min().copied().unwrap_or(0);
    net.rank.iter().map(|rank| rank - lowest).collect()
}

fn longest_paths(count: usize, arcs: &[Arc]) -> Vec<i64> {
    let mut out = vec![Vec::new(); count];
    let mut waiting = vec![0usize; count];
    for arc in arcs {
        out[arc.tail].push((arc.head, arc.min));
        waiting[arc.head] += 1;
    }
    let mut rank = vec![0; count];
    let mut queue: Vec<usize> = (0..count).filter(|node| waiting[*node] == 0).collect();
    let mut done = 0;
    while let Some(&node) = queue.get(done) {
        done += 1;
        for &(head, min) in &out[node] {
            rank[head] = rank[head].max(rank[node] + min);
            waiting[head] -= 1;
            if waiting[head] == 0 {
                queue.push(head);
            }
        }
    }
    rank
}

/// Arcs by how far they are from being tight.
type Waiting = BTreeSet<(i64, usize)>;

struct Network<'a> {
    arcs: &'a [Arc],
    rank: Vec<i64>,
    /// All arcs at each node.
    near: Vec<Vec<usize>>,
    in_tree: Vec<bool>,
    /// The tree's arcs, in a fixed order, and where each stands in it.
    tree: Vec<usize>,
    /// Tree arcs at each node.
    limbs: Vec<Vec<usize>>,
    parent: Vec<Option<usize>>,
    /// Postorder number of a node, and the lowest one below it.
    last: Vec<usize>,
    low: Vec<usize>,
    cut: Vec<i64>,
}

impl<'a> Network<'a> {
    fn new(count: usize, arcs: &'a [Arc], rank: Vec<i64>) -> Self {
        let mut near = vec![Vec::new(); count];
        for (index, arc) in arcs.iter().enumerate() {
            near[arc.tail].push(index);
            near[arc.head].push(index);
        }
        Self {
            arcs,
            rank,
            near,
            in_tree: vec![false; arcs.len()],
            tree: Vec::new(),
            limbs: vec![Vec::new(); count],
            parent: vec![None; count],
            last: vec![0; count],
            low: vec![0; count],
            cut: vec![0; arcs.len()],
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
    fn grow_tight_tree(&mut self) -> bool {
        let count = self.rank.len();
        let mut inside = vec![false; count];
        let mut moved = vec![0i64; count];
        let mut shift = 0i64;
        // Arcs out of the tree lose slack when the tree moves down, arcs into it when it moves up.
        let (mut leaving, mut arriving) = (Waiting::new(), Waiting::new());
        let mut fresh = vec![0];
        inside[0] = true;
        let mut size = 0;
        loop {
            while let Some(node) = fresh.pop() {
                size += 1;
                moved[node] = shift;
                for place in 0..self.near[node].len() {
                    let index = self.near[node][place];
                    let (tail, head, min) = (self.arcs[index].tail, self.arcs[index].head, self.arcs[index].min);
                    let other = self.other(index, node);
                    if inside[other] {
                        continue;
                    }
                    let slack = self.rank[head] - self.rank[tail] - min;
                    if slack == 0 {
                        inside[other] = true;
                        self.add_to_tree(index);
                        fresh.push(other);
                    } else if tail == node {
                        leaving.insert((slack + shift, index));
                    } else {
                        arriving.insert((slack - shift, index));
                    }
                }
            }
            if size == count {
                break;
            }
            let down = Self::nearest(&mut leaving, |index| !inside[self.arcs[index].head]).map(|(key, index)| (key - shift, index));
            let up = Self::nearest(&mut arriving, |index| !inside[self.arcs[index].tail]).map(|(key, index)| (key + shift, index));
            let (step, index, node) = match (down, up) {
                (Some((a, index)), Some((b, _))) if a <= b => (a, index, self.arcs[index].head),
                (Some((a, index)), None) => (a, index, self.arcs[index].head),
                (_, Some((b, index))) => (-b, index, self.arcs[index].tail),
                (None, None) => return false,
            };
            shift += step;
            self.settle(&inside, &mut moved, shift);
            inside[node] = true;
            self.add_to_tree(index);
            fresh.push(node);
        }
        true
    }

    /// Brings every node of the tree to the present shift.
    fn settle(&mut self, inside: &[bool], moved: &mut [i64], shift: i64) {
        for node in 0..inside.len() {
            if inside[node] {
                self.rank[node] += shift - moved[node];
                moved[node] = shift;
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

    fn add_to_tree(&mut self, index: usize) {
        self.in_tree[index] = true;
        self.tree.push(index);
        self.limbs[self.arcs[index].tail].push(index);
        self.limbs[self.arcs[index].head].push(index);
    }

    fn measure_tree(&mut self) {
        self.number(0, None, 1);
    }

    /// Numbers the subtree of `root` in postorder, beginning with `low`.
    fn number(&mut self, root: usize, parent: Option<usize>, low: usize) {
        let mut next = low;
        self.parent[root] = parent;
        self.low[root] = next;
        let mut stack = vec![(root, 0)];
        while let Some((node, place)) = stack.last_mut() {
            let node = *node;
            let Some(&index) = self.limbs[node].get(*place) else {
                self.last[node] = next;
                next += 1;
                stack.pop();
                continue;
            };
            *place += 1;
            if self.parent[node] == Some(index) {
                continue;
            }
            let child = self.other(index, node);
            self.parent[child] = Some(index);
            self.low[child] = next;
            stack.push((child, 0));
        }
    }

    /// Whether `node` stands in the subtree of `top`.
    fn below(&self, node: usize, top: usize) -> bool {
        self.low[top] <= self.last[node] && self.last[node] <= self.last[top]
    }

    /// Cut values by sums over subtrees of (weight out - weight in).
    fn measure_cuts(&mut self) {
        let count = self.rank.len();
        let mut sum = vec![0i64; count];
        for arc in self.arcs {
            sum[arc.tail] += arc.weight;
            sum[arc.head] -= arc.weight;
        }
        let mut nodes: Vec<usize> = (0..count).collect();
        nodes.sort_by_key(|node| self.last[*node]);
        for node in nodes {
            if let Some(index) = self.parent[node] {
                let above = self.other(index, node);
                sum[above] += sum[node];
                self.cut[index] = if self.arcs[index].tail == node { sum[node] } else { -sum[node] };
            }
        }
    }

    /// The worst of the next few tree arcs of negative cut value, searched in a circle; gives its place in the tree.
    fn leaving(&self, from: &mut usize) -> Option<usize> {
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
                    break;
                }
            }
        }
        worst.map(|(_, place)| place)
    }

    /// The arc of least slack that leads from the head's side of a tree arc back to the tail's side.
    fn entering(&self, leaving: usize) -> Option<usize> {
        let arc = &self.arcs[self.tree[leaving]];
        let tail_below = self.last[arc.tail] < self.last[arc.head];
        let top = if tail_below { arc.tail } else { arc.head };
        let mut best: Option<(i64, usize)> = None;
        let mut stack = vec![top];
        while let Some(node) = stack.pop() {
            for &index in &self.near[node] {
                let arc = &self.arcs[index];
                if self.in_tree[index] {
                    if self.parent[node] != Some(index) {
                        stack.push(self.other(index, node));
                    }
                    continue;
                }
                let (inner, outer) = if tail_below { (arc.head, arc.tail) } else { (arc.tail, arc.head) };
                if inner == node && !self.below(outer, top) {
                    let key = (self.slack(index), index);
                    if best.is_none_or(|found| key < found) {
                        best = Some(key);
                    }
                }
            }
        }
        best.map(|(_, index)| index)
    }

    fn exchange(&mut self, place: usize, entering: usize) {
        let leaving = self.tree[place];
        let slack = self.slack(entering);
        let (tail, head) = (self.arcs[leaving].tail, self.arcs[leaving].head);
        if slack != 0 {
            let (top, shift) = if self.last[tail] < self.last[head] { (tail, -slack) } else { (head, slack) };
            self.shift(top, shift);
        }
        let value = self.cut[leaving];
        let (from, to) = (self.arcs[entering].tail, self.arcs[entering].head);
        let meeting = self.update_cuts(from, to, value, true);
        self.update_cuts(to, from, value, false);
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
        let (parent, low) = (self.parent[meeting], self.low[meeting]);
        self.number(meeting, parent, low);
    }

    fn shift(&mut self, top: usize, by: i64) {
        let mut stack = vec![top];
        while let Some(node) = stack.pop() {
            self.rank[node] += by;
            for &index in &self.limbs[node] {
                if self.parent[node] != Some(index) {
                    stack.push(self.other(index, node));
                }
            }
        }
    }

    /// Walks up from `node` until `other` is below, changing cut values on the way; gives the node where it stopped.
    fn update_cuts(&mut self, mut node: usize, other: usize, value: i64, up: bool) -> usize {
        while !self.below(other, node) {
            let Some(index) = self.parent[node] else { break };
            let along = (self.arcs[index].tail == node) == up;
            self.cut[index] += if along { value } else { -value };
            node = self.other(index, node);
        }
        node
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(arcs: &[Arc], ranks: &[i64]) -> i64 {
        arcs.iter().map(|arc| arc.weight * (ranks[arc.head] - ranks[arc.tail])).sum()
    }

    /// The example of Gansner and others 1993; its optimum of 10 was confirmed by linear programming.
    #[test]
    fn the_published_example_reaches_its_optimum() {
        let pairs = ["ab", "bc", "cd", "dh", "ae", "af", "eg", "fg", "gh"];
        let node = |letter: u8| usize::from(letter - b'a');
        let arcs: Vec<Arc> =
            pairs.iter().map(|pair| Arc { tail: node(pair.as_bytes()[0]), head: node(pair.as_bytes()[1]), weight: 1, min: 1 }).collect();
        let ranks = ranks(8, &arcs, None, 1_000);
        assert_eq!(length(&arcs, &ranks), 10);
        assert!(arcs.iter().all(|arc| ranks[arc.head] - ranks[arc.tail] >= 1));
    }

    /// Duality says when ranks are best: no set of nodes may move one up or down at a gain. Tried here on all sets of small graphs.
    #[test]
    fn no_set_of_nodes_can_move_at_a_gain() {
        let mut state = 7u64;
        let mut next = |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % below
        };
        for _ in 0..300 {
            let count = 3 + usize::try_from(next(7)).expect("small");
            let mut arcs: Vec<Arc> =
                (1..count).map(|head| Arc { tail: usize::try_from(next(head as u64)).expect("small"), head, weight: 0, min: 0 }).collect();
            for _ in 0..2 * count {
                let (a, b) = (usize::try_from(next(count as u64)).expect("small"), usize::try_from(next(count as u64)).expect("small"));
                if a != b {
                    let (weight, min) = (i64::try_from(next(5)).expect("small"), i64::try_from(next(3)).expect("small"));
                    arcs.push(Arc { tail: a.min(b), head: a.max(b), weight, min });
                }
            }
            let ranks = ranks(count, &arcs, None, 10_000);
            let best = length(&arcs, &ranks);
            for set in 0..1u32 << count {
                for by in [-1, 1] {
                    let moved: Vec<i64> = (0..count).map(|node| ranks[node] + if set >> node & 1 == 1 { by } else { 0 }).collect();
                    let kept = arcs.iter().all(|arc| moved[arc.head] - moved[arc.tail] >= arc.min);
                    assert!(!kept || length(&arcs, &moved) >= best, "{arcs:?} {ranks:?} {moved:?}");
                }
            }
        }
    }
}
