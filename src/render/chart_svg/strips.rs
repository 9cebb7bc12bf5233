//! A long chart in columns, for a sheet of paper: cut across where no symbol and no word lies, and set side by side. A line that was cut ends and begins
//! again in a circle with the same letters (the connector of ISO 5807).

use std::collections::BTreeSet;

use crate::chart::drawing::{Drawing, Line, Rect};
use crate::render::chart_svg::figure::Figure;
use crate::render::chart_svg::mark::Tag;
use crate::render::chart_svg::{Marks, edge, node};

/// Radius of a connector; so far a strip reaches beyond its cuts.
const RADIUS: i32 = 12;
/// From a cut to whatever lies across.
const CLEAR: i32 = RADIUS + 1;
/// Between two columns.
const GAP: i32 = 40;
const EDGE: i32 = 8;
const LETTERS: i32 = 11;

/// A part of the drawing from one cut to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    pub from: i32,
    pub to: i32,
    pub left: i32,
    pub width: i32,
}

/// At most so many strips of about the same height.
pub fn strips(drawing: &Drawing, count: i32) -> Vec<Strip> {
    let mut cuts = vec![0];
    for place in 1..count {
        let wanted = drawing.height * place / count;
        let reach = drawing.height / count / 3;
        let last = cuts.last().copied().unwrap_or(0);
        let near = (0..reach).flat_map(|by| [wanted - by, wanted + by]).find(|y| *y > last + 2 * CLEAR && clear(drawing, *y));
        cuts.extend(near.map(|y| middle(drawing, y)));
    }
    cuts.push(drawing.height);
    cuts.windows(2).map(|pair| strip(drawing, pair[0], pair[1])).collect()
}

/// Width and height of strips set side by side.
pub fn size(strips: &[Strip]) -> (i32, i32) {
    let gaps = i32::try_from(strips.len()).unwrap_or(1) - 1;
    let width: i32 = strips.iter().map(|strip| strip.width).sum();
    (width + gaps * GAP, strips.iter().map(|strip| strip.to - strip.from).max().unwrap_or(0) + 2 * RADIUS)
}

/// Whether the sheet can be cut here: upright lines are all there is.
fn clear(drawing: &Drawing, y: i32) -> bool {
    let band = (y - CLEAR)..(y + CLEAR);
    let across = |area: &Rect| area.y < band.end && area.y + area.height > band.start;
    let labels = drawing.lines.iter().filter_map(|line| line.label.as_ref());
    let level = |line: &Line| line.points.windows(2).any(|pair| pair[0].y == pair[1].y && band.contains(&pair[0].y));
    !drawing.boxes.iter().chain(labels).any(across) && !drawing.lines.iter().any(level)
}

/// The middle of the heights around this one that can be cut, too.
fn middle(drawing: &Drawing, y: i32) -> i32 {
    let above = (0..y).rev().take_while(|at| clear(drawing, *at)).last().unwrap_or(y);
    let below = (y..drawing.height).take_while(|at| clear(drawing, *at)).last().unwrap_or(y);
    i32::midpoint(above, below)
}

fn strip(drawing: &Drawing, from: i32, to: i32) -> Strip {
    let inside = |top: i32, bottom: i32| top < to && bottom > from;
    let areas = drawing.boxes.iter().chain(drawing.lines.iter().filter_map(|line| line.label.as_ref()));
    let areas = areas.filter(|area| inside(area.y, area.y + area.height)).flat_map(|area| [area.x, area.x + area.width]);
    let pairs = drawing.lines.iter().flat_map(|line| line.points.windows(2));
    let lines = pairs.filter(|pair| inside(pair[0].y.min(pair[1].y), pair[0].y.max(pair[1].y) + 1)).flat_map(|pair| [pair[0].x, pair[1].x]);
    let all: Vec<i32> = areas.chain(lines).collect();
    let (left, right) = (all.iter().min().copied().unwrap_or(0) - RADIUS - EDGE, all.iter().max().copied().unwrap_or(0) + RADIUS + EDGE);
    Strip { from, to, left, width: right - left }
}

