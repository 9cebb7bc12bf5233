//! A chart as a file of its own: an SVG with its style, what it is a drawing of above it and its legend below. It loads nothing and runs nothing.

use std::fmt::Write as _;

use crate::chart;
use crate::chart::text;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::render::chart_svg::figure::Figure;
use crate::render::chart_svg::lens::{Lens, LensKind};
use crate::render::chart_svg::mark::Tag;
use crate::render::chart_svg::{Links, Marks, SMALL, SMALL_LINE, TEXT, TEXT_LINE, legend, picture};
use crate::theme;

const MARGIN: i32 = 20;
const TITLE: i32 = 22;
const TITLE_LINE: i32 = 28;
/// The least width, so that heading and legend have room beside a narrow chart.
const LEAST: i32 = 560;
/// Width of a column of the legend.
const COLUMN: i32 = 270;
const ROW: i32 = 40;

/// What is said above a drawing, for [`svg`] and for a graph in DOT.
pub fn heading(library: &Library, procedure: &Procedure, lens: Option<&Lens>) -> Vec<String> {
    let revision = procedure.revision.as_ref().map_or_else(|| "none".to_owned(), |revision| revision.value.to_string());
    let status = procedure.status.as_str().replace('-', " ");
    let mut lines = vec![format!("{}, revision {revision}, {status}. {}", procedure.id, library.settings.title())];
    lines.extend(lens.map(|lens| match lens.kind {
        LensKind::Hazard => format!("Only the signs of this hazard are drawn: {}. The steps meet others, too", lens.name),
        LensKind::Model => format!("Only the ways of this model are drawn: {}", lens.name),
        LensKind::Person | LensKind::Fault => format!("Only a part is drawn: {}", lens.name),
    }));
    lines.push("The drawing names the cautions, their words stand in the procedure. Do not work by the drawing alone".to_owned());
    lines
}

/// The file. `warning` stands in a frame above everything.
pub fn svg(library: &Library, procedure: &Procedure, lens: Option<&Lens>, warning: Option<&str>) -> String {
    let figure = Figure::through(library, procedure, lens);
    let drawing = chart::draw(&figure.graph);
    let width = drawing.width.max(LEAST);
    let mut sheet = Sheet { width, y: MARGIN, out: String::new() };
    for line in text::wrap(procedure.title(), TITLE, |_| width) {
        sheet.line("chart__title", &line, TITLE, TITLE_LINE);
    }
    for line in heading(library, procedure, lens).iter().flat_map(|line| text::wrap(&format!("{line}."), SMALL, |_| width)) {
        sheet.line("chart__note", &line, SMALL, SMALL_LINE);
    }
    if let Some(warning) = warning {
        sheet.warning(warning);
    }
    sheet.y += MARGIN;
    let marks = Marks { links: Links::No, ..Marks::default() };
    let left = MARGIN + (width - drawing.width) / 2;
    let place = format!("translate({left} {})", sheet.y);
    sheet.out.push_str(&Tag::new("g").with("transform", place).around(&picture(&figure, &drawing, &marks)));
    sheet.y += drawing.height + MARGIN;
    sheet.legend(&figure);
    sheet.whole(procedure)
}

struct Sheet {
    /// Between the margins.
    width: i32,
    /// Where the next thing stands.
    y: i32,
    out: String,
}

impl Sheet {
    fn text(&mut self, class: &str, words: &str, size: i32, x: i32, baseline: i32) {
        let tag = Tag::new("text").with("class", class).with("font-size", size.to_string());
        self.out.push_str(&tag.with("x", x.to_string()).with("y", baseline.to_string()).text(words));
    }

    fn line(&mut self, class: &str, words: &str, size: i32, step: i32) {
        self.text(class, words, size, MARGIN, self.y + (step + size * 7 / 10) / 2);
        self.y += step;
    }

    fn warning(&mut self, words: &str) {
        let lines = text::wrap(words, TEXT, |_| self.width - 2 * MARGIN);
        let height = TEXT_LINE * i32::try_from(lines.len()).unwrap_or(1) + 16;
        self.y += 8;
        let frame = Tag::new("rect").with("class", "chart__frame").with("fill", "none").with("x", MARGIN.to_string());
        let frame = frame.with("y", self.y.to_string()).with("width", self.width.to_string()).with("height", height.to_string());
        self.out.push_str(&frame.empty());
        for (line, place) in lines.iter().zip(0..) {
            self.text("chart__title", line, TEXT, 2 * MARGIN, self.y + 8 + TEXT_LINE * place + 14);
        }
        self.y += height;
    }

    /// In as many columns as there is room for.
    fn legend(&mut self, figure: &Figure) {
        let columns = (self.width / COLUMN).max(1);
        let entries = legend::entries(figure);
        let rows = i32::try_from(entries.len()).unwrap_or(0);
        for (entry, place) in entries.iter().zip(0..) {
            let (x, y) = (MARGIN + place % columns * COLUMN, self.y + place / columns * ROW);
            let at = format!("translate({x} {y})");
            self.out.push_str(&Tag::new("g").with("class", "chart__legend").with("transform", at).around(&entry.drawing));
            let words = text::wrap(entry.words, SMALL, |_| COLUMN - legend::WIDTH - 12);
            let top = y + (legend::HEIGHT - SMALL_LINE * i32::try_from(words.len()).unwrap_or(1)) / 2;
            for (line, row) in words.iter().zip(0..) {
                self.text("chart__text", line, SMALL, x + legend::WIDTH + 8, top + SMALL_LINE * row + 12);
            }
        }
        self.y += (rows + columns - 1) / columns * ROW;
    }

    fn whole(self, procedure: &Procedure) -> String {
        let (width, height) = ((self.width + 2 * MARGIN).to_string(), (self.y + MARGIN).to_string());
        let svg = Tag::new("svg").with("xmlns", "http://www.w3.org/2000/svg").with("class", "chart").with("role", "img");
        let svg = svg.with("width", &width).with("height", &height).with("viewBox", format!("0 0 {width} {height}"));
        let title = Tag::new("title").text(&format!("Flowchart: {}", procedure.title()));
        let ground = Tag::new("rect").with("class", "chart__ground").with("width", &width).with("height", &height).empty();
        let mut out = svg.open();
        // Writing to a text cannot fail.
        let _ = write!(out, "{title}\n<style>\n{}</style>\n{ground}\n{}\n</svg>\n", theme::drawing_style(), self.out);
        out
    }
}
