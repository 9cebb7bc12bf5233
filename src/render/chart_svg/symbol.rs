//! The outlines of the symbols, their sizes from their words, and the lines with their arrowheads.

use std::cell::RefCell;

use rustc_hash::FxHashMap;

use crate::chart::drawing::{Line, Point, Rect};
use crate::chart::text;
use crate::render::chart_svg::figure::{NodeFigure, SIGN_GAP};
use crate::render::chart_svg::kind::Symbol;
use crate::render::chart_svg::mark::Tag;
use crate::render::chart_svg::{SMALL, SMALL_LINE, TEXT, TEXT_LINE, lines, widest};

/// Width of the boxes; ISO 5807 wants symbols of one size.
const BOX: i32 = 200;
const DECISION: i32 = 236;
/// The slope of a manual input, the points of a preparation, the bars of a predefined process.
const SLOPE: i32 = 14;
const POINT: i32 = 18;
const BAR: i32 = 10;
const CONNECTOR: i32 = 20;
const CORNER: i32 = 6;
const NUMBER: i32 = 11;

/// A symbol with its words broken into lines, and its extents from the axis.
#[derive(Clone, Debug)]
pub struct Shape {
    pub symbol: Symbol,
    pub words: Vec<String>,
    pub notes: Vec<String>,
    pub left: i32,
    pub right: i32,
    pub height: i32,
    /// From the top edge to the outline, on the axis; and from the bottom edge.
    pub inlet: i32,
    pub outlet: i32,
    /// From the top edge to the first line of words.
    pub top: i32,
}

/// Sizes a symbol by its words and notes. Each step is drawn several times over, and steps of one library repeat each other's words: sizes are kept for
/// as long as the thread lives.
pub fn fit(symbol: Symbol, words: &str, notes: &[String]) -> Shape {
    let key = (symbol, words.to_owned(), notes.to_vec());
    FITTED.with_borrow_mut(|fitted| {
        if let Some(known) = fitted.get(&key) {
            return known.clone();
        }
        if fitted.len() == MOST_FITTED {
            fitted.clear();
        }
        let shape = fitted_anew(symbol, words, notes);
        fitted.insert(key, shape.clone());
        shape
    })
}

/// As many symbols as a large library has (common practice, no source).
const MOST_FITTED: usize = 20_000;

/// A symbol, its words and its notes.
type Wanted = (Symbol, String, Vec<String>);

thread_local! {
    static FITTED: RefCell<FxHashMap<Wanted, Shape>> = RefCell::default();
}

fn fitted_anew(symbol: Symbol, words: &str, notes: &[String]) -> Shape {
    let pad = |over, under, beside| boxed(symbol, words, notes, BOX - 2 * beside, over, under);
    match symbol {
        Symbol::Decision => decision(words, notes),
        Symbol::Process | Symbol::Annotation => pad(15, 10, 12),
        Symbol::Predefined => pad(15, 10, 12 + BAR),
        Symbol::ManualInput => Shape { inlet: SLOPE / 2, ..pad(SLOPE + 10, 10, 12) },
        Symbol::Preparation => {
            let shape = pad(12, 12, 6);
            Shape { left: BOX / 2 + POINT, right: BOX / 2 + POINT, ..shape }
        }
        Symbol::Terminator => {
            let shape = boxed(symbol, words, notes, 176, 9, 9);
            let width = (widest(&shape.words, TEXT).max(widest(&shape.notes, SMALL)) + shape.height * 8 / 10).max(96);
            Shape { left: width / 2, right: width - width / 2, ..shape }
        }
        Symbol::Connector => connector(words, notes),
    }
}

fn boxed(symbol: Symbol, words: &str, notes: &[String], room: i32, over: i32, under: i32) -> Shape {
    let words = text::wrap_evenly(words, TEXT, |_| room);
    let notes: Vec<String> = notes.iter().flat_map(|note| text::wrap(note, SMALL, |_| room)).collect();
    let content = content_height(words.len(), notes.len());
    let height = (over + content + under).max(36);
    let top = over + (height - over - under - content) / 2;
    Shape { symbol, words, notes, left: BOX / 2, right: BOX / 2, height, inlet: 0, outlet: 0, top }
}