/// The strips as one drawing.
pub fn picture(figure: &Figure, drawing: &Drawing, strips: &[Strip], marks: &Marks) -> String {
    let mut out = String::new();
    let (mut x, mut letters) = (0, 0);
    let mut above: Vec<(i32, String)> = Vec::new();
    for strip in strips {
        let below: Vec<(i32, String)> = crossed(drawing, strip.to).into_iter().map(|at| (at, next(&mut letters))).collect();
        let number = |value: i32| value.to_string();
        let (top, height) = (strip.from - RADIUS, strip.to - strip.from + 2 * RADIUS);
        let frame = Tag::new("svg").with("x", number(x)).with("y", "0").with("width", number(strip.width)).with("height", number(height));
        let frame = frame.with("viewBox", format!("{} {top} {} {height}", strip.left, strip.width));
        let ends = above.iter().map(|end| (strip.from, end)).chain(below.iter().map(|end| (strip.to, end)));
        let connectors: String = ends.map(|(y, (at, letter))| connector(*at, y, letter)).collect();
        out.push_str(&frame.around(&(part(figure, drawing, strip, marks) + &connectors)));
        x += strip.width + GAP;
        above = below;
    }
    out
}

/// Lines that reach into a strip, and the symbols in it.
fn part(figure: &Figure, drawing: &Drawing, strip: &Strip, marks: &Marks) -> String {
    let touches = |line: &Line| {
        let ys = || line.points.iter().map(|point| point.y);
        ys().min().is_some_and(|top| top < strip.to) && ys().max().is_some_and(|bottom| bottom > strip.from)
    };
    let edges = (0..figure.ways.len()).filter(|index| drawing.lines.get(*index).is_some_and(touches));
    let edges: String = edges.map(|index| edge(figure, drawing, index, marks)).collect();
    let within = |area: &Rect| area.y >= strip.from && area.y < strip.to;
    let nodes = figure.nodes.iter().zip(&drawing.boxes).zip(&drawing.axes).filter(|((_, area), _)| within(area));
    edges + &nodes.map(|((one, area), axis)| node(one, *area, *axis, marks)).collect::<String>()
}

/// Where lines cross a cut, each place once: lines that have joined are one.
fn crossed(drawing: &Drawing, y: i32) -> BTreeSet<i32> {
    let pairs = drawing.lines.iter().flat_map(|line| line.points.windows(2));
    pairs
        .filter(|pair| pair[0].x == pair[1].x && pair[0].y.min(pair[1].y) < y && y < pair[0].y.max(pair[1].y))
        .map(|pair| pair[0].x)
        .collect()
}

/// `A` to `Z`, then `AA` and so on.
fn next(count: &mut u32) -> String {
    let letter = |place: u32| char::from_u32(u32::from('A') + place).unwrap_or('?');
    let name = match *count / 26 {
        0 => letter(*count).to_string(),
        many => format!("{}{}", letter((many - 1) % 26), letter(*count % 26)),
    };
    *count += 1;
    name
}

fn connector(x: i32, y: i32, letter: &str) -> String {
    let number = |value: i32| value.to_string();
    let circle =
        Tag::new("circle").with("class", "chart__shape").with("cx", number(x)).with("cy", number(y)).with("r", number(RADIUS - 1)).empty();
    let text = Tag::new("text").with("class", "chart__title").with("font-size", number(LETTERS)).with("text-anchor", "middle");
    circle + &text.with("x", number(x)).with("y", number(y + 4)).text(letter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chart::drawing::Point;

    #[test]
    fn a_cut_goes_through_upright_lines_only() {
        let boxes = vec![Rect { x: 0, y: 0, width: 100, height: 40 }, Rect { x: 0, y: 200, width: 100, height: 40 }];
        let upright = Line { points: vec![Point { x: 50, y: 40 }, Point { x: 50, y: 200 }], label: None };
        let drawing = Drawing { width: 100, height: 240, boxes, axes: vec![50, 50], lines: vec![upright], ..Drawing::default() };
        let two = strips(&drawing, 2);
        assert_eq!(two.iter().map(|strip| (strip.from, strip.to)).collect::<Vec<_>>(), [(0, 120), (120, 240)]);
        assert_eq!(crossed(&drawing, 120).into_iter().collect::<Vec<_>>(), [50]);
        let level = Line { points: vec![Point { x: 50, y: 130 }, Point { x: 90, y: 130 }], label: None };
        let drawing = Drawing { lines: vec![drawing.lines[0].clone(), level], ..drawing };
        assert_eq!(strips(&drawing, 2)[0].to, 85);
    }

    #[test]
    fn connectors_have_letters_of_their_own() {
        let mut count = 0;
        let names: BTreeSet<String> = (0..100).map(|_| next(&mut count)).collect();
        assert_eq!(names.len(), 100);
        assert!(names.contains("A") && names.contains("Z") && names.contains("AA"));
    }
}
