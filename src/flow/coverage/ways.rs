//! How many ways lead to each step: exact numbers, loops cut open. The rule stands at [`super::Exposure::ways`].

use std::collections::BTreeMap;
use std::rc::Rc;

use num_bigint::BigUint;

use rustc_hash::FxHashSet;

use crate::finding::WayKind;
use crate::flow::must::Program;
use crate::flow::net::Role;
use crate::flow::reach;
use crate::text::id::Id;

/// Ways to a step, or to the endings with one outcome.
#[derive(Clone, Debug, Default)]
pub struct Counted {
    pub ways: BigUint,
    /// Whether some were left out because they go round a loop.
    pub loops: bool,
}

/// By outcome.
pub type Ends = BTreeMap<Id, Counted>;

struct Edge {
    target: usize,
    /// The ways through a procedure carried out, if this is its outcome.
    through: Option<Counted>,
}

/// The ways from a procedure's start to each of its steps.
pub fn count(program: &Program<'_>, number: usize) -> Vec<Counted> {
    let net = program.net(number);
    let mut counted = vec![Counted::default(); net.nodes.len()];
    let Some(start) = net.start else { return counted };
    let edges: Vec<Vec<Edge>> = (0..net.nodes.len()).map(|node| edges(program, number, node)).collect();
    let (order, back) = cut_open(&edges, start);
    counted[start].ways = BigUint::from(1_u32);
    for node in order {
        for (place, edge) in edges[node].iter().enumerate() {
            if !back.contains(&(node, place)) {
                let more = match &edge.through {
                    Some(through) => &counted[node].ways * &through.ways,
                    None => counted[node].ways.clone(),
                };
                counted[edge.target].ways += more;
            }
        }
    }
    let successors: Vec<Vec<usize>> = edges.iter().map(|edges| edges.iter().map(|edge| edge.target).collect()).collect();
    let turned = back.iter().map(|(node, place)| edges[*node][*place].target);
    let reached = reach::reachable(&successors, [start]);
    let looping = edges.iter().zip(&reached).filter(|(_, reached)| **reached).flat_map(|(edges, _)| edges);
    let through = looping.filter(|edge| edge.through.as_ref().is_some_and(|through| through.loops)).map(|edge| edge.target);
    let loops = reach::reachable(&successors, turned.chain(through));
    for (counted, loops) in counted.iter_mut().zip(loops) {
        counted.loops = loops;
    }
    counted
}

fn edges(program: &Program<'_>, number: usize, node: usize) -> Vec<Edge> {
    let node = &program.net(number).nodes[node];
    let ends = match &node.role {
        Role::CarryOut(callee) => program.number(callee).map(|callee| ends(program, callee)),
        Role::Plain | Role::ByModel => None,
    };
    let edge = |way: &crate::flow::net::NetWay| {
        if way.kind != WayKind::Outcome {
            return Some(Edge { target: way.target, through: None });
        }
        let through = ends.as_ref()?.get(way.text.as_deref()?)?;
        Some(Edge { target: way.target, through: Some(through.clone()) })
    };
    node.ways.iter().filter_map(edge).collect()
}

/// The ways through a procedure that is carried out, by how it ends.
fn ends(program: &Program<'_>, number: usize) -> Rc<Ends> {
    if let Some(known) = program.counted.ends.borrow().get(&number) {
        return Rc::clone(known);
    }
    let mut ends = Ends::new();
    for (node, counted) in program.net(number).nodes.iter().zip(count(program, number)) {
        if let (Some(outcome), true) = (&node.outcome, counted.ways > BigUint::ZERO) {
            let end = ends.entry(outcome.clone()).or_default();
            end.ways += counted.ways;
            end.loops |= counted.loops;
        }
    }
    let ends = Rc::new(ends);
    program.counted.ends.borrow_mut().insert(number, Rc::clone(&ends));
    ends
}

/// Depth first from the start: an order in which every way that stays leads onward, and the ways (by step and place) that lead back.
fn cut_open(edges: &[Vec<Edge>], start: usize) -> (Vec<usize>, FxHashSet<(usize, usize)>) {
    #[derive(Clone, Copy, PartialEq)]
    enum Mark {
        New,
        Open,
        Done,
    }
    let mut marks = vec![Mark::New; edges.len()];
    let mut back = FxHashSet::default();
    let mut order = Vec::new();
    let mut path = vec![(start, 0)];
    marks[start] = Mark::Open;
    while let Some((node, next)) = path.last_mut() {
        let (node, place) = (*node, *next);
        *next += 1;
        match edges[node].get(place) {
            Some(edge) => match marks[edge.target] {
                Mark::New => {
                    marks[edge.target] = Mark::Open;
                    path.push((edge.target, 0));
                }
                Mark::Open => {
                    back.insert((node, place));
                }
                Mark::Done => {}
            },
            None => {
                marks[node] = Mark::Done;
                order.push(node);
                path.pop();
            }
        }
    }
    order.reverse();
    (order, back)
}