fn content_height(words: usize, notes: usize) -> i32 {
    TEXT_LINE * i32::try_from(words).unwrap_or(0) + SMALL_LINE * i32::try_from(notes).unwrap_or(0)
}

/// How much higher a decision may become so that no word stands alone at its point.
const EASE: i32 = 28;

/// The flattest decision whose lines stay inside its slanted sides; wider only if it would be too high. A little higher where a word would else stand alone
/// on its first or last line.
fn decision(words: &str, notes: &[String]) -> Shape {
    let whole: Vec<&str> = words.split_whitespace().collect();
    let many = whole.len() > 5;
    let whole = whole.join(" ");
    let is_alone = |line: Option<&String>| line.is_some_and(|line| !line.contains(' '));
    for width in (DECISION..=DECISION + 160).step_by(40) {
        let fitting = |height: i32| decision_of(words, notes, width, height).filter(|shape| shape.words.join(" ") == whole);
        let Some((height, flattest)) = (76..=160).step_by(4).find_map(|height| Some((height, fitting(height)?))) else { continue };
        let even = |shape: &Shape| !is_alone(shape.words.first()) && !is_alone(shape.words.last());
        if !many || even(&flattest) {
            return flattest;
        }
        return (height + 4..=height + EASE).step_by(4).filter_map(fitting).find(even).unwrap_or(flattest);
    }
    // Words too long for a line, or too many: broken, and as high as it takes.
    let found = (160..20_000).step_by(20).find_map(|height| decision_of(words, notes, DECISION + 160, height));
    found.unwrap_or_else(|| boxed(Symbol::Decision, words, notes, BOX, 10, 10))
}

fn decision_of(words: &str, notes: &[String], width: i32, height: i32) -> Option<Shape> {
    // Width at a distance from the middle, less a little air.
    let at = |distance: i32| width - 2 * width * distance / height - 12;
    let most = usize::try_from(height / TEXT_LINE).unwrap_or(1);
    (1..=most).find_map(|count| {
        let content = content_height(count, notes.len());
        let top = (height - content) / 2;
        let edge = |y: i32| (height / 2 - y).abs();
        let room = |line: usize| {
            let y = top + content_height(line, 0);
            at(edge(y).max(edge(y + TEXT_LINE)))
        };
        let lines = text::wrap(words, TEXT, |line| room(line).max(1));
        let mut y = top + content_height(lines.len(), 0);
        let notes_fit = notes.iter().all(|note| {
            let fits = text::width(note, SMALL) <= at(edge(y).max(edge(y + SMALL_LINE)));
            y += SMALL_LINE;
            fits
        });
        let fits = lines.len() == count && notes_fit && (0..count).all(|line| room(line) > 30);
        let lines = if fits { text::wrap_evenly(words, TEXT, |line| room(line).max(1)) } else { lines };
        let (left, right) = (width / 2, width / 2);
        fits.then(|| Shape { symbol: Symbol::Decision, words: lines, notes: notes.to_vec(), left, right, height, inlet: 0, outlet: 0, top })
    })
}

/// A circle on the axis, its words beside it.
fn connector(words: &str, notes: &[String]) -> Shape {
    let shape = boxed(Symbol::Connector, words, notes, 172, 4, 4);
    let height = shape.height.max(2 * CONNECTOR);
    let inset = (height - 2 * CONNECTOR) / 2;
    let right = CONNECTOR + 8 + widest(&shape.words, TEXT).max(widest(&shape.notes, SMALL));
    let top = (height - content_height(shape.words.len(), shape.notes.len())) / 2;
    Shape { left: CONNECTOR, right, height, inlet: inset, outlet: inset, top, ..shape }
}

/// Where the signs of a node begin.
pub fn beside(node: &NodeFigure, axis: i32) -> i32 {
    axis + node.shape.right + SIGN_GAP
}

