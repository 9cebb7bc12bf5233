//! Puts the lines together: heights of rows and channels, then for each edge its corners. Through a row a line is upright, between rows it
//! runs along its track; so it can meet no box but those at its ends.

use std::collections::BTreeMap;

use crate::chart::channel::{self, Net, Run};
use crate::chart::drawing::{Drawing, Line, Point, Rect};
use crate::chart::graph::{Edge, Graph};
use crate::chart::sides::{self, EAR, Sides};
use crate::chart::weave::{Fabric, Kind, Way};

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
    /// They leave one step at its side.
    Aside(usize),
}

/// One hop of a path through one channel, given by the row above it: from a column to a column.
struct Hop {
    channel: usize,
    meeting: Meeting,
    from: (i32, Side),
    to: (i32, Side),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Top,
    Bottom,
}

/// Lays out rows and lines. `columns` holds the axis of each cell, `crossings` is passed on.
pub fn route(graph: &Graph, fabric: &Fabric, sides: &[Sides], columns: &[i32], crossings: u64) -> Drawing {
    let left = fabric.cells.iter().zip(columns).map(|(cell, x)| x - cell.left).min().unwrap_or(0);
    let columns: Vec<i32> = columns.iter().map(|x| x - left + MARGIN).collect();
    let ways = Ways { graph, fabric, sides, columns: &columns };
    let hops: Vec<Vec<Hop>> = (0..graph.edges.len()).map(|edge| ways.hops(edge)).collect();
    let channels = Channels::new(fabric, &hops);
    let levels = Levels::new(fabric, &channels);
    let mut drawing = Drawing { crossings, ..Drawing::default() };
    for cell in 0..graph.nodes.len() {
        let node = &graph.nodes[cell];
        let area = levels.area(fabric, &columns, cell);
        drawing.boxes.push(Rect { x: columns[cell] - node.left, width: node.left + node.right, ..area });
        drawing.axes.push(columns[cell]);
    }
    for (edge, hops) in hops.iter().enumerate() {
        let path = &fabric.paths[edge];
        let label = path.get(1).filter(|cell| fabric.cells[**cell].kind == Kind::Own(edge) && graph.edges[edge].label.is_some());
        let label = label.map(|cell| levels.area(fabric, &columns, *cell));
        let points = tidy(ways.points(edge, &drawing.boxes, channels.points(&levels, hops)));
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

/// Where the lines run, by columns.
struct Ways<'a> {
    graph: &'a Graph,
    fabric: &'a Fabric,
    sides: &'a [Sides],
    columns: &'a [i32],
}

impl Ways<'_> {
    fn hops(&self, edge: usize) -> Vec<Hop> {
        let path = &self.fabric.paths[edge];
        (1..path.len())
            .map(|step| {
                let (channel, from) = self.exit(edge, step - 1);
                Hop { channel, meeting: self.meeting(edge, step), from, to: self.entry(edge, step) }
            })
            .collect()
    }

    fn meeting(&self, edge: usize, step: usize) -> Meeting {
        let path = &self.fabric.paths[edge];
        let ends = &self.graph.edges[edge];
        let to_own = matches!(self.fabric.cells[path[step]].kind, Kind::Own(_));
        match self.fabric.ways[edge] {
            Way::Down | Way::Turn if to_own => Meeting::Out(ends.from),
            Way::Down => Meeting::In(ends.to),
            Way::Up if to_own => Meeting::Aside(ends.from),
            Way::Up | Way::Turn => Meeting::Back(ends.to),
        }
    }

    /// Whether an edge runs upwards past a cell of its path.
    fn rises(&self, edge: usize, step: usize) -> bool {
        match self.fabric.ways[edge] {
            Way::Down => false,
            Way::Up => true,
            Way::Turn => step > 0 && !matches!(self.fabric.cells[self.fabric.paths[edge][step]].kind, Kind::Own(_)),
        }
    }

    /// The channel that an edge comes into from a cell of its path, and where.
    fn exit(&self, edge: usize, step: usize) -> (usize, (i32, Side)) {
        let cell = self.fabric.paths[edge][step];
        let row = self.fabric.cells[cell].row;
        match (self.rises(edge, step), step) {
            (true, 0) => (row - 1, (self.ear(cell, self.sides[cell].leave), Side::Bottom)),
            (true, _) => (row - 1, (self.columns[cell], Side::Bottom)),
            (false, _) => (row, (self.columns[cell], Side::Top)),
        }
    }

    /// Where an edge goes out of a channel to a cell of its path.
    fn entry(&self, edge: usize, step: usize) -> (i32, Side) {
        let path = &self.fabric.paths[edge];
        let cell = path[step];
        match (self.rises(edge, step), step + 1 == path.len()) {
            (true, true) => (self.ear(cell, self.sides[cell].enter), Side::Top),
            (true, false) => (self.columns[cell], Side::Top),
            (false, _) => (self.columns[cell], Side::Bottom),
        }
    }

    /// The column beside a step.
    fn ear(&self, step: usize, side: Option<sides::Side>) -> i32 {
        let node = &self.graph.nodes[step];
        self.columns[step] + if side == Some(sides::Side::Left) { -node.left - EAR } else { node.right + EAR }
    }

    /// The corners of an edge, with its beginning and its end at the outlines of its boxes.
    fn points(&self, edge: usize, boxes: &[Rect], between: Vec<Point>) -> Vec<Point> {
        let Edge { from, to, .. } = self.graph.edges[edge];
        let way = self.fabric.ways[edge];
        let mut points = match way {
            Way::Up => self.aside(from, self.sides[from].leave, boxes),
            Way::Down | Way::Turn => {
                vec![Point { x: self.columns[from], y: boxes[from].y + boxes[from].height - self.graph.nodes[from].outlet }]
            }
        };
        points.extend(between);
        match way {
            Way::Up | Way::Turn => points.extend(self.aside(to, self.sides[to].enter, boxes).into_iter().rev()),
            Way::Down => points.push(Point { x: self.columns[to], y: boxes[to].y + self.graph.nodes[to].inlet }),
        }
        points
    }

    /// From the middle of a side to the column beside it.
    fn aside(&self, step: usize, side: Option<sides::Side>, boxes: &[Rect]) -> Vec<Point> {
        let node = &self.graph.nodes[step];
        let y = boxes[step].y + boxes[step].height / 2;
        let x = self.columns[step] + if side == Some(sides::Side::Left) { -node.left } else { node.right };
        vec![Point { x, y }, Point { x: self.ear(step, side), y }]
    }
}

/// The nets of all channels, with their runs.
struct Channels {
    nets: Vec<BTreeMap<Meeting, Run>>,
    tracks: Vec<usize>,
}

impl Channels {
    fn new(fabric: &Fabric, hops: &[Vec<Hop>]) -> Self {
        let mut ends: Vec<BTreeMap<Meeting, Net>> = vec![BTreeMap::new(); fabric.rows.len()];
        for hop in hops.iter().flatten() {
            let net = ends[hop.channel].entry(hop.meeting).or_default();
            for (column, side) in [hop.from, hop.to] {
                let list = if side == Side::Top { &mut net.tops } else { &mut net.bottoms };
                if !list.contains(&column) {
                    list.push(column);
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

    /// The corners along hops.
    fn points(&self, levels: &Levels, hops: &[Hop]) -> Vec<Point> {
        let mut points = Vec::new();
        for hop in hops {
            let (a, b) = (hop.from.0, hop.to.0);
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
        points
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
