//! Rulers at true scale: a millimetre of the drawing is a millimetre on paper that was printed at 100 %.

use tera::Context;

use crate::render::bench_sums::{Rolling, rolling};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::theme::Kind;

/// As long as fits between the margins of A4 and Letter, in millimetres.
const LENGTH: u32 = 180;
/// A roller's row.
const ROW: f64 = 10.0;
/// The bar that a sheet is checked by.
const BAR: f64 = 150.0;
/// On a sheet printed at 97 % a line drawn this far out stands where the bar should end.
const SHRUNK: f64 = BAR / 0.97;
/// The length of a bank card, ISO/IEC 7810 ID-1, in millimetres.
const CARD: f64 = 85.60;

/// One page for all models, each model on a sheet of paper of its own. None without rollers.
pub fn page(frame: &Frame<'_>) -> Option<(String, String)> {
    let models = rolling(frame);
    if models.is_empty() {
        return None;
    }
    let sheets: String = models.iter().map(|model| sheet(frame, model)).collect();
    let mut context = Context::new();
    context.insert_value("sheets", escape::safe(&sheets));
    let title = frame.say("rulers", "title").to_owned();
    let (path, foot) = ("rulers.html".to_owned(), title.clone());
    Some(frame.set(Sheet { path, title, kind: Kind::Plain, template: "pages/rulers.html", banners: Vec::new(), foot, context }))
}

fn sheet(frame: &Frame<'_>, model: &Rolling) -> String {
    let name = escape::text(&model.name);
    format!(
        "<section class=\"leaf ruler-sheet\">\n<h2 class=\"leaf__name\">{name}</h2>\n<p>{}</p>\n{}<p>{}</p>\n{}</section>\n",
        frame.word("rulers", "check"),
        window(&frame.word("rulers", "check-name"), &check(frame)),
        frame.word("rulers", "use"),
        window(&name, &svg(frame, model, None))
    )
}

/// A drawing that keeps its millimetres scrolls in a frame of its own.
pub fn window(name: &str, drawing: &str) -> String {
    format!("<div class=\"chart-scroll ruler-frame\" tabindex=\"0\" role=\"group\" aria-label=\"{name}\">{drawing}</div>\n")
}

fn text(class: &str, x: f64, y: f64, words: &str) -> String {
    format!("<text class=\"ruler__text{class}\" x=\"{x:.2}\" y=\"{y:.2}\">{}</text>", escape::text(words))
}

fn open(height: f64, name: &str) -> String {
    format!(
        "<svg class=\"ruler\" viewBox=\"0 0 {LENGTH} {height}\" width=\"{LENGTH}mm\" height=\"{height}mm\" role=\"img\" aria-label=\"{}\">",
        escape::text(name)
    )
}

/// The bar, and another as long as a bank card.
fn check(frame: &Frame<'_>) -> String {
    let (left, right, shrunk) = (5.0, 5.0 + BAR, 5.0 + SHRUNK);
    let card = left + CARD;
    let mut out = open(36.0, frame.say("rulers", "check-name"));
    out.push_str(&format!("<path class=\"ruler__line\" d=\"M{left} 4V12M{right} 4V12M{left} 8H{right}\"/><path class=\"ruler__fine\" d=\"M{shrunk:.2} 4V12\"/>"));
    out.push_str(&text(" ruler__text--middle", left, 16.0, "0"));
    out.push_str(&text(" ruler__text--middle", right, 16.0, "150"));
    out.push_str(&text("", shrunk + 1.0, 9.0, "97 %"));
    out.push_str(&format!("<path class=\"ruler__line\" d=\"M{left} 22V34M{card} 22V34M{left} 28H{card}\"/>"));
    out.push_str(&text("", left + 3.0, 26.5, frame.say("rulers", "card")));
    out + "</svg>"
}

/// Millimetres, and a row for each roller with its distances from nought; across them the steps of a reading.
pub fn svg(frame: &Frame<'_>, model: &Rolling, reading: Option<f64>) -> String {
    let mut rollers: Vec<_> = model.rollers.iter().collect();
    rollers.sort_by(|a, b| a.distance.total_cmp(&b.distance));
    let height = 14.0 + ROW * rollers.iter().fold(0.0, |count, _| count + 1.0);
    let mut out = open(height, &frame.words.fill("rulers", "ruler-of", &[("model", &model.name)]));
    for millimetre in 0..=LENGTH - 4 {
        let (x, long) = (
            f64::from(millimetre) + 2.0,
            if millimetre % 10 == 0 {
                6.0
            } else if millimetre % 5 == 0 {
                4.5
            } else {
                3.0
            },
        );
        out.push_str(&format!("<path class=\"ruler__fine\" d=\"M{x} 0V{long}\"/>"));
        if millimetre % 10 == 0 {
            out.push_str(&text(
                if millimetre == 0 { "" } else { " ruler__text--middle" },
                if millimetre == 0 { 1.0 } else { x },
                9.5,
                &millimetre.to_string(),
            ));
        }
    }
    let mut y = 14.0;
    for roller in rollers {
        out.push_str(&format!(
            "<path class=\"ruler__fine\" d=\"M2 {}H{}\"/><path class=\"ruler__line\" d=\"M2 {}V{}\"/>",
            y + 7.0,
            LENGTH - 2,
            y + 2.0,
            y + 7.0
        ));
        out.push_str(&text("", 3.5, y + 5.5, &roller.name));
        let mut x = roller.distance;
        while x <= f64::from(LENGTH) - 4.0 {
            out.push_str(&format!("<path class=\"ruler__line\" d=\"M{:.2} {}V{}\"/>", x + 2.0, y + 2.0, y + 7.0));
            out.push_str(&text(" ruler__text--end", x + 1.0, y + 5.5, &format!("{x:.1}")));
            x += roller.distance;
        }
        y += ROW;
    }
    out.push_str(&reading.map(|step| format!("<path class=\"ruler__reading\" d=\"{}\"/>", steps(step, height))).unwrap_or_default());
    out + "</svg>"
}

/// A line for each step of a reading (`parts/sums/sums.js` draws the same).
fn steps(step: f64, height: f64) -> String {
    let lines = (1..).map(|n| f64::from(n) * step).take_while(|x| *x <= f64::from(LENGTH) - 4.0);
    lines.map(|x| format!("M{:.2} 10V{height}", x + 2.0)).collect()
}
