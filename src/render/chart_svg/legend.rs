//! What the symbols and signs mean: small drawings, each with its words.

use crate::chart::drawing::{Point, Rect};
use crate::render::chart_svg::kind::Symbol;
use crate::render::chart_svg::mark::{Tag, escape};
use crate::render::chart_svg::symbol;

const AREA: Rect = Rect { x: 2, y: 2, width: 60, height: 28 };

/// A list of all symbols. The same on every page.
pub fn legend() -> String {
    let mut html = String::from("<ul class=\"chart-legend\">\n");
    for symbol in Symbol::ALL.into_iter().filter(|symbol| *symbol != Symbol::Annotation) {
        html.push_str(&item(&symbol::outline(symbol, AREA, 32), words(symbol)));
    }
    let caution = "<g class=\"chart__sign\"><polygon class=\"chart__sign-ground\" points=\"2,16 10,6 62,6 62,26 10,26\"/></g>";
    html.push_str(&item(caution, "Sign with a point: this caution is shown at the step"));
    let exposed = symbol::rect("chart__sign-ground", Rect { y: 6, height: 20, ..AREA }, 0);
    html.push_str(&item(
        &Tag::new("g").with("class", "chart__sign chart__sign--exposed").around(&exposed),
        "Sign with a broken edge: the step exposes you to this hazard",
    ));
    let points = [Point { x: 32, y: 2 }, Point { x: 32, y: 30 }];
    let line = Tag::new("path").with("class", "chart__line").with("fill", "none").with("d", symbol::path(&points)).empty();
    html.push_str(&item(&format!("{line}{}", symbol::arrow(32, 30, false)), "Way on; the words on it say when to take it"));
    html.push_str("</ul>\n");
    html
}

fn item(drawing: &str, words: &str) -> String {
    let svg = Tag::new("svg").with("class", "chart chart-legend__symbol").with("aria-hidden", "true").with("focusable", "false");
    let svg = svg.with("width", "64").with("height", "32").with("viewBox", "0 0 64 32").around(drawing);
    format!("<li class=\"chart-legend__item\">{svg} <span>{}</span></li>\n", escape(words))
}

fn words(symbol: Symbol) -> &'static str {
    match symbol {
        Symbol::Terminator => "Start or ending",
        Symbol::Process => "Action",
        Symbol::Decision => "Question: one way on for each answer",
        Symbol::Predefined => "Another procedure is carried out",
        Symbol::ManualInput => "Measurement: a reading is entered",
        Symbol::Preparation => "Makes the machine safe, or waits",
        Symbol::Connector => "Goes on in another procedure",
        Symbol::Annotation => "Remark",
    }
}
