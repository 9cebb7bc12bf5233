//! A procedure as a flowchart: inline SVG by the symbols of ISO 5807:1985, its legend, and the same content as a list.
//!
//! Sizes are attributes (the layout depends on them), colours are left to the style sheet, by these classes:
//! `chart` the drawing; `chart__edge` and `chart__edge--answer|band|part|model|outcome|unsure|otherwise|next`, with `chart__line`,
//! `chart__arrow`, `chart__label-ground`, `chart__label`; `chart__node` and `chart__node--KIND` (see [`kind::StepRole::class`]), with `chart__shape`,
//! `chart__ground`, `chart__bar`, `chart__text`, `chart__note`, `chart__number`;
//! `chart__sign` with `chart__sign--danger|warning|caution|notice|unknown` for a caution shown there, `chart__sign--exposed` for an
//! exposure, with `chart__sign-ground` and `chart__sign-text`; on a way that is marked ([`Marks`]) `chart--marked`, `chart__edge--taken` with
//! `chart__taken`, `chart__node--passed` with `chart__badge-ground` and `chart__badge`, `chart__node--fails` with `chart__frame`; `chart-legend` and `chart-outline` for the lists.
//!
//! Read aloud, it is a group of links, each with the signs of its step before it; the ways are in the list ([`outline`]), not in the drawing.
//! (Not `role="img"`: what is inside an image cannot be reached.)
//!
//! A script finds a step by `#chart-ID` or `data-step`, what it carries out by `data-callee`, a sign by `data-sign`, and a way by `data-from`,
//! `data-to` and `data-way`: its index in [`crate::flow::graph::ways`]. The corners of a line are the first point, the control points and the last point
//! of its path.

pub mod alone;
pub mod figure;
pub mod kind;
pub mod legend;
pub mod lens;
pub mod mark;
pub mod outline;
pub mod sign;
pub mod strips;
pub mod symbol;

use std::collections::{BTreeMap, BTreeSet};

use crate::chart::drawing::{Drawing, Rect};
use crate::chart::text;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::render::chart_svg::figure::{Figure, NodeFigure};
use crate::render::chart_svg::mark::{Tag, escape};
use crate::render::drawings::Drawings;
use crate::text::id::Id;

/// What a step's section is called on the page: this, then the step's id.
pub const STEP_ANCHOR: &str = "step-";
/// What a step's symbol is called: this, then the step's id. Ids hold no two hyphens, so `chart--` begins names of ours.
pub const CHART_ANCHOR: &str = "chart-";

/// Pixels; text is this big and no smaller signs exist than [`SMALL`].
pub const TEXT: i32 = 14;
pub const TEXT_LINE: i32 = 18;
pub const SMALL: i32 = 12;
pub const SMALL_LINE: i32 = 15;

/// A way to be marked in a drawing: its steps by their numbers on the way, and its lines.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    /// Stands before every id of the drawing, so that a page can hold several.
    pub key: String,
    /// The numbers of a step on the way; several if the way comes back to it.
    pub steps: BTreeMap<Id, Vec<usize>>,
    /// Step and index of the way taken on from it.
    pub lines: BTreeSet<(Id, usize)>,
    /// Where the way fails.
    pub end: Option<Id>,
    pub links: Links,
}

/// Where the symbols lead.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Links {
    /// To the steps of the page that the drawing stands on.
    #[default]
    Here,
    /// To the steps of another page.
    To(String),
    /// Nowhere: the drawing stands alone.
    No,
}

/// The drawing of a procedure as an `svg` element.
pub fn chart(library: &Library, procedure: &Procedure) -> String {
    marked(library, procedure, &Marks::default(), &Drawings::default())
}

/// The drawing for the page of another procedure that carries this one out.
pub fn elsewhere(library: &Library, procedure: &Procedure, known: &Drawings) -> String {
    let links = Links::To(format!("{}.html", procedure.id));
    marked(library, procedure, &Marks { key: format!("{}-", procedure.id), links, ..Marks::default() }, known)
}

/// The drawing with a way marked in it: broad dashed lines under those taken, a number at each of its steps, a double frame where it ends.
pub fn marked(library: &Library, procedure: &Procedure, marks: &Marks, known: &Drawings) -> String {
    of_figure(&Figure::new(library, procedure), procedure, marks, known)
}

/// The same of a figure that is at hand.
pub fn of_figure(figure: &Figure, procedure: &Procedure, marks: &Marks, known: &Drawings) -> String {
    let key = &marks.key;
    let drawing = known.drawing(&figure.graph);
    let size = |number: i32| number.to_string();
    let mut svg = Tag::new("svg")
        .with("class", if marks.steps.is_empty() { "chart" } else { "chart chart--marked" })
        .with("xmlns", "http://www.w3.org/2000/svg")
        .with("role", "group")
        .with("aria-labelledby", format!("{key}chart--title"))
        .with("aria-describedby", format!("{key}chart--desc"))
        .with("width", size(drawing.width))
        .with("height", size(drawing.height))
        .with("viewBox", format!("0 0 {} {}", drawing.width, drawing.height))
        .open();
    svg.push_str(&Tag::new("title").with("id", format!("{key}chart--title")).text(&format!("Flowchart: {}", procedure.title())));
    svg.push_str(&Tag::new("desc").with("id", format!("{key}chart--desc")).text(&description(figure)));
    svg.push('\n');
    svg.push_str(&picture(figure, &drawing, marks));
    svg.push_str("</svg>\n");
    svg
}

/// What the symbols, signs and lines of this chart mean, as a list of small drawings with words.
pub fn legend(library: &Library, procedure: &Procedure) -> String {
    legend::legend(&Figure::new(library, procedure))
}

