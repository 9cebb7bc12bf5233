//! A procedure as a graph in DOT, for general graph tools: the steps, signs and ways of the drawing, without its places.
//!
//! The language: the grammar that Graphviz publishes. Strings are quoted; in labels a backslash begins an escape, so ours are doubled.

use std::fmt::Write as _;

use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::render::chart_svg::alone::heading;
use crate::render::chart_svg::figure::{Figure, NodeFigure, WayFigure};
use crate::render::chart_svg::kind::{StepRole, Symbol};
use crate::render::chart_svg::lens::Lens;
use crate::render::chart_svg::sign::SignKind;

/// The graph. `warning` begins its label.
pub fn dot(library: &Library, procedure: &Procedure, lens: Option<&Lens>, warning: Option<&str>) -> String {
    let figure = Figure::through(library, procedure, lens);
    let mut head: Vec<String> = warning.map(str::to_owned).into_iter().collect();
    head.push(procedure.title().to_owned());
    head.extend(heading(library, procedure, lens));
    let mut out = format!(
        "digraph {} {{\n  graph [label={}, labelloc=t, rankdir=TB]\n  node [fontname=\"Helvetica\", fontsize=11]\n  edge [fontname=\"Helvetica\", fontsize=9]\n",
        quoted(&[procedure.id.to_string()]),
        quoted(&head)
    );
    for node in &figure.nodes {
        out.push_str(&step(node));
    }
    for way in &figure.ways {
        out.push_str(&edge(way));
    }
    out.push_str("}\n");
    out
}

/// A step with its signs, each a note of its own on a line without an arrow.
fn step(node: &NodeFigure) -> String {
    let name = name(node.step.as_ref().map(|step| step.as_str()));
    let mut label = Vec::new();
    if node.role != StepRole::Start {
        label.push(format!("{}. {}", node.number, node.role.name()));
    }
    label.extend(node.shape.words.iter().chain(&node.shape.notes).cloned());
    let quiet = if node.aside { ", color=gray50, fontcolor=gray30" } else { "" };
    let mut out = format!("  {name} [{}, label={}{quiet}]\n", shape(node.shape.symbol), quoted(&label));
    for (sign, place) in node.signs.iter().zip(1..) {
        let own = quoted(&[format!("sign {place} {}", node.step.as_ref().map_or("", |step| step.as_str()))]);
        let style = if matches!(sign.kind, SignKind::Exposed) { "style=dashed, " } else { "" };
        // Writing to a text cannot fail.
        let _ = writeln!(out, "  {own} [shape=note, {style}label={}]", quoted(&sign.lines));
        let _ = writeln!(out, "  {own} -> {name} [arrowhead=none, style=dotted, constraint=false]");
    }
    out
}

fn edge(way: &WayFigure) -> String {
    let from = name(way.from.as_ref().map(|(step, _)| step.as_str()));
    let style = if way.aside() { ", style=dashed" } else { "" };
    format!("  {from} -> {} [label={}{style}]\n", name(Some(way.to.as_str())), quoted(&way.label))
}

/// Ids hold no space, so no step is called as the start is, or a sign.
fn name(step: Option<&str>) -> String {
    quoted(&[step.unwrap_or("the start").to_owned()])
}

/// The nearest that the language has to the symbols of ISO 5807; what a step is stands in its label, too.
fn shape(symbol: Symbol) -> &'static str {
    match symbol {
        Symbol::Terminator => "shape=box, style=rounded",
        Symbol::Process => "shape=box",
        Symbol::Decision => "shape=diamond",
        Symbol::Predefined => "shape=box, peripheries=2",
        Symbol::ManualInput => "shape=polygon, sides=4, distortion=-0.2",
        Symbol::Preparation => "shape=hexagon",
        Symbol::Connector => "shape=circle",
        Symbol::Annotation => "shape=note",
    }
}

/// Lines as one string.
fn quoted(lines: &[String]) -> String {
    let safe = |line: &String| {
        let shown = line.chars().filter(|character| !character.is_control());
        shown.collect::<String>().replace('\\', "\\\\").replace('"', "\\\"")
    };
    format!("\"{}\"", lines.iter().map(safe).collect::<Vec<_>>().join("\\n"))
}
