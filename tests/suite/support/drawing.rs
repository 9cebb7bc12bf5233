//! Random flows, and what holds for every drawing of them.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use stepward::chart::drawing::{Drawing, Point, Rect};
use stepward::chart::graph::{Edge, Graph, Node, Size};

/// SplitMix64 (Steele, Lea, Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % limit as u64).expect("fits")
    }
    fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
    fn size(&mut self, low: i32, high: i32) -> i32 {
        low + i32::try_from(self.below(usize::try_from(high - low + 1).expect("positive"))).expect("fits")
    }
}

/// A flow as people write them: questions with two to five ways on, runs of actions, shared endings, loops back, a few lines to anywhere.
pub fn random_flow(seed: u64, steps: usize) -> Graph {
    let mut dice = Dice(seed);
    let nodes = (0..steps)
        .map(|_| {
            let side = dice.size(50, 120);
            let signs = if dice.one_in(4) { dice.size(40, 150) } else { 0 };
            let (inlet, outlet) = (dice.size(0, 8), dice.size(0, 8));
            Node { left: side, right: side + signs, height: dice.size(36, 150), inlet, outlet }
        })
        .collect();
    let endings = 1 + steps / 12;
    let mut edges = Vec::new();
    for from in 0..steps - endings {
        let ways = if dice.one_in(2) { 1 } else { 2 + dice.below(4) };
        for way in 0..ways {
            let to = if way == 0 || dice.one_in(2) {
                (from + 1 + dice.below(3)).min(steps - 1)
            } else if dice.one_in(4) {
                from.saturating_sub(dice.below(12))
            } else if dice.one_in(6) {
                dice.below(steps)
            } else {
                steps - 1 - dice.below(endings)
            };
            let label = (ways > 1 && !dice.one_in(9)).then(|| Size { width: dice.size(16, 110), height: dice.size(1, 3) * 15 + 6 });
            edges.push(Edge { from, to, label, weight: if way == 0 { 4 } else { 1 } });
        }
    }
    Graph { nodes, edges, start: 0 }
}

pub fn plain(count: usize, pairs: &[(usize, usize)]) -> Graph {
    Graph {
        nodes: vec![Node::plain(100, 40); count],
        edges: pairs.iter().map(|(from, to)| Edge { from: *from, to: *to, label: None, weight: 1 }).collect(),
        start: 0,
    }
}

/// What holds for every drawing; gives what is wrong.
pub fn faults(graph: &Graph, drawing: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    let boxes = &drawing.boxes;
    let labels: Vec<(usize, Rect)> =
        drawing.lines.iter().enumerate().filter_map(|(index, line)| line.label.map(|label| (index, label))).collect();
    let all: Vec<(String, Rect)> = boxes
        .iter()
        .enumerate()
        .map(|(index, area)| (format!("box {index}"), *area))
        .chain(labels.iter().map(|(index, area)| (format!("label {index}"), *area)))
        .collect();
    for (place, (name, area)) in all.iter().enumerate() {
        let inside = area.x >= 0 && area.y >= 0 && area.x + area.width <= drawing.width && area.y + area.height <= drawing.height;
        if !inside {
            faults.push(format!("{name} leaves the drawing"));
        }
        for (other, other_area) in &all[place + 1..] {
            if area.overlaps(other_area) {
                faults.push(format!("{name} overlaps {other}"));
            }
        }
    }
    for (index, (edge, line)) in graph.edges.iter().zip(&drawing.lines).enumerate() {
        faults.extend(line_faults(graph, drawing, edge, &line.points).into_iter().map(|fault| format!("line {index} {fault}")));
        if edge.label.is_some() != line.label.is_some() {
            faults.push(format!("line {index} lost its label"));
        }
        for (other, area) in &labels {
            let touched = line.points.windows(2).any(|pair| cuts(pair[0], pair[1], area));
            if touched != (*other == index) {
                faults.push(format!("line {index} and label {other}: on it is {touched}"));
            }
        }
    }
    faults
}

