//! What the symbols, signs and lines of one chart mean: small drawings, each with its words. Only what occurs in it.

use std::collections::BTreeSet;

use crate::chart::drawing::{Point, Rect};
use crate::model::catalogue::SignalWord;
use crate::render::chart_svg::figure::Figure;
use crate::render::chart_svg::kind::Symbol;
use crate::render::chart_svg::mark::{Tag, escape};
use crate::render::chart_svg::sign::{self, SignKind};
use crate::render::chart_svg::{SMALL, SMALL_LINE, lines, symbol};

/// Size of each small drawing.
pub const WIDTH: i32 = 92;
pub const HEIGHT: i32 = 32;
const AREA: Rect = Rect { x: 16, y: 2, width: 60, height: 28 };
const AXIS: i32 = 46;
const SIGN: Rect = Rect { x: 2, y: 6, width: 88, height: 20 };

/// A small drawing, without its frame, and what it means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    pub drawing: String,
    pub words: &'static str,
}

/// Symbols, then signs, then lines.
pub fn entries(figure: &Figure) -> Vec<Entry> {
    let symbols: BTreeSet<Symbol> = figure.nodes.iter().map(|node| node.shape.symbol).collect();
    let signs: BTreeSet<SignKind> = figure.nodes.iter().flat_map(|node| &node.signs).map(|sign| sign.kind).collect();
    let symbols = symbols.into_iter().map(|symbol| Entry { drawing: small_symbol(symbol), words: symbol_words(symbol) });
    let signs = signs.into_iter().map(|kind| Entry { drawing: small_sign(kind), words: sign_words(kind) });
    let way =
        (!figure.ways.is_empty()).then(|| Entry { drawing: small_line("next"), words: "Way on; the words on it say when to take it" });
    let aside = figure.ways.iter().any(|way| way.aside());
    let aside = aside.then(|| Entry { drawing: small_line("unsure"), words: "Way on when you cannot tell, or have tried often enough" });
    symbols.chain(signs).chain(way).chain(aside).collect()
}

/// The entries as a list.
pub fn legend(figure: &Figure) -> String {
    let items: String = entries(figure).iter().map(item).collect();
    if items.is_empty() { String::new() } else { format!("<ul class=\"chart-legend\">\n{items}</ul>\n") }
}

fn item(entry: &Entry) -> String {
    let size = |number: i32| number.to_string();
    let svg = Tag::new("svg").with("class", "chart chart-legend__symbol").with("aria-hidden", "true").with("focusable", "false");
    let svg = svg.with("width", size(WIDTH)).with("height", size(HEIGHT)).with("viewBox", format!("0 0 {WIDTH} {HEIGHT}"));
    format!("<li class=\"chart-legend__item\">{} <span>{}</span></li>\n", svg.around(&entry.drawing), escape(entry.words))
}

fn small_symbol(symbol: Symbol) -> String {
    if symbol != Symbol::Connector {
        return symbol::outline(symbol, AREA, AXIS);
    }
    // In a chart a circle is as high as a box.
    let circle = Tag::new("circle").with("class", "chart__shape").with("cx", AXIS.to_string()).with("cy", (HEIGHT / 2).to_string());
    circle.with("r", (AREA.height / 2).to_string()).empty()
}

fn small_sign(kind: SignKind) -> String {
    let (ground, word) = match kind {
        SignKind::Caution(signal) => (sign::pointed(SIGN), signal.map_or("CAUTION", SignalWord::as_str).to_uppercase()),
        SignKind::Exposed => (symbol::rect("chart__sign-ground", SIGN, 0), "exposed".to_owned()),
    };
    let words = lines("chart__sign-text", &[word], AXIS + if kind == SignKind::Exposed { 0 } else { 4 }, SIGN.y + 2, SMALL, SMALL_LINE);
    Tag::new("g").with("class", sign::class(kind)).around(&format!("{ground}{words}"))
}

fn small_line(way: &str) -> String {
    let points = [Point { x: AXIS, y: 2 }, Point { x: AXIS, y: 30 }];
    let line = Tag::new("path").with("class", "chart__line").with("fill", "none").with("d", symbol::path(&points)).empty();
    Tag::new("g").with("class", format!("chart__edge--{way}")).around(&format!("{line}{}", symbol::arrow(AXIS, 30, false)))
}

/// The meaning of the signal words: ANSI Z535.6, in our words.
fn sign_words(kind: SignKind) -> &'static str {
    match kind {
        SignKind::Caution(Some(SignalWord::Danger)) => "Shown at this step: will kill or badly injure if not avoided",
        SignKind::Caution(Some(SignalWord::Warning)) => "Shown at this step: can kill or badly injure",
        SignKind::Caution(Some(SignalWord::Caution)) => "Shown at this step: can injure",
        SignKind::Caution(Some(SignalWord::Notice)) => "Shown at this step: can damage things, injures nobody",
        SignKind::Caution(None) => "Shown at this step",
        SignKind::Exposed => "The step exposes you to this hazard",
    }
}

fn symbol_words(symbol: Symbol) -> &'static str {
    match symbol {
        Symbol::Terminator => "Start or ending",
        Symbol::Process => "Action",
        Symbol::Decision => "Question: one way on for each answer",
        Symbol::Predefined => "Another procedure is carried out",
        Symbol::ManualInput => "Measurement: a reading is entered",
        Symbol::Preparation => "Makes the machine safe, or waits",
        Symbol::Connector => "Goes on in another procedure",
        Symbol::Annotation => "Not clear what kind of step this is",
    }
}
