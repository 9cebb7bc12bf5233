//! What drawing a flowchart costs, from a hundred to ten thousand steps. See `README.md` here.

#[path = "support/timing.rs"]
mod timing;

use std::hint::black_box;
use std::time::Duration;

use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;
use stepward::chart::draw;
use stepward::chart::graph::{Edge, Graph, Node, Size};

use crate::timing::median;

const SIZES: [usize; 5] = [100, 300, 1_000, 3_000, 10_000];

fn main() {
    let mut first: Option<(usize, Duration)> = None;
    for steps in SIZES {
        let graph = flow(steps);
        let runs = (20_000 / steps).clamp(3, 50);
        let floor = median(runs, || {}, || drop(black_box(tarjan_scc(&known(&graph)))));
        let drawing = median(runs, || {}, || drop(black_box(draw(&graph))));
        let (least, time) = *first.get_or_insert((steps, drawing));
        let growth =
            if steps == least { 0.0 } else { (drawing.as_secs_f64() / time.as_secs_f64()).ln() / (steps as f64 / least as f64).ln() };
        println!(
            "{steps:>6} steps, {:>6} lines: floor {floor:>10.1?}, drawing {drawing:>10.1?}, {:>6.0} x floor, growth since {least} steps n^{growth:.2}",
            graph.edges.len(),
            drawing.as_secs_f64() / floor.as_secs_f64()
        );
    }
}

/// The floor: the same graph made anew by a general library, and its cycles found.
fn known(graph: &Graph) -> DiGraph<(), ()> {
    DiGraph::from_edges(graph.edges.iter().map(|edge| (edge.from as u32, edge.to as u32)))
}

struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % limit as u64).expect("small")
    }
}

/// A tree of questions and actions; open ways end in shared endings, lead back a few steps, or on to any later step.
fn flow(steps: usize) -> Graph {
    let mut dice = Dice(7);
    let endings = 1 + steps / 10;
    let (mut parent, mut open, mut pairs) = (vec![0], vec![0], Vec::new());
    while parent.len() < steps - endings {
        let place = if dice.below(2) == 0 { open.len() - 1 } else { dice.below(open.len()) };
        let (from, step) = (open.swap_remove(place), parent.len());
        pairs.push((from, step));
        parent.push(from);
        let ways = [1, 1, 1, 2, 2, 3][dice.below(6)];
        open.extend(std::iter::repeat_n(step, if open.is_empty() { ways.max(2) } else { ways }));
    }
    for (turn, from) in open.into_iter().enumerate() {
        let to = match dice.below(6) {
            0 => parent[parent[from]],
            1 if from + 1 < parent.len() => from + 1 + dice.below(parent.len() - from - 1),
            _ if turn < endings => steps - 1 - turn,
            _ => steps - 1 - dice.below(endings),
        };
        pairs.push((from, to));
    }
    let label = Some(Size { width: 60, height: 21 });
    let edges = pairs.into_iter().map(|(from, to)| Edge { from, to, label, weight: 1 }).collect();
    Graph { nodes: vec![Node::plain(200, 60); steps], edges, start: 0 }
}
