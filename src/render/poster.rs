//! The poster of a procedure: its chart whole on one sheet of paper, with its cautions in words and its legend. The browser's print makes the PDF.

use tera::Context;

use crate::chart::drawing::Drawing;
use crate::model::procedure::Procedure;
use crate::render::caution::signal;
use crate::render::chart_svg::figure::Figure;
use crate::render::chart_svg::mark::Tag;
use crate::render::chart_svg::strips::{self, Strip};
use crate::render::chart_svg::{self, Links, Marks, TEXT};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::render::hazards::met;
use crate::render::procedure::banners;
use crate::text::id::Id;
use crate::theme::Kind;

pub fn path_of(procedure: &Id) -> String {
    format!("posters/{procedure}.html")
}

pub fn page(frame: &Frame<'_>, procedure: &Procedure) -> (String, String) {
    let revision = procedure.revision.as_ref().map_or_else(|| frame.say("page", "none").to_owned(), |revision| revision.value.to_string());
    let foot = frame.words.fill("page", "foot", &[("id", procedure.id.as_str()), ("revision", &revision)]);
    let figure = Figure::new(frame.library, procedure);
    let drawing = frame.known.drawing(&figure.graph);
    let paper = Paper::for_drawing(&drawing);
    let links = Links::To(format!("../procedures/{}.html", procedure.id));
    let mut context = Context::new();
    context.insert("procedure", procedure.id.as_str());
    context.insert("paper", &paper.class());
    context.insert(
        "paper_words",
        &frame.words.fill("poster", "paper", &[("paper", paper.name), ("size", &paper.points()), ("scale", &paper.scale_up())]),
    );
    context.insert("columns", &paper.strips.len());
    let picture = strips::picture(&figure, &drawing, &paper.strips, &Marks { links, ..Marks::default() });
    let chart = svg(frame.say("procedure", "chart"), &paper.strips, &picture);
    for (name, markup) in [("chart", chart), ("legend", chart_svg::legend::legend(&figure)), ("cautions", cautions(frame, procedure))] {
        context.insert_value(name, escape::safe(&markup));
    }
    frame.set(Sheet {
        path: path_of(&procedure.id),
        title: procedure.title().to_owned(),
        kind: Kind::Plain,
        template: "pages/poster.html",
        banners: banners(frame, procedure),
        foot,
        context,
    })
}

/// The columns in their frame.
fn svg(name: &str, columns: &[Strip], picture: &str) -> String {
    let (width, height) = strips::size(columns);
    let svg =
        Tag::new("svg").with("class", "chart").with("xmlns", "http://www.w3.org/2000/svg").with("role", "group").with("aria-label", name);
    let svg = svg.with("width", width.to_string()).with("height", height.to_string()).with("viewBox", format!("0 0 {width} {height}"));
    svg.around(picture)
}

/// Every hazard that can be met, with what to do about it.
fn cautions(frame: &Frame<'_>, procedure: &Procedure) -> String {
    let line = |hazard: &crate::model::catalogue::Hazard| {
        let texts = [&hazard.consequence, &hazard.avoid].into_iter().flatten().map(|text| escape::text(text)).collect::<Vec<_>>();
        format!("<li>{} <strong>{}</strong> {}</li>\n", signal(frame, hazard), escape::text(hazard.title()), texts.join(" "))
    };
    met(frame.library, procedure).iter().map(|one| line(one.hazard)).collect()
}

/// A sheet of paper, upright or across, and the drawing on it in columns.
struct Paper {
    name: &'static str,
    across: bool,
    /// Of the drawing on it.
    scale: f64,
    strips: Vec<Strip>,
}

/// More columns than this are hard to follow (common practice, no source).
const MOST_COLUMNS: i32 = 5;
/// Pixels in a millimetre (CSS: 96 in an inch).
const MILLIMETRE: f64 = 96.0 / 25.4;
/// Short and long side in millimetres (ISO 216).
const PAPERS: [(&str, f64, f64); 2] = [("A4", 210.0, 297.0), ("A3", 297.0, 420.0)];
/// What margins take of each side, and what heading, cautions and legend take of the height (measured on the demo).
const MARGINS: f64 = 20.0;
const BESIDE: f64 = 85.0;
/// Words from this size on can be read at arm's length (common practice, no source).
const READABLE: f64 = 7.0;

impl Paper {
    /// The smaller sheet if its words can be read, else the bigger; columns and the way round as leave the drawing biggest, the fewest columns first.
    fn for_drawing(drawing: &Drawing) -> Self {
        let cut: Vec<Vec<Strip>> = (1..=MOST_COLUMNS).map(|count| strips::strips(drawing, count)).collect();
        let best = |(name, short, long): (&'static str, f64, f64)| {
            let mut best = Paper { name, across: false, scale: 0.0, strips: Vec::new() };
            for strips in &cut {
                for (across, wide, high) in [(false, short, long), (true, long, short)] {
                    let scale = fit(strips, wide, high);
                    // Another column must be worth its connectors.
                    if scale > best.scale * 1.1 {
                        best = Paper { name, across, scale, strips: strips.clone() };
                    }
                }
                if best.size() >= READABLE {
                    break;
                }
            }
            best
        };
        let [small, big] = PAPERS.map(best);
        if small.size() >= READABLE { small } else { big }
    }

    /// Of the words in points, of which 72 are an inch.
    fn size(&self) -> f64 {
        f64::from(TEXT) * self.scale * 72.0 / 96.0
    }

    fn points(&self) -> String {
        format!("{:.1}", self.size())
    }

    /// How much bigger to print it so that it can be read, in hundredths; whole sizes of paper are steps of the root of 2.
    fn scale_up(&self) -> String {
        let steps = [100, 141, 200, 283, 400];
        let enough = steps.into_iter().find(|step| self.size() * f64::from(*step) / 100.0 >= READABLE);
        enough.unwrap_or(400).to_string()
    }

    fn class(&self) -> String {
        format!("{}-{}", self.name.to_lowercase(), if self.across { "across" } else { "upright" })
    }
}

/// How big columns come out on a sheet, at most as they are.
fn fit(strips: &[Strip], wide: f64, high: f64) -> f64 {
    let (width, height) = strips::size(strips);
    let (wide, high) = ((wide - MARGINS) * MILLIMETRE, (high - MARGINS - BESIDE) * MILLIMETRE);
    (wide / f64::from(width.max(1))).min(high / f64::from(height.max(1))).min(1.0)
}
