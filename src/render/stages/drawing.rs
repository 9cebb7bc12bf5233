//! Drawings of the stages: bars in time, the drum with its stations, and the sheet of a machine with a dead stage.

use std::f64::consts::PI;

use crate::render::frame::Frame;
use crate::render::stages::stage_words;
use crate::trade::charge::{Dead, STATIONS, Sheet, Tone};

/// A row of the drawing in time, and the width of its words.
const ROW: f64 = 26.0;
const WORDS: f64 = 92.0;
const WIDTH: f64 = 380.0;

/// A bar for each stage, from when to when it works on one sheet.
pub fn time(frame: &Frame<'_>, times: &[(Dead, f64, f64)]) -> String {
    let first = times.iter().map(|(_, from, _)| *from).fold(f64::INFINITY, f64::min);
    let last = times.iter().map(|(_, _, to)| *to).fold(f64::NEG_INFINITY, f64::max);
    let x = |seconds: f64| WORDS + (seconds - first) / (last - first) * (WIDTH - WORDS - 8.0);
    let height = ROW * times.iter().fold(1.0, |rows, _| rows + 1.0);
    let mut out =
        format!("<svg class=\"time\" viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" aria-label=\"{}\">", frame.word("stages", "time-name"));
    // Nought without a sign.
    let mut second = first.ceil() + 0.0;
    while second <= last {
        let at = x(second);
        out.push_str(&format!("<path class=\"time__rule\" d=\"M{at:.1} 0V{}\"/><text class=\"time__text time__text--middle\" x=\"{at:.1}\" y=\"{}\">{second} s</text>", height - ROW, height - 8.0));
        second += 1.0;
    }
    let mut y = 0.0;
    for (stage, from, to) in times {
        let (from, to) = (x(*from), x(*to));
        out.push_str(&format!(
            "<text class=\"time__text\" x=\"0\" y=\"{}\">{}</text><rect class=\"time__bar\" x=\"{from:.1}\" y=\"{}\" width=\"{:.1}\" height=\"{}\"/>",
            y + 17.0,
            stage_words(frame, *stage),
            y + 5.0,
            to - from,
            ROW - 10.0
        ));
        y += ROW;
    }
    out + "</svg>"
}

/// The drum seen from its end, with its stations in the sense of its turn, and the sheet that passes under it to the fuser.
pub fn turn(frame: &Frame<'_>) -> String {
    let (cx, cy, radius) = (190.0, 122.0, 78.0);
    let mut out = format!("<svg class=\"turn\" viewBox=\"0 0 380 290\" role=\"img\" aria-label=\"{}\">", frame.word("stages", "turn-name"));
    // The station of transfer stands lowest, where the sheet passes.
    let lowest = STATIONS.iter().find(|(stage, _)| *stage == Dead::Transferring).map_or(0.0, |(_, degrees)| *degrees);
    let place = |degrees: f64, from: f64| {
        let angle = (degrees - lowest) / 180.0 * PI + PI / 2.0;
        (cx + from * angle.cos(), cy + from * angle.sin())
    };
    out.push_str(&format!("<circle class=\"turn__drum\" cx=\"{cx}\" cy=\"{cy}\" r=\"{radius}\"/>"));
    let (ax, ay) = place(lowest + 165.0, 50.0);
    let (bx, by) = place(lowest + 285.0, 50.0);
    out.push_str(&format!("<path class=\"turn__arrow\" d=\"M{ax:.1} {ay:.1}A50 50 0 0 1 {bx:.1} {by:.1}\"/>"));
    let (tx, ty) = place(lowest + 296.0, 50.0);
    let (lx, ly) = place(lowest + 283.0, 57.0);
    let (rx, ry) = place(lowest + 283.0, 43.0);
    out.push_str(&format!("<path class=\"turn__head\" d=\"M{tx:.1} {ty:.1}L{lx:.1} {ly:.1}L{rx:.1} {ry:.1}Z\"/>"));
    out.push_str(&format!(
        "<text class=\"time__text time__text--middle\" x=\"{cx}\" y=\"{}\">{}</text>",
        cy + 5.0,
        frame.word("stages", "drum")
    ));
    for (stage, degrees) in STATIONS {
        let ((x, y), (wx, wy)) = (place(degrees, radius), place(degrees, radius + 22.0));
        let below = stage == Dead::Transferring;
        let side = if below || (wx - cx).abs() < 12.0 {
            " time__text--middle"
        } else if wx < cx {
            " time__text--end"
        } else {
            ""
        };
        let (wx, wy) = if below { (wx, cy + radius + 44.0) } else { (wx, wy + 5.0) };
        out.push_str(&format!("<circle class=\"turn__station\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"8\"/><text class=\"time__text{side}\" x=\"{wx:.1}\" y=\"{wy:.1}\">{}</text>", stage_words(frame, stage)));
    }
    // The drum turns with the clock, so its lowest point, and the sheet, move to the left.
    let paper = cy + radius + 12.0;
    let fuser = 42.0;
    out.push_str(&format!(
        "<path class=\"turn__sheet\" d=\"M372 {paper}H20\"/><path class=\"turn__head\" d=\"M4 {paper}l16 -7v14z\"/>\
         <circle class=\"turn__roller\" cx=\"{fuser}\" cy=\"{}\" r=\"20\"/><circle class=\"turn__roller\" cx=\"{fuser}\" cy=\"{}\" r=\"20\"/>\
         <text class=\"time__text time__text--middle\" x=\"{fuser}\" y=\"{}\">{}</text><text class=\"time__text time__text--end\" x=\"372\" y=\"{}\">{}</text></svg>",
        paper - 22.0,
        paper + 22.0,
        paper + 62.0,
        stage_words(frame, Dead::Fusing),
        paper - 8.0,
        frame.word("stages", "paper")
    ));
    out
}

/// A small sheet: its ground, and three lines of words with a picture.
pub fn sheet(sheet: &Sheet) -> String {
    let mut out = format!(
        "<svg class=\"sheet-of\" viewBox=\"0 0 60 84\" aria-hidden=\"true\"><rect class=\"sheet-of__paper\" x=\"1\" y=\"1\" width=\"58\" height=\"82\"/>\
         <rect class=\"sheet-of__tone sheet-of__tone--{}\" x=\"3\" y=\"3\" width=\"54\" height=\"78\"/>",
        sheet.background.as_str()
    );
    let lines = "M10 14h28v3H10zM10 21h40v3H10zM10 28h34v3H10zM10 36h18v14H10z";
    if !(sheet.background == Tone::Full && sheet.image == Tone::Full) {
        out.push_str(&format!("<path class=\"sheet-of__tone sheet-of__tone--{}\" d=\"{lines}\"/>", sheet.image.as_str()));
    }
    if sheet.ghost {
        out.push_str(&format!("<path class=\"sheet-of__tone sheet-of__tone--pale\" transform=\"translate(0 34)\" d=\"{lines}\"/>"));
    }
    if sheet.rubs_off {
        out.push_str("<path class=\"sheet-of__tone sheet-of__tone--pale\" d=\"M14 30 30 26 54 52 52 62 40 58Z\"/>");
    }
    if sheet.wrong_content {
        out.push_str("<path class=\"sheet-of__cut\" d=\"M3 27h54v54H3z\"/>");
    }
    out + "</svg>"
}
