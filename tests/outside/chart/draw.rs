//! Draws the graphs it is given, so that they can be compared with what another program makes of them. Compiled by itself, from the geometry's own
//! sources: the geometry needs nothing but the standard library.
//!
//! In, by lines: `graph NAME START`, `node LEFT RIGHT HEIGHT INLET OUTLET`, `edge FROM TO WEIGHT LABEL-WIDTH LABEL-HEIGHT` (0 0 without a label).
//! Out: `graph NAME WIDTH HEIGHT NANOSECONDS`, `box X Y WIDTH HEIGHT`, `line X Y ...`, and `label EDGE X Y WIDTH HEIGHT`.

#[allow(dead_code)]
#[path = "../../../src/chart/mod.rs"]
mod chart;

use std::io::Read;
use std::time::Instant;

use chart::graph::{Edge, Graph, Node, Size};

fn main() {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text).expect("the graphs can be read");
    let mut graphs: Vec<(String, Graph)> = Vec::new();
    for line in text.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        let number = |place: usize| words[place].parse::<i32>().expect("a number");
        let index = |place: usize| words[place].parse::<usize>().expect("an index");
        let last = graphs.last_mut();
        match (words.first().copied(), last) {
            (Some("graph"), _) => graphs.push((words[1].to_owned(), Graph { start: index(2), ..Graph::default() })),
            (Some("node"), Some((_, graph))) => {
                graph.nodes.push(Node { left: number(1), right: number(2), height: number(3), inlet: number(4), outlet: number(5) });
            }
            (Some("edge"), Some((_, graph))) => {
                let label = (number(4) > 0).then(|| Size { width: number(4), height: number(5) });
                graph.edges.push(Edge { from: index(1), to: index(2), label, weight: number(3) });
            }
            _ => {}
        }
    }
    for (name, graph) in graphs {
        let begin = Instant::now();
        let drawing = chart::draw(&graph);
        println!("graph {name} {} {} {}", drawing.width, drawing.height, begin.elapsed().as_nanos());
        for area in &drawing.boxes {
            println!("box {} {} {} {}", area.x, area.y, area.width, area.height);
        }
        for (edge, line) in drawing.lines.iter().enumerate() {
            let points: Vec<String> = line.points.iter().map(|point| format!("{} {}", point.x, point.y)).collect();
            println!("line {}", points.join(" "));
            if let Some(area) = line.label {
                println!("label {edge} {} {} {} {}", area.x, area.y, area.width, area.height);
            }
        }
    }
}
