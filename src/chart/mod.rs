//! Geometry of flowcharts: coordinates, no markup. In go sizes and connections ([`graph::Graph`]), out come boxes, lines and label
//! places ([`drawing::Drawing`]), the same to the last unit on every machine: whole numbers, no hashing, no clock.
//!
//! The way of Sugiyama, Tagawa and Toda (1981), made for flowcharts: [`cycles`] finds the lines that go back up, [`layers`] gives each step
//! its row, [`weave`] threads every line through the rows between, [`order`] sorts each row, [`sides`] says where lines back up meet
//! their boxes, [`place`] finds the columns, [`channel`] the
//! tracks between two rows, and [`route`] puts the lines together. [`text`] says how big the words are, for whoever makes the graph.

pub mod graph;
pub mod text;

pub mod cycles;
pub mod layers;
pub mod simplex;
pub mod weave;

pub mod order;

pub mod align;
pub mod blocks;
pub mod place;
pub mod relax;
pub mod sides;
pub mod space;

pub mod channel;
pub mod drawing;
pub mod route;

use crate::chart::drawing::Drawing;
use crate::chart::graph::Graph;

/// Draws a graph. Works for any graph: empty, loose, with self loops and parallel edges, however deep.
pub fn draw(graph: &Graph) -> Drawing {
    let edges: Vec<(usize, usize)> = graph.edges.iter().map(|edge| (edge.from, edge.to)).collect();
    let back = cycles::back_edges(graph.nodes.len(), &edges, graph.start);
    let rows = layers::rows(graph, &back);
    let mut fabric = weave::weave(graph, &back, &rows);
    let (sides, crossings) = order::order(graph, &mut fabric);
    sides::widen(&mut fabric, &sides);
    let columns = place::columns(&fabric);
    route::route(graph, &fabric, &sides, &columns, crossings)
}
