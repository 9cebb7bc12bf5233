//! Graph questions against a general graph library (petgraph, from the registry) and against published examples.

use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;
use petgraph::visit::Dfs;
use stepward::flow::{loops, reach};

use crate::support::random::Random;

fn general(successors: &[Vec<usize>]) -> DiGraph<(), ()> {
    let edges = successors.iter().enumerate().flat_map(|(from, nexts)| nexts.iter().map(move |to| (from as u32, *to as u32)));
    let mut graph = DiGraph::from_edges(edges);
    while graph.node_count() < successors.len() {
        graph.add_node(());
    }
    graph
}

#[test]
fn circles_and_reach_agree_with_a_general_graph_library() {
    let mut random = Random::new(7);
    let mut with_circles = 0;
    for _ in 0..2_000 {
        let size = 1 + random.below(30);
        let ways = random.below(3 * size);
        let mut successors = vec![Vec::new(); size];
        for _ in 0..ways {
            let from = random.below(size);
            successors[from].push(random.below(size));
        }
        let graph = general(&successors);

        let mut expected: Vec<Vec<usize>> = tarjan_scc(&graph)
            .into_iter()
            .filter(|component| component.len() > 1 || graph.contains_edge(component[0], component[0]))
            .map(|component| component.into_iter().map(|node| node.index()).collect())
            .collect();
        expected.iter_mut().for_each(|component| component.sort_unstable());
        expected.sort();
        assert_eq!(loops::circles(&successors, &vec![true; size]), expected, "{successors:?}");
        with_circles += usize::from(!expected.is_empty());

        let mut search = Dfs::new(&graph, 0.into());
        let mut reached = vec![false; size];
        while let Some(node) = search.next(&graph) {
            reached[node.index()] = true;
        }
        assert_eq!(reach::reachable(&successors, [0]), reached, "{successors:?}");
    }
    assert!(with_circles > 500, "only {with_circles} graphs had a circle");
}

#[test]
fn only_the_part_that_counts_is_searched_for_circles() {
    // a circle 0 > 1 > 0 that is broken once 1 no longer counts
    let successors = vec![vec![1], vec![0, 2], vec![2]];
    assert_eq!(loops::circles(&successors, &[true; 3]), vec![vec![0, 1], vec![2]]);
    assert_eq!(loops::circles(&successors, &[true, false, true]), vec![vec![2]]);
}

#[test]
fn a_chain_of_twenty_thousand_steps_needs_no_recursion() {
    let size = 20_000;
    let mut successors: Vec<Vec<usize>> = (0..size).map(|node| if node + 1 < size { vec![node + 1] } else { vec![] }).collect();
    assert!(reach::reachable(&successors, [0]).iter().all(|reached| *reached));
    assert!(loops::circles(&successors, &vec![true; size]).is_empty());
    successors[size - 1].push(0);
    assert_eq!(loops::circles(&successors, &vec![true; size])[0].len(), size);
}
