//! Puts the lines together: heights of rows and channels, then for each edge its corners. Through a row a line is upright, between rows it
//! runs along its track; so it can meet no box but those at its ends.

use std::collections::BTreeMap;

use crate::chart::channel::{self, Net, Run};
use crate::chart::drawing::{Drawing, Line, Point, Rect};
use crate::chart::graph::Graph;
use crate::chart::weave::{Fabric, Kind};

const MARGIN: i32 = 16;
const TRACK: i32 = 12;
/// Under a row of steps before the first track.
const BELOW_STEPS: i32 = 14;
/// Over a row of steps after the last track: room for the arrowhead.
const ABOVE_STEPS: i32 = 22;
/// Beside a row of labels.
const BESIDE_LABELS: i32 = 8;

/// Which lines meet in a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Meeting {
    /// They leave one step.
    Out(usize),
    /// They lead to one step.
    In(usize),
    /// They go back up to one step.
    Back(usize),
}

/// One hop of a path through one channel, given by the row above it.
struct Hop {
    channel: usize,
    meeting: Meeting,
    from: (usize, Side),
    to: (usize, Side),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Top,
    Bottom,
}

/// Lays out rows and lines. `columns` holds the axis of each cell, `crossings` is passed on.
pub fn route(graph: &Graph, fabric: &Fabric, columns: &[i32], crossings: u64) -> Drawing {
    let left = fabric.cells.iter().zip(columns).map(|(cell, x)| x - cell.left).min().unwrap_or(0);
    let hops: Vec<Vec<Hop>> = (0..graph.edges.len()).map(|edge| hops(graph, fabric, edge)).collect();
    let columns: Vec<i32> = columns.iter().map(|x| x - left + MARGIN).collect();
    let channels = Channels::new(fabric, &columns, &hops);
    let levels = Levels::new(fabric, &channels);
    let mut drawing = Drawing { crossings, ..Drawing::default() };
    for cell in 0..graph.nodes.len() {
        drawing.boxes.push(levels.area(fabric, &columns, cell));
        drawing.axes.push(columns[cell]);
    }
    for (edge, hops) in hops.iter().enumerate() {
        let path = &fabric.paths[edge];
        let label = path.get(1).filter(|cell| fabric.cells[**cell].kind == Kind::Own(edge) && graph.edges[edge].label.is_some());
        let label = label.map(|cell| levels.area(fabric, &columns, *cell));
        let points = channels.points(graph, &levels, &columns, hops, &drawing.boxes, &graph.edges[edge]);
        drawing.lines.push(Line { points, label });
    }
    let corners = drawing.lines.iter().flat_map(|line| &line.points);
    let areas = || drawing.boxes.iter().chain(drawing.lines.iter().filter_map(|line| line.label.as_ref()));
    let right = areas().map(|area| area.x + area.width).chain(corners.clone().map(|point| point.x)).max().unwrap_or(0);
    let bottom = areas().map(|area| area.y + area.height).chain(corners.clone().map(|point| point.y)).max().unwrap_or(0);
    let first = corners.map(|point| point.x).chain(areas().map(|area| area.x)).min().unwrap_or(MARGIN);
    drawing.width = right + MARGIN;
    drawing.height = bottom + MARGIN;
    if first < MARGIN {
        drawing.shift(MARGIN - first);
    }
    drawing
}

impl Drawing {
    fn shift(&mut self, by: i32) {
        self.width += by;
        self.boxes.iter_mut().for_each(|area| area.x += by);
        self.axes.iter_mut().for_each(|x| *x += by);
        for line in &mut self.lines {
            line.points.iter_mut().for_each(|point| point.x += by);
            line.label.iter_mut().for_each(|area| area.x += by);
        }
    }
}

fn hops(graph: &Graph, fabric: &Fabric, edge: usize) -> Vec<Hop> {
    let path = &fabric.paths[edge];
    let target = graph.edges[edge].to;
    let mut hops = Vec::with_capacity(path.len());
    for (step, pair) in path.windows(2).enumerate() {
        let (here, next) = (pair[0], pair[1]);
        let (upper, lower) = (fabric.cells[here].row, fabric.cells[next].row);
        let last = step + 2 == path.len();
        let meeting = match (fabric.cells[here].kind, fabric.cells[next].kind) {
            (Kind::Step(from), Kind::Own(_)) => Meeting::Out(from),
            (_, Kind::Lane(to)) => Meeting::Back(to),
            (_, Kind::Step(_) | Kind::Thread(_) | Kind::Own(_)) => Meeting::In(target),
        };
        // Two cells of one row: under it on the way to a lane, over it on the way into the target.
        hops.push(match upper.cmp(&lower) {
            std::cmp::Ordering::Less => Hop { channel: upper, meeting, from: (here, Side::Top), to: (next, Side::Bottom) },
            std::cmp::Ordering::Greater => Hop { channel: lower, meeting, from: (here, Side::Bottom), to: (next, Side::Top) },
            std::cmp::Ordering::Equal if last => Hop { channel: upper - 1, meeting, from: (here, Side::Bottom), to: (next, Side::Bottom) },
            std::cmp::Ordering::Equal => Hop { channel: upper, meeting, from: (here, Side::Top), to: (next, Side::Top) },
        });
    }
    hops
}

/// The nets of all channels, with their runs.
struct Channels {
    nets: Vec<BTreeMap<Meeting, Run>>,
    tracks: Vec<usize>,
}

