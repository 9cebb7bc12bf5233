//! Pages as bytes in memory: one file for each kind of page. Nothing is judged here, nothing is written to disk.

pub mod bench_sums;
mod by_model;
mod caution;
pub mod certificate;
mod changes;
mod chart_data;
pub mod chart_dot;
pub mod chart_svg;
pub mod comparison;
pub mod drawings;
mod escape;
mod find;
pub mod flow_data;
mod frame;
mod handbook;
mod hazards;
mod leaflet;
mod links;
mod markdown;
mod offline;
mod poster;
pub mod preview;
mod procedure;
mod readings;
mod review;
mod say;
mod search;
mod sign;
pub mod site;
mod stages;
mod start;
mod step;
mod ways;

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::analyse::gate::Cleared;
use crate::emit::review::Review;
use crate::model::library::Library;
use crate::render::drawings::Drawings;
use crate::render::frame::Frame;
use crate::theme;

const RECORD_SCHEMA: &str = "schemas/record.schema.json";

/// One file of a [site](site::each), the same bytes, without the others being made; all but the worker, which knows every other. `review` is asked for where it is shown.
pub fn file<'r>(
    cleared: &Cleared<Library>,
    today: Date,
    pictures: &BTreeMap<String, Vec<u8>>,
    known: &Drawings,
    path: &str,
    review: impl FnOnce() -> Review<'r>,
) -> Option<Vec<u8>> {
    if let Some(picture) = pictures.get(path) {
        return Some(picture.clone());
    }
    let frame = Frame::new(cleared, today, known);
    let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
    let (id, ending) = name.split_once('.')?;
    let procedure = || frame.library.procedures.iter().find(|procedure| procedure.id.as_str() == id);
    let html = match (folder, ending) {
        ("assets", _) => return frame.asset(path),
        ("procedures", "certificate.json") => return procedure().and_then(|procedure| certificate::one(frame.library, procedure)),
        ("procedures", "html") => procedure().map(|procedure| procedure::page(&frame, procedure).1),
        ("posters", "html") => procedure().filter(|procedure| !procedure.is_withdrawn()).map(|procedure| poster::page(&frame, procedure).1),
        ("review", "html") => review::one(&frame, &review(), path),
        ("rules", "html") => handbook::one(&frame, path),
        ("leaflets", "html") => {
            frame.library.leaflets.iter().find(|leaflet| leaflet.id.as_str() == id).map(|leaflet| leaflet::page(&frame, leaflet).1)
        }
        ("schemas", _) => return (path == RECORD_SCHEMA).then(|| theme::record_schema().into_bytes()),
        ("", "html") => single(&frame, id),
        ("", _) => {
            let feed = changes::feed(&frame).filter(|(there, _)| there == path && frame.is_for_use());
            return offline::description(frame.library).remove(path).or_else(|| feed.map(|(_, bytes)| bytes));
        }
        _ => None,
    };
    html.map(String::into_bytes)
}

/// Pages of which a site has at most one, by name. A page is its path and its text.
type Single = (&'static str, fn(&Frame<'_>) -> Option<(String, String)>);

const SINGLE: [Single; 7] = [
    ("index", |frame| Some(start::page(frame))),
    ("stop", |frame| frame.library.stop_card.as_ref().map(|card| leaflet::stop(frame, card))),
    ("bench-sums", |frame| Some(bench_sums::page(frame))),
    ("rulers", bench_sums::ruler::page),
    ("find", |frame| Some(find::page(frame))),
    ("changes", |frame| Some(changes::page(frame))),
    ("stages", stages::page),
];

fn single(frame: &Frame<'_>, name: &str) -> Option<String> {
    let (_, page) = SINGLE.iter().find(|(known, _)| *known == name)?;
    page(frame).map(|(_, html)| html)
}

/// The review pages alone, with their assets. They show libraries with errors, too: there is no procedure in them that could be followed.
pub fn review(review: &Review<'_>) -> BTreeMap<String, Vec<u8>> {
    review::alone(review, &Drawings::default())
}