fn line_faults(graph: &Graph, drawing: &Drawing, edge: &Edge, points: &[Point]) -> Vec<String> {
    let mut faults = Vec::new();
    let last = points.len() - 1;
    if !doors(graph, drawing, edge.from, false).contains(&(points[0], points[1].x.cmp(&points[0].x))) {
        faults.push(format!("does not leave its box: {points:?}"));
    }
    if !doors(graph, drawing, edge.to, true).contains(&(points[last], points[last - 1].x.cmp(&points[last].x))) {
        faults.push(format!("does not meet its box: {points:?}"));
    }
    if (points[last - 1].x - points[last].x).abs() + (points[last - 1].y - points[last].y).abs() <= 9 {
        faults.push("leaves no room for its arrowhead".to_owned());
    }
    for (place, pair) in points.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        if (a.x == b.x) == (a.y == b.y) {
            faults.push(format!("is slanted or idle: {a:?} {b:?}"));
        }
        for point in [a, b] {
            if point.x < 0 || point.y < 0 || point.x > drawing.width || point.y > drawing.height {
                faults.push(format!("leaves the drawing: {point:?}"));
            }
        }
        for (index, area) in drawing.boxes.iter().enumerate() {
            // Its own boxes it may meet at its first and last stretch only: between the outline and the edge of the box.
            let own = (index == edge.from && place == 0) || (index == edge.to && place + 1 == last);
            if !own && cuts(a, b, area) {
                faults.push(format!("cuts box {index}"));
            }
        }
    }
    faults
}

/// Where a line may meet a box, and to which side of that the line runs: its top or its bottom on the axis, or the middle of an open side.
fn doors(graph: &Graph, drawing: &Drawing, step: usize, enters: bool) -> Vec<(Point, Ordering)> {
    let (node, area, x) = (&graph.nodes[step], drawing.boxes[step], drawing.axes[step]);
    let y = if enters { area.y + node.inlet } else { area.y + area.height - node.outlet };
    let middle = area.y + area.height / 2;
    let mut doors = vec![(Point { x, y }, Ordering::Equal), (Point { x: x - node.left, y: middle }, Ordering::Less)];
    if node.is_open_at_right() {
        doors.push((Point { x: x + node.right, y: middle }, Ordering::Greater));
    }
    doors
}

/// Whether a level or upright stretch passes through the inside of a rectangle.
fn cuts(a: Point, b: Point, area: &Rect) -> bool {
    let (left, right) = (a.x.min(b.x), a.x.max(b.x));
    let (top, bottom) = (a.y.min(b.y), a.y.max(b.y));
    right > area.x && left < area.x + area.width && bottom > area.y && top < area.y + area.height
}

/// Pairs of lines of unlike beginning and unlike end that share a stretch: a reader could not tell them apart.
pub fn shared_stretches(graph: &Graph, drawing: &Drawing) -> Vec<(usize, usize)> {
    let mut found = BTreeSet::new();
    // By direction and place: from, to, and which line.
    type Stretch = (i32, i32, usize);
    let mut by_place: BTreeMap<(bool, i32), Vec<Stretch>> = BTreeMap::new();
    for (index, line) in drawing.lines.iter().enumerate() {
        for pair in line.points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let is_upright = a.x == b.x;
            let (at, from, to) = if is_upright { (a.x, a.y, b.y) } else { (a.y, a.x, b.x) };
            by_place.entry((is_upright, at)).or_default().push((from.min(to), from.max(to), index));
        }
    }
    for stretches in by_place.values() {
        for (place, (from, to, one)) in stretches.iter().enumerate() {
            for (other_from, other_to, other) in &stretches[place + 1..] {
                let (a, b) = (&graph.edges[*one], &graph.edges[*other]);
                if from < other_to && other_from < to && a.from != b.from && a.to != b.to {
                    found.insert((*one, *other));
                }
            }
        }
    }
    found.into_iter().collect()
}
