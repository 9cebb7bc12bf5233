//! The geometry of the flowchart on numbers, over graphs by hand and over seeded random flows.

use stepward::chart::graph::Graph;
use stepward::chart::{channel, draw, order};

use crate::support::drawing::{faults, plain, random_flow, shared_stretches};

#[test]
fn random_flows_keep_every_rule_of_the_drawing() {
    // Two halves side by side; which seed runs where changes nothing.
    std::thread::scope(|scope| {
        for half in 0..2 {
            scope.spawn(move || (half..500).step_by(2).for_each(check_random_flow));
        }
    });
}

fn check_random_flow(seed: u64) {
    // 5 to 200 steps; as in life most are short.
    let longest = if seed.is_multiple_of(5) { 196 } else { 76 };
    let steps = 5 + usize::try_from(seed * seed % longest).expect("small");
    let graph = random_flow(seed, steps);
    let drawing = draw(&graph);
    let faults = faults(&graph, &drawing);
    assert!(faults.is_empty(), "seed {seed}, {steps} steps: {:?}", &faults[..faults.len().min(5)]);
    let stretches = shared_stretches(&graph, &drawing);
    assert!(stretches.is_empty(), "seed {seed}, {steps} steps: lines look like one: {stretches:?}");
}

#[test]
fn the_same_graph_gives_the_same_drawing() {
    for seed in 0..20 {
        let graph = random_flow(seed, 60);
        assert_eq!(format!("{:?}", draw(&graph)), format!("{:?}", draw(&graph.clone())));
    }
}

#[test]
fn odd_graphs_are_drawn() {
    let empty = draw(&Graph::default());
    assert!(empty.boxes.is_empty() && empty.lines.is_empty() && empty.width >= 0);
    let odd = [
        plain(1, &[]),
        plain(1, &[(0, 0)]),
        plain(2, &[(0, 0), (1, 1), (1, 1)]),
        plain(2, &[(0, 1), (0, 1), (0, 1), (1, 0), (1, 0)]),
        plain(6, &[(0, 1), (3, 4), (4, 3), (5, 5)]),
        plain(4, &[(3, 2), (2, 1), (1, 0), (0, 3)]),
        plain(3, &[]),
        plain(5, &[(0, 1), (1, 2), (2, 0), (2, 3), (3, 1), (3, 4), (4, 2)]),
    ];
    for graph in odd {
        let drawing = draw(&graph);
        assert_eq!(faults(&graph, &drawing), Vec::<String>::new(), "{graph:?}");
    }
}

#[test]
fn a_chain_of_twenty_thousand_steps_is_one_straight_line() {
    let pairs: Vec<(usize, usize)> = (1..20_000).map(|step| (step - 1, step)).collect();
    let drawing = draw(&plain(20_000, &pairs));
    assert!(drawing.axes.iter().all(|axis| *axis == drawing.axes[0]));
    assert!(drawing.lines.iter().all(|line| line.points.len() == 2));
    assert_eq!(drawing.crossings, 0);
}

#[test]
fn a_step_that_two_hundred_lines_lead_to_is_drawn() {
    let pairs: Vec<(usize, usize)> = (1..=200).map(|step| (0, step)).chain((1..=200).map(|step| (step, 201))).collect();
    let graph = plain(202, &pairs);
    let drawing = draw(&graph);
    assert_eq!(faults(&graph, &drawing), Vec::<String>::new());
    assert_eq!(drawing.crossings, 0);
}

/// The worked example of Barth, Jünger, Mutzel 2002, and complete graphs on two rows: C(p,2) C(q,2) in every order.
#[test]
fn crossings_are_counted_as_published() {
    let mut south: Vec<(usize, usize)> = [0, 1, 2, 0, 3, 4, 0, 2, 3, 2, 4].into_iter().enumerate().collect();
    assert_eq!(order::count_crossings(&mut south), 12);
    for (p, q, expected) in [(2, 2, 1), (3, 3, 9), (4, 5, 60)] {
        let mut pairs: Vec<(usize, usize)> = (0..p).flat_map(|a| (0..q).map(move |b| (a, b))).collect();
        assert_eq!(order::count_crossings(&mut pairs), expected, "K{p},{q}");
    }
}

#[test]
fn what_can_be_drawn_without_crossings_is() {
    let tree: Vec<(usize, usize)> = (1..64).map(|node| ((node - 1) / 2, node)).collect();
    assert_eq!(draw(&plain(64, &tree)).crossings, 0);
    // Two branches that change sides, and meet again.
    assert_eq!(draw(&plain(6, &[(0, 1), (0, 2), (2, 3), (1, 4), (3, 5), (4, 5)])).crossings, 0);
}

#[test]
fn tracks_that_demand_each_other_get_a_second_track() {
    let swap = [channel::Net { tops: vec![0], bottoms: vec![100] }, channel::Net { tops: vec![100], bottoms: vec![0] }];
    let (runs, tracks) = channel::tracks(&swap);
    assert_eq!(tracks, 3);
    assert!(runs.iter().any(|run| matches!(run, channel::Run::Two { at, .. } if *at > 0 && *at < 100)), "{runs:?}");
}