/// Outline, words and number of a node whose box is `area`.
pub fn draw(node: &NodeFigure, area: Rect, axis: i32) -> String {
    let shape = &node.shape;
    let y = area.y + (area.height - shape.height) / 2;
    let own = Rect { x: axis - shape.left, y, width: shape.left + shape.right, height: shape.height };
    let mut svg = outline(shape.symbol, own, axis);
    let number = node.number.to_string();
    if shape.symbol == Symbol::Connector {
        let middle = own.y + own.height / 2;
        if node.number > 0 {
            svg.push_str(&start_at("chart__number", &number, axis, middle + 4, NUMBER, "middle"));
        }
        let x = axis + CONNECTOR + 8 + (shape.right - CONNECTOR - 8) / 2;
        svg.push_str(&lines("chart__text", &shape.words, x, own.y + shape.top, TEXT, TEXT_LINE));
        svg.push_str(&notes(shape, x, own.y));
        return svg;
    }
    svg.push_str(&lines("chart__text", &shape.words, axis, own.y + shape.top, TEXT, TEXT_LINE));
    svg.push_str(&notes(shape, axis, own.y));
    if node.number > 0 {
        let (x, y) = match shape.symbol {
            Symbol::ManualInput => (own.x + 5, own.y + SLOPE + 11),
            Symbol::Predefined => (own.x + BAR + 4, own.y + 12),
            Symbol::Process | Symbol::Annotation => (own.x + 5, own.y + 12),
            // The corners of these lie outside their outline.
            Symbol::Decision => (own.x + own.width / 8, own.y + own.height / 4),
            Symbol::Preparation | Symbol::Terminator | Symbol::Connector => (own.x, own.y + 5),
        };
        svg.push_str(&start_at("chart__number", &number, x, y, NUMBER, "start"));
    }
    svg
}

/// The numbers of a step on a way that is marked, on the left edge of its symbol.
pub fn badge(numbers: &[usize], x: i32, y: i32) -> String {
    let words = numbers.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    let width = (text::width(&words, SMALL) + 12).max(22);
    let ground = Rect { x: x - width / 2, y: y - 11, width, height: 22 };
    rect("chart__badge-ground", ground, 11) + &start_at("chart__badge", &words, x, y + 4, SMALL, "middle")
}

/// A second frame around the symbol where a way fails.
pub fn frame(area: Rect) -> String {
    let around = Rect { x: area.x - 5, y: area.y - 5, width: area.width + 10, height: area.height + 10 };
    rect("chart__frame", around, 0)
}

fn notes(shape: &Shape, axis: i32, top: i32) -> String {
    if shape.notes.is_empty() {
        return String::new();
    }
    let below = top + shape.top + content_height(shape.words.len(), 0);
    lines("chart__note", &shape.notes, axis, below, SMALL, SMALL_LINE)
}

fn start_at(class: &str, words: &str, x: i32, y: i32, size: i32, anchor: &str) -> String {
    let tag = Tag::new("text").with("class", class).with("font-size", size.to_string()).with("text-anchor", anchor);
    tag.with("x", x.to_string()).with("y", y.to_string()).text(words)
}

/// The outline of a symbol. A decision is a polygon of four points, a preparation one of six, a terminator a rectangle with half its height
/// as corner radius.
pub fn outline(symbol: Symbol, area: Rect, axis: i32) -> String {
    let (left, top) = (area.x, area.y);
    let (right, bottom) = (area.x + area.width, area.y + area.height);
    let middle = area.y + area.height / 2;
    match symbol {
        Symbol::Terminator => rect("chart__shape", area, area.height / 2),
        Symbol::Process => rect("chart__shape", area, 0),
        Symbol::Decision => polygon(&format!("{axis},{top} {right},{middle} {axis},{bottom} {left},{middle}")),
        Symbol::Predefined => {
            let (a, b) = (left + BAR, right - BAR);
            let bars = Tag::new("path").with("class", "chart__bar").with("fill", "none");
            rect("chart__shape", area, 0) + &bars.with("d", format!("M{a} {top}V{bottom}M{b} {top}V{bottom}")).empty()
        }
        // Five points in all, the top one on the axis: it changes nothing to see and keeps the four corners apart from a decision's.
        Symbol::ManualInput => polygon(&format!(
            "{left},{low} {axis},{mid} {right},{top} {right},{bottom} {left},{bottom}",
            low = top + SLOPE,
            mid = top + SLOPE / 2
        )),
        Symbol::Preparation => {
            let (a, b) = (left + POINT, right - POINT);
            polygon(&format!("{left},{middle} {a},{top} {b},{top} {right},{middle} {b},{bottom} {a},{bottom}"))
        }
        Symbol::Connector => {
            let tag = Tag::new("circle").with("class", "chart__shape").with("cx", axis.to_string()).with("cy", middle.to_string());
            tag.with("r", CONNECTOR.to_string()).empty()
        }
        Symbol::Annotation => {
            let bracket = format!("M{x} {top}H{left}V{bottom}H{x}", x = left + 12);
            rect("chart__ground", area, 0) + &Tag::new("path").with("class", "chart__bar").with("fill", "none").with("d", bracket).empty()
        }
    }
}