/// The same steps and ways as a list, for readers who do not see the drawing.
pub fn outline(library: &Library, procedure: &Procedure) -> String {
    outline::outline(library, procedure, false)
}

/// The list where it stands in place of the steps themselves: links to steps lead to it.
pub fn anchored_outline(library: &Library, procedure: &Procedure) -> String {
    outline::outline(library, procedure, true)
}

/// Lines, then symbols with their signs.
fn picture(figure: &Figure, drawing: &Drawing, marks: &Marks) -> String {
    // Lines that have joined lie on each other: the quiet ones below.
    let (aside, onward): (Vec<usize>, Vec<usize>) = (0..figure.ways.len()).partition(|index| figure.ways[*index].aside());
    let edges: String = aside.into_iter().chain(onward).map(|index| edge(figure, drawing, index, marks)).collect();
    let nodes = figure.nodes.iter().enumerate();
    edges + &nodes.map(|(index, node)| self::node(node, drawing.boxes[index], drawing.axes[index], marks)).collect::<String>()
}

fn description(figure: &Figure) -> String {
    let steps = figure.nodes.iter().filter(|node| node.number > 0).count();
    let ways = figure.ways.iter().filter(|way| way.from.is_some()).count();
    format!(
        "{steps} steps and {ways} ways between them. Every symbol leads to the words of its step; the same steps and ways stand as a list."
    )
}

fn edge(figure: &Figure, drawing: &Drawing, index: usize, marks: &Marks) -> String {
    let (way, line) = (&figure.ways[index], &drawing.lines[index]);
    let taken = way.from.as_ref().is_some_and(|from| marks.lines.contains(from));
    let mut group = Tag::new("g")
        .with("class", format!("chart__edge chart__edge--{}{}", way.kind.as_str(), if taken { " chart__edge--taken" } else { "" }))
        .with("aria-hidden", "true")
        .with("data-to", way.to.as_str());
    if let Some((from, place)) = &way.from {
        group = group.with("data-from", from.as_str()).with("data-way", place.to_string());
    }
    let mut svg = group.open();
    if taken {
        svg.push_str(&Tag::new("path").with("class", "chart__taken").with("fill", "none").with("d", symbol::path(&line.points)).empty());
    }
    svg.push_str(&Tag::new("path").with("class", "chart__line").with("fill", "none").with("d", symbol::path(&line.points)).empty());
    svg.push_str(&symbol::head(&line.points));
    if let Some((x, y)) = symbol::upward(&line.points, &drawing.lines) {
        svg.push_str(&symbol::arrow(x, y, true));
    }
    if let Some(area) = line.label {
        let area = Rect { y: area.y + 1, height: area.height - 2, ..area };
        svg.push_str(&symbol::rect("chart__label-ground", area, 2));
        svg.push_str(&lines("chart__label", &way.label, area.x + area.width / 2, area.y + 2, SMALL, SMALL_LINE));
    }
    svg.push_str("</g>\n");
    svg
}

fn node(node: &NodeFigure, area: Rect, axis: i32, marks: &Marks) -> String {
    let numbers = node.step.as_ref().and_then(|step| marks.steps.get(step));
    let fails = node.step.is_some() && node.step == marks.end;
    let mut class = format!("chart__node chart__node--{}", node.role.class());
    for (name, is) in [("passed", numbers.is_some()), ("fails", fails), ("aside", node.aside)] {
        class += &if is { format!(" chart__node--{name}") } else { String::new() };
    }
    let mut group = Tag::new("g").with("class", class);
    let key = &marks.key;
    let mut body = symbol::draw(node, area, axis);
    group = match &node.step {
        Some(step) => {
            body = linked(node, step, marks, &body);
            group.with("id", format!("{key}{CHART_ANCHOR}{step}")).with("data-step", step.as_str())
        }
        None => group.with("id", format!("{key}chart--start")),
    };
    if let Some(callee) = &node.callee {
        group = group.with("data-callee", callee.as_str());
    }
    // What is dangerous about a step comes before the step.
    let signs = sign::draw(&node.signs, symbol::beside(node, axis), area);
    let frame = if fails { symbol::frame(area) } else { String::new() };
    let badge = numbers.map(|numbers| symbol::badge(numbers, axis - node.shape.left, area.y + area.height / 2)).unwrap_or_default();
    let mut svg = group.around(&(frame + &signs + &body + &badge));
    svg.push('\n');
    svg
}

fn linked(node: &NodeFigure, step: &Id, marks: &Marks, body: &str) -> String {
    let page = match &marks.links {
        Links::Here => "",
        Links::To(page) => page,
        Links::No => return body.to_owned(),
    };
    let label = format!("{}. {}: {}", node.number, node.role.name(), node.words);
    Tag::new("a").with("href", format!("{page}#{STEP_ANCHOR}{step}")).with("aria-label", label).around(body)
}

/// Lines of text about an axis, the first beginning at `top`.
pub(crate) fn lines(class: &str, lines: &[String], axis: i32, top: i32, size: i32, step: i32) -> String {
    let mut spans = String::new();
    let mut baseline = top + (step + size * 7 / 10) / 2;
    for line in lines {
        spans.push_str(&Tag::new("tspan").with("x", axis.to_string()).with("y", baseline.to_string()).text(line));
        baseline += step;
    }
    Tag::new("text").with("class", class).with("font-size", size.to_string()).with("text-anchor", "middle").around(&spans)
}

/// Width of the widest line.
pub(crate) fn widest(lines: &[String], size: i32) -> i32 {
    lines.iter().map(|line| text::width(line, size)).max().unwrap_or(0)
}

/// A text for HTML, with a link.
pub(crate) fn link(step: &str, words: &str) -> String {
    format!("<a href=\"#{STEP_ANCHOR}{}\">{}</a>", escape(step), escape(words))
}
