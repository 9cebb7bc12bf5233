//! TEMPORARY: one plain page, until the real pages take its place on merge.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::analyse::gate::Cleared;
use crate::model::library::Library;

/// The files of the site, by path.
pub fn site(cleared: &Cleared<Library>, _today: Date) -> BTreeMap<String, Vec<u8>> {
    let titles: Vec<&str> = cleared.library().procedures.iter().map(|procedure| procedure.title()).collect();
    let page = format!("<!doctype html>\n<title>Procedures</title>\n<pre>{}</pre>\n", titles.join("\n").replace('<', "&lt;"));
    BTreeMap::from([("index.html".to_owned(), page.into_bytes())])
}
