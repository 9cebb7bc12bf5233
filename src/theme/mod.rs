//! The embedded theme: page templates, styles, scripts and words, by name. It knows files, not procedures.

pub mod join;
pub mod strip;
pub mod words;

use std::collections::BTreeMap;

use include_dir::{Dir, File, include_dir};
use tera::Tera;

use crate::theme::words::Words;

static BENCH: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/themes/bench");

/// Which script a page carries beside the one of every page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// The start page.
    Start,
    /// A procedure that can be followed.
    Procedure,
    /// The bench sums.
    Sums,
    /// Leaflets, the stop card, withdrawn procedures.
    Plain,
}

impl Kind {
    pub const ALL: [Kind; 4] = [Kind::Start, Kind::Procedure, Kind::Sums, Kind::Plain];

    pub fn as_str(self) -> &'static str {
        match self {
            Kind::Start => "start",
            Kind::Procedure => "procedure",
            Kind::Sums => "bench-sums",
            Kind::Plain => "plain",
        }
    }
}

/// The style of a drawing that stands alone, for any program that shows SVG: the rules of the chart for one class each, with the colours of the light
/// scheme in place of their names.
pub fn drawing_style() -> String {
    let tokens = text("style/tokens.css");
    let light = tokens.split("@media").next().unwrap_or_default();
    let values: BTreeMap<&str, &str> = light
        .lines()
        .filter_map(|line| line.trim().strip_prefix("--")?.split_once(':'))
        .filter_map(|(name, value)| Some((name, value.split(';').next()?.trim())))
        .collect();
    let chart = text("parts/chart/chart.css");
    let plain = chart.split("/* On pages only").next().unwrap_or_default();
    plain.split("*/").last().unwrap_or_default().trim_start().lines().map(|line| named(line, &values) + "\n").collect()
}

/// A line with the values of the tokens it names.
fn named(line: &str, values: &BTreeMap<&str, &str>) -> String {
    let mut pieces = line.split("var(--");
    let mut out = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (name, rest) = piece.split_once(')').unwrap_or((piece, ""));
        out.push_str(values.get(name.split(',').next().unwrap_or(name)).copied().unwrap_or("inherit"));
        out.push_str(rest);
    }
    out
}

/// The one style sheet: tokens, base, every part by name, print.
pub fn style() -> String {
    let parts = files("css").into_iter().filter(|(path, _)| path.starts_with("parts/"));
    let first = ["style/tokens.css", "style/base.css"].map(|path| (path.to_owned(), text(path)));
    let last = [("style/print.css".to_owned(), text("style/print.css"))];
    first.into_iter().chain(parts).chain(last).map(|(_, css)| css.trim_end().to_owned() + "\n").collect::<Vec<_>>().join("\n")
}

/// The style of the page of a comparison, which stands alone: tokens, base and its own.
pub fn comparison_style() -> String {
    ["style/tokens.css", "style/base.css", "sheets/comparison.css"].map(text).join("\n")
}

/// The script that every page runs, and runs first.
const EVERY: &str = "script/site.js";
const PROCEDURE: &str = "script/start.js";
const CHART: &str = "script/chart.js";

/// The classic script of a kind of page, without its comments; that of a procedure's page stands beside the one of every page.
///
/// # Errors
/// A module that imports what is not there, or in a circle. The embedded scripts have neither; a test holds it.
pub fn script(kind: Kind) -> Result<String, join::Fault> {
    match kind {
        Kind::Procedure => joined(PROCEDURE, &[EVERY]),
        Kind::Sums => joined("parts/sums/sums.js", &[EVERY]),
        Kind::Start | Kind::Plain => joined(EVERY, &[]),
    }
}

/// The script that hands runs over and opens them: fetched only when somebody does.
///
/// # Errors
/// As for [`script`].
pub fn hand_over_script() -> Result<String, join::Fault> {
    joined("script/hand-over.js", &[EVERY, PROCEDURE])
}

/// The script of the flowchart: fetched when the flowchart comes near.
///
/// # Errors
/// As for [`script`].
pub fn chart_script() -> Result<String, join::Fault> {
    joined(CHART, &[EVERY, PROCEDURE])
}

/// The script that finds: fetched when somebody comes to the field.
///
/// # Errors
/// As for [`script`].
pub fn search_script() -> Result<String, join::Fault> {
    joined("parts/search/search.js", &[EVERY])
}

fn joined(entry: &str, before: &[&str]) -> Result<String, join::Fault> {
    join::classic(&files("js"), entry, before).map(|script| strip::short(&script))
}

/// The worker that keeps a site on the device, with `{edition}` and `{files}` to be filled in.
pub fn worker() -> String {
    strip::short(&text("worker/offline.js"))
}

/// What the preview adds to a page: its style sheet and its script.
pub fn preview_assets() -> [(&'static str, String); 2] {
    [("page.css", text("preview/page.css")), ("page.js", strip::short(&text("preview/page.js")))]
}

/// The JSON Schema of a run's service record.
pub fn record_schema() -> String {
    text("schema/record.schema.json")
}

/// The site's own picture, for the device's list of programs.
pub fn icon() -> String {
    text("worker/icon.svg")
}

/// All page and part templates, checked against each other.
///
/// # Errors
/// A template that does not parse. The embedded ones do; a test holds it.
pub fn templates() -> Result<Tera, tera::Error> {
    let mut tera = Tera::new();
    tera.add_raw_templates(files("html"))?;
    Ok(tera)
}

/// The words of the interface.
///
/// # Errors
/// If the embedded file is not a map of maps of texts; a test holds that it is.
pub fn words() -> Result<Words, words::Fault> {
    Words::parse(&text("words/en.yaml"))
}

fn text(path: &str) -> String {
    BENCH.get_file(path).and_then(File::contents_utf8).unwrap_or_default().to_owned()
}

/// Every embedded file with this ending, by path in the order of paths.
fn files(ending: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    collect(&BENCH, ending, &mut found);
    found.sort();
    found
}

fn collect(dir: &Dir<'_>, ending: &str, found: &mut Vec<(String, String)>) {
    for file in dir.files() {
        let path = file.path().to_string_lossy().replace('\\', "/");
        if path.rsplit_once('.').is_some_and(|(_, end)| end == ending) {
            found.push((path, file.contents_utf8().unwrap_or_default().to_owned()));
        }
    }
    for below in dir.dirs() {
        collect(below, ending, found);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_files_are_sound() {
        assert!(style().contains("--paper:"));
        for kind in Kind::ALL {
            assert_eq!(script(kind).map(|_| ()), Ok(()));
        }
        assert!(templates().is_ok(), "{:?}", templates().err());
        assert!(words().is_ok(), "{:?}", words().err());
    }
}
