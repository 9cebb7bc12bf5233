//! The embedded theme: page templates, styles, scripts and words, by name. It knows files, not procedures.

pub mod join;
pub mod strip;
pub mod words;

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
    /// Leaflets, the stop card, withdrawn procedures.
    Plain,
}

impl Kind {
    pub const ALL: [Kind; 3] = [Kind::Start, Kind::Procedure, Kind::Plain];

    pub fn as_str(self) -> &'static str {
        match self {
            Kind::Start => "start",
            Kind::Procedure => "procedure",
            Kind::Plain => "plain",
        }
    }
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

/// The classic script of a kind of page, without its comments; that of a procedure's page stands beside the one of every page.
///
/// # Errors
/// A module that imports what is not there, or in a circle. The embedded scripts have neither; a test holds it.
pub fn script(kind: Kind) -> Result<String, join::Fault> {
    match kind {
        Kind::Procedure => joined(PROCEDURE, &[EVERY]),
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

fn joined(entry: &str, before: &[&str]) -> Result<String, join::Fault> {
    join::classic(&files("js"), entry, before).map(|script| strip::comments(&script))
}

/// The worker that keeps a site on the device, with `{edition}` and `{files}` to be filled in.
pub fn worker() -> String {
    strip::comments(&text("worker/offline.js"))
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
