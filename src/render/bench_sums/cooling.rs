//! The curve of a cooling fuser, as it stands in the page for the example; the script draws the same (`parts/sums/cooling.js`).

use std::collections::BTreeMap;

use crate::render::frame::Frame;

/// The plot: left, right, top and bottom edge; temperatures from 0 to [`HOTTEST`].
const LEFT: f64 = 44.0;
const RIGHT: f64 = 350.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 168.0;
const HOTTEST: f64 = 250.0;
/// Points of the curve.
const POINTS: u32 = 48;

pub fn svg(frame: &Frame<'_>, values: &BTreeMap<&str, f64>) -> String {
    let of = |name: &str| values.get(name).copied().unwrap_or(0.0);
    let (hot, room, safe, tau) = (of("hot"), of("room"), of("safe"), of("tau"));
    let wait = tau * ((hot - room) / (safe - room)).ln();
    let longest = (wait * 1.5).max(1.0);
    let x = |minutes: f64| LEFT + minutes / longest * (RIGHT - LEFT);
    let y = |degrees: f64| BOTTOM - degrees / HOTTEST * (BOTTOM - TOP);
    let point = |n: u32| {
        let minutes = longest * f64::from(n) / f64::from(POINTS);
        format!("{:.1},{:.1}", x(minutes), y(room + (hot - room) * (-minutes / tau).exp()))
    };
    let curve: Vec<String> = (0..=POINTS).map(point).collect();
    let mut out = format!(
        "<svg viewBox=\"0 0 360 200\" role=\"img\" aria-label=\"{}\"><path class=\"curve__axis\" d=\"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}\"/>",
        frame.word("sums", "curve")
    );
    for degrees in [0.0, 50.0, 100.0, 150.0, 200.0, 250.0] {
        let (at, text) = (y(degrees), y(degrees) + 4.0);
        out.push_str(&format!("<path class=\"curve__tick\" d=\"M{} {at:.1}H{LEFT}\"/><text class=\"curve__text curve__text--end\" x=\"{}\" y=\"{text:.1}\">{degrees}</text>", LEFT - 4.0, LEFT - 7.0));
    }
    let (safe_y, wait_x) = (y(safe), x(wait));
    out.push_str(&format!(
        "<text class=\"curve__text\" x=\"{}\" y=\"16\">°C</text><text class=\"curve__text curve__text--end\" x=\"{RIGHT}\" y=\"184\">min</text>\
         <path class=\"curve__limit\" d=\"M{LEFT} {safe_y:.1}H{RIGHT}\"/><path class=\"curve__limit\" d=\"M{wait_x:.1} {TOP}V{BOTTOM}\"/>\
         <polyline class=\"curve__line\" points=\"{}\"/><text class=\"curve__text curve__text--mark\" x=\"{wait_x:.1}\" y=\"184\">{wait:.1}</text></svg>",
        LEFT + 12.0,
        curve.join(" ")
    ));
    out
}