impl Channels {
    fn new(fabric: &Fabric, columns: &[i32], hops: &[Vec<Hop>]) -> Self {
        let mut ends: Vec<BTreeMap<Meeting, Net>> = vec![BTreeMap::new(); fabric.rows.len()];
        for hop in hops.iter().flatten() {
            let net = ends[hop.channel].entry(hop.meeting).or_default();
            for (cell, side) in [hop.from, hop.to] {
                let list = if side == Side::Top { &mut net.tops } else { &mut net.bottoms };
                if !list.contains(&columns[cell]) {
                    list.push(columns[cell]);
                }
            }
        }
        let mut channels = Self { nets: Vec::new(), tracks: Vec::new() };
        for channel in ends {
            let nets: Vec<Net> = channel.values().cloned().collect();
            let (runs, tracks) = channel::tracks(&nets);
            channels.nets.push(channel.into_keys().zip(runs).collect());
            channels.tracks.push(tracks);
        }
        channels
    }

    fn points(
        &self,
        graph: &Graph,
        levels: &Levels,
        columns: &[i32],
        hops: &[Hop],
        boxes: &[Rect],
        edge: &crate::chart::graph::Edge,
    ) -> Vec<Point> {
        let (from, to) = (edge.from, edge.to);
        let bottom = boxes[from].y + boxes[from].height - graph.nodes[from].outlet;
        let mut points = vec![Point { x: columns[from], y: bottom }];
        for hop in hops {
            let (a, b) = (columns[hop.from.0], columns[hop.to.0]);
            let first = levels.channels[hop.channel];
            let level = |track: usize| first + TRACK * i32::try_from(track).unwrap_or(0);
            let mut along = |y: i32, a: i32, b: i32| points.extend([Point { x: a, y }, Point { x: b, y }]);
            match self.nets[hop.channel].get(&hop.meeting) {
                None | Some(Run::Straight) => {}
                Some(Run::Track(track)) => along(level(*track), a, b),
                Some(Run::Two { upper, at, lower }) => match (hop.from.1, hop.to.1) {
                    (Side::Top, Side::Top) => along(level(*upper), a, b),
                    (Side::Bottom, Side::Bottom) => along(level(*lower), a, b),
                    (Side::Top, Side::Bottom) => {
                        along(level(*upper), a, *at);
                        along(level(*lower), *at, b);
                    }
                    (Side::Bottom, Side::Top) => {
                        along(level(*lower), a, *at);
                        along(level(*upper), *at, b);
                    }
                },
            }
        }
        points.push(Point { x: columns[to], y: boxes[to].y + graph.nodes[to].inlet });
        tidy(points)
    }
}

/// Takes out points that are no corners.
fn tidy(points: Vec<Point>) -> Vec<Point> {
    let mut tidy: Vec<Point> = Vec::with_capacity(points.len());
    for point in points {
        if tidy.last() == Some(&point) {
            continue;
        }
        while let [.., a, b] = tidy.as_slice() {
            let level = a.y == b.y && b.y == point.y && (a.x <= b.x) == (b.x <= point.x);
            let upright = a.x == b.x && b.x == point.x && (a.y <= b.y) == (b.y <= point.y);
            if !(level || upright) {
                break;
            }
            tidy.pop();
        }
        tidy.push(point);
    }
    tidy
}

/// Heights: the top of each row and the first track under each row.
struct Levels {
    rows: Vec<i32>,
    heights: Vec<i32>,
    channels: Vec<i32>,
}

impl Levels {
    fn new(fabric: &Fabric, channels: &Channels) -> Self {
        let heights: Vec<i32> =
            fabric.rows.iter().map(|row| row.iter().map(|cell| fabric.cells[*cell].height).max().unwrap_or(0)).collect();
        let mut levels = Self { rows: Vec::new(), heights, channels: Vec::new() };
        let mut y = MARGIN;
        for row in 0..fabric.rows.len() {
            levels.rows.push(y);
            y += levels.heights[row];
            let steps = !row.is_multiple_of(2);
            let (over, under) = if steps { (BELOW_STEPS, BESIDE_LABELS) } else { (BESIDE_LABELS, ABOVE_STEPS) };
            levels.channels.push(y + over);
            let used = !channels.nets[row].is_empty();
            let tracks = i32::try_from(channels.tracks[row]).unwrap_or(0);
            let labels =
                fabric.rows.get(if steps { row + 1 } else { row }).is_some_and(|row| row.iter().any(|cell| fabric.cells[*cell].height > 0));
            y += match (used, tracks) {
                (false, _) => 0,
                (true, 0) => {
                    if steps {
                        if labels { BELOW_STEPS } else { BESIDE_LABELS }
                    } else {
                        ABOVE_STEPS
                    }
                }
                (true, tracks) => over + under + TRACK * (tracks - 1),
            };
        }
        levels
    }

    /// Steps stand in the middle of their row, labels at its top.
    fn area(&self, fabric: &Fabric, columns: &[i32], cell: usize) -> Rect {
        let Some(found) = fabric.cells.get(cell) else { return Rect::default() };
        let spare = if matches!(found.kind, Kind::Step(_)) { (self.heights[found.row] - found.height) / 2 } else { 0 };
        Rect { x: columns[cell] - found.left, y: self.rows[found.row] + spare, width: found.left + found.right, height: found.height }
    }
}
