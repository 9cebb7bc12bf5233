//! The smallest set of nodes that parts two others: against a general graph library (petgraph, from the registry), against every smaller set, and
//! against published numbers.

use std::collections::BTreeSet;

use petgraph::algo::ford_fulkerson;
use petgraph::graph::{DiGraph, NodeIndex};
use stepward::flow::coverage::cut::{Parting, Point};

use crate::support::random::Random;

/// A small graph: some nodes can be cut, the source leads to some, some lead to the sink.
#[derive(Debug)]
struct Graph {
    cuttable: Vec<bool>,
    lines: Vec<(usize, usize)>,
    first: Vec<usize>,
    last: Vec<usize>,
}

impl Graph {
    fn random(random: &mut Random) -> Self {
        let nodes = 2 + random.below(8);
        let some = |random: &mut Random| (0..=random.below(2)).map(|_| random.below(nodes)).collect();
        let (first, last) = (some(random), some(random));
        let count = random.below(3 * nodes);
        Self {
            cuttable: (0..nodes).map(|_| !random.one_in(4)).collect(),
            lines: (0..count).map(|_| (random.below(nodes), random.below(nodes))).collect(),
            first,
            last,
        }
    }

    fn own(&self) -> Option<Vec<usize>> {
        let mut parting = Parting::new(self.cuttable.len());
        for (node, cuttable) in self.cuttable.iter().enumerate() {
            if *cuttable { parting.cuttable(node) } else { parting.uncuttable(node) }
        }
        self.lines.iter().for_each(|(from, to)| parting.line(Point::After(*from), Point::Before(*to)));
        self.first.iter().for_each(|node| parting.line(Point::Source, Point::Before(*node)));
        self.last.iter().for_each(|node| parting.line(Point::After(*node), Point::Sink));
        parting.smallest()
    }

    /// The largest flow by the library; 1,000 and more where nodes that cannot be cut join the two.
    fn general(&self) -> u32 {
        let nodes = self.cuttable.len();
        let mut graph: DiGraph<(), u32> = DiGraph::new();
        let points: Vec<NodeIndex> = (0..2 * nodes + 2).map(|_| graph.add_node(())).collect();
        let (source, sink) = (points[2 * nodes], points[2 * nodes + 1]);
        for (node, cuttable) in self.cuttable.iter().enumerate() {
            graph.add_edge(points[2 * node], points[2 * node + 1], if *cuttable { 1 } else { 1_000 });
        }
        for (from, to) in &self.lines {
            graph.add_edge(points[2 * from + 1], points[2 * to], 1_000);
        }
        for node in &self.first {
            graph.add_edge(source, points[2 * node], 1_000);
        }
        for node in &self.last {
            graph.add_edge(points[2 * node + 1], sink, 1_000);
        }
        ford_fulkerson(&graph, source, sink).0
    }

    /// The nodes from which the sink can be reached without passing one of the set; `None` if the source is joined to it.
    fn near(&self, set: &BTreeSet<usize>) -> Option<BTreeSet<usize>> {
        let mut near: BTreeSet<usize> = self.last.iter().copied().filter(|node| !set.contains(node)).collect();
        loop {
            let more: BTreeSet<usize> =
                self.lines.iter().filter(|(from, to)| near.contains(to) && !set.contains(from)).map(|(from, _)| *from).collect();
            if more.is_subset(&near) {
                break;
            }
            near.extend(more);
        }
        (!self.first.iter().any(|node| near.contains(node))).then_some(near)
    }
}

#[test]
fn the_cut_is_smallest_and_nearest_on_random_graphs() {
    let mut random = Random::new(21);
    let (mut sizes, mut endless) = ([0; 3], 0);
    for _ in 0..3_000 {
        let graph = Graph::random(&mut random);
        let flow = graph.general();
        let Some(cut) = graph.own() else {
            assert!(flow >= 1_000, "{graph:?}");
            endless += 1;
            continue;
        };
        assert_eq!(u32::try_from(cut.len()).unwrap(), flow, "{graph:?}");
        assert!(cut.iter().all(|node| graph.cuttable[*node]), "{graph:?}");
        let own = graph.near(&cut.iter().copied().collect()).expect("it parts");
        for mask in 0_u32..1 << graph.cuttable.len() {
            let set: BTreeSet<usize> = (0..graph.cuttable.len()).filter(|node| mask & (1 << node) != 0).collect();
            if !set.iter().all(|node| graph.cuttable[*node]) {
                continue;
            }
            let near = graph.near(&set);
            assert!(set.len() >= cut.len() || near.is_none(), "{graph:?}: {set:?} is smaller than {cut:?}");
            if let (true, Some(near)) = (set.len() == cut.len(), near) {
                assert!(own.is_subset(&near), "{graph:?}: {set:?} is nearer than {cut:?}");
            }
        }
        sizes[cut.len().min(2)] += 1;
    }
    assert!(endless > 100 && sizes.iter().all(|count| *count > 5), "{endless} endless, sizes {sizes:?}");
}

/// The vertex connectivity of the icosahedron is 5 (NetworkX, documentation of `node_connectivity`).
#[test]
fn five_nodes_part_an_icosahedron() {
    let mut edges = Vec::new();
    for i in 0..5 {
        let next = (i + 1) % 5;
        edges.extend([(0, 1 + i), (1 + i, 1 + next), (1 + i, 6 + i), (1 + i, 6 + next), (6 + i, 6 + next), (6 + i, 11)]);
    }
    assert_eq!(edges.len(), 30);
    let joined = |a: usize, b: usize| edges.contains(&(a, b)) || edges.contains(&(b, a));
    let mut smallest = usize::MAX;
    for from in 0..12 {
        for to in (0..12).filter(|to| *to != from && !joined(from, *to)) {
            let mut parting = Parting::new(12);
            (0..12).for_each(|node| parting.cuttable(node));
            for (a, b) in &edges {
                parting.line(Point::After(*a), Point::Before(*b));
                parting.line(Point::After(*b), Point::Before(*a));
            }
            parting.line(Point::Source, Point::After(from));
            parting.line(Point::Before(to), Point::Sink);
            smallest = smallest.min(parting.smallest().expect("they are not side by side").len());
        }
    }
    assert_eq!(smallest, 5);
}

/// Three branches that join at one node before two exposures: worked by hand, the same three cases as in the design of the analysis.
#[test]
fn branches_that_join_are_cut_where_they_join() {
    // 0, 1, 2 lead to 3 (the join), which leads to 4 and 5 (the exposures).
    let cut = |join_may: bool, join_restores: bool| {
        let mut parting = Parting::new(6);
        for node in 0..6 {
            if node != 3 || join_may { parting.cuttable(node) } else { parting.uncuttable(node) }
        }
        for branch in 0..3 {
            parting.line(Point::Source, Point::Before(branch));
            parting.line(Point::After(branch), Point::Before(3));
        }
        for exposure in [4, 5] {
            let from = if join_restores { Point::Source } else { Point::After(3) };
            parting.line(from, Point::Before(exposure));
            parting.line(Point::After(exposure), Point::Sink);
        }
        parting.smallest()
    };
    assert_eq!(cut(true, false), Some(vec![3]));
    assert_eq!(cut(false, false), Some(vec![4, 5]));
    assert_eq!(cut(true, true), Some(vec![4, 5]));
}
