//! The signs beside a step: the cautions shown there, and the hazards met there. Two shapes, each with its words; colour only adds.

use crate::chart::drawing::Rect;
use crate::chart::text;
use crate::model::catalogue::SignalWord;
use crate::model::library::Library;
use crate::model::step::Step;
use crate::render::chart_svg::mark::Tag;
use crate::render::chart_svg::{SMALL, SMALL_LINE, lines, widest};
use crate::text::id::Id;

/// The widest line of a sign, in pixels.
const ROOM: i32 = 150;
const PADDING: i32 = 6;
const POINT: i32 = 8;
/// Between two signs.
const SPACE: i32 = 4;

/// One sign: of one caution, or of all that a step exposes to.
#[derive(Clone, Debug)]
pub struct Sign {
    pub hazards: Vec<Id>,
    /// The caution's signal word (`None`: the catalogue gives none); an exposure has no caution.
    pub kind: SignKind,
    pub words: String,
    pub lines: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SignKind {
    Caution(Option<SignalWord>),
    Exposed,
}

impl Sign {
    fn new(hazards: Vec<Id>, kind: SignKind, words: &str) -> Self {
        Self { hazards, kind, words: words.to_owned(), lines: text::wrap_evenly(words, SMALL, |_| ROOM) }
    }

    fn width(&self) -> i32 {
        widest(&self.lines, SMALL) + 2 * PADDING + POINT
    }

    fn height(&self) -> i32 {
        SMALL_LINE * i32::try_from(self.lines.len()).unwrap_or(0) + 4
    }
}

pub fn class(kind: SignKind) -> &'static str {
    match kind {
        SignKind::Exposed => "chart__sign chart__sign--exposed",
        SignKind::Caution(None) => "chart__sign chart__sign--unknown",
        SignKind::Caution(Some(SignalWord::Danger)) => "chart__sign chart__sign--danger",
        SignKind::Caution(Some(SignalWord::Warning)) => "chart__sign chart__sign--warning",
        SignKind::Caution(Some(SignalWord::Caution)) => "chart__sign chart__sign--caution",
        SignKind::Caution(Some(SignalWord::Notice)) => "chart__sign chart__sign--notice",
    }
}

/// The signs of a step, for the hazards that are wanted: cautions by signal word, then in one sign all that it exposes to, in the order of the file.
pub fn signs(library: &Library, step: &Step, wanted: impl Fn(&Id) -> bool) -> Vec<Sign> {
    let name = |id: &Id| library.catalogue.hazard(id).map_or_else(|| id.to_string(), |hazard| hazard.title().to_owned());
    let signal = |id: &Id| library.catalogue.hazard(id).and_then(crate::model::catalogue::Hazard::signal);
    let cautions = step.cautions.iter().map(|id| &id.value).filter(|id| wanted(id));
    let mut cautions: Vec<(Option<SignalWord>, &Id)> = cautions.map(|id| (signal(id), id)).collect();
    cautions.sort_by_key(|(signal, _)| signal.map_or(4, |signal| signal as usize));
    let shown = cautions.into_iter().map(|(signal, id)| {
        let word = signal.map_or("CAUTION".to_owned(), |signal| signal.as_str().to_uppercase());
        Sign::new(vec![id.clone()], SignKind::Caution(signal), &format!("{word}: {}", name(id)))
    });
    let met: Vec<Id> = library.catalogue.exposed(step).into_iter().map(|hazard| hazard.id.clone()).filter(|id| wanted(id)).collect();
    let names = met.iter().map(name).collect::<Vec<_>>().join("; ");
    let met = (!met.is_empty()).then(|| Sign::new(met, SignKind::Exposed, &format!("exposed: {names}")));
    shown.chain(met).collect()
}

/// Width and height of all signs together.
pub fn size(signs: &[Sign]) -> (i32, i32) {
    let width = signs.iter().map(Sign::width).max().unwrap_or(0);
    let height: i32 = signs.iter().map(|sign| sign.height() + SPACE).sum();
    (width, (height - SPACE).max(0))
}

/// Draws the signs one under the other, in the middle of the height of `area`.
pub fn draw(signs: &[Sign], x: i32, area: Rect) -> String {
    let mut y = area.y + (area.height - size(signs).1) / 2;
    let mut svg = String::new();
    for sign in signs {
        let ground = Rect { x, y, width: sign.width(), height: sign.height() };
        let shape = match sign.kind {
            // Pointing at the step it is shown at.
            SignKind::Caution(_) => pointed(ground),
            SignKind::Exposed => crate::render::chart_svg::symbol::rect("chart__sign-ground", ground, 0),
        };
        let axis = x + POINT + PADDING + widest(&sign.lines, SMALL) / 2 - if sign.kind == SignKind::Exposed { POINT / 2 } else { 0 };
        let words = lines("chart__sign-text", &sign.lines, axis, y + 2, SMALL, SMALL_LINE);
        let group = Tag::new("g").with("role", "img").with("aria-label", &sign.words);
        let hazards = sign.hazards.iter().map(Id::as_str).collect::<Vec<_>>().join(" ");
        let group = group.with("data-sign", &hazards).with("class", class(sign.kind));
        svg.push_str(&group.around(&format!("{shape}{words}")));
        y += sign.height() + SPACE;
    }
    svg
}

/// A sign that points at what it stands beside.
pub fn pointed(area: Rect) -> String {
    let (left, right, top, bottom) = (area.x, area.x + area.width, area.y, area.y + area.height);
    let middle = area.y + area.height / 2;
    let points = format!("{left},{middle} {x},{top} {right},{top} {right},{bottom} {x},{bottom}", x = left + POINT);
    Tag::new("polygon").with("class", "chart__sign-ground").with("points", points).empty()
}