/// A rectangle with round corners.
pub fn rect(class: &str, area: Rect, radius: i32) -> String {
    let tag = Tag::new("rect").with("class", class).with("x", area.x.to_string()).with("y", area.y.to_string());
    let tag = tag.with("width", area.width.to_string()).with("height", area.height.to_string());
    if radius == 0 { tag.empty() } else { tag.with("rx", radius.to_string()).empty() }
}

fn polygon(points: &str) -> String {
    Tag::new("polygon").with("class", "chart__shape").with("points", points).empty()
}

/// A line with round corners. It stops short of its end, where the arrowhead stands.
pub fn path(points: &[Point]) -> String {
    let Some((first, rest)) = points.split_first() else { return String::new() };
    let mut path = format!("M{} {}", first.x, first.y);
    let mut before = *first;
    for (index, point) in rest.iter().enumerate() {
        let Some(next) = rest.get(index + 1) else {
            let end = towards(*point, before, 4);
            path.push_str(&format!("L{} {}", end.x, end.y));
            break;
        };
        let radius = CORNER.min(length(before, *point) / 2).min(length(*point, *next) / 2);
        let (from, to) = (towards(*point, before, radius), towards(*point, *next, radius));
        path.push_str(&format!("L{} {}Q{} {} {} {}", from.x, from.y, point.x, point.y, to.x, to.y));
        before = *point;
    }
    path
}

fn length(a: Point, b: Point) -> i32 {
    (a.x - b.x).abs() + (a.y - b.y).abs()
}

fn towards(from: Point, to: Point, by: i32) -> Point {
    Point { x: from.x + by * (to.x - from.x).signum(), y: from.y + by * (to.y - from.y).signum() }
}

/// The arrowhead at the end of a line: down into a box, or from beside it.
pub fn head(points: &[Point]) -> String {
    let [.., before, end] = points else { return String::new() };
    if before.x == end.x {
        return arrow(end.x, end.y, before.y > end.y);
    }
    let back = end.x - 9 * (end.x - before.x).signum();
    let corners = format!("{},{} {back},{} {back},{}", end.x, end.y, end.y - 4, end.y + 4);
    Tag::new("polygon").with("class", "chart__arrow").with("points", corners).empty()
}

/// An arrowhead whose tip is at a point.
pub fn arrow(x: i32, y: i32, up: bool) -> String {
    let back = if up { y + 9 } else { y - 9 };
    let points = format!("{x},{y} {},{back} {},{back}", x - 4, x + 4);
    Tag::new("polygon").with("class", "chart__arrow").with("points", points).empty()
}

/// A place for an arrowhead on the longest stretch that leads up, if there is room for one clear of all level lines.
pub fn upward(points: &[Point], others: &[Line]) -> Option<(i32, i32)> {
    let stretches = points.windows(2).filter(|pair| pair[0].x == pair[1].x && pair[0].y > pair[1].y);
    let longest = stretches.max_by_key(|pair| pair[0].y - pair[1].y)?;
    let (x, low, high) = (longest[0].x, longest[0].y, longest[1].y);
    let crosses = |pair: &[Point], y: i32| {
        let level = pair[0].y == pair[1].y && (y - 8..=y + 16).contains(&pair[0].y);
        level && pair[0].x.min(pair[1].x) <= x && x <= pair[0].x.max(pair[1].x)
    };
    let clear = |y: i32| !others.iter().any(|line| line.points.windows(2).any(|pair| crosses(pair, y)));
    let middle = i32::midpoint(low, high);
    let most = (low - high) / 2 - 20;
    (0..most.max(0)).step_by(10).flat_map(|step| [middle - step, middle + step]).find(|y| clear(*y)).map(|y| (x, y))
}
