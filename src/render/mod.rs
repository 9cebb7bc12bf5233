//! Pages as bytes in memory: one file for each kind of page. Nothing is judged here, nothing is written to disk.

mod caution;
pub mod chart_svg;
mod escape;
pub mod flow_data;
mod frame;
mod hazards;
mod leaflet;
mod links;
mod markdown;
mod offline;
mod procedure;
mod readings;
mod say;
mod sign;
mod start;
mod step;
mod ways;

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::analyse::gate::Cleared;
use crate::model::library::Library;
use crate::render::frame::Frame;
use crate::theme;

/// Every page and asset of a site by its path, pictures excepted (see [`pictures`]). Only a library that passed the gate has pages.
pub fn site(cleared: &Cleared<Library>, today: Date) -> BTreeMap<String, Vec<u8>> {
    let frame = Frame::new(cleared, today);
    let mut files = frame.assets();
    let mut pages = vec![start::page(&frame)];
    pages.extend(frame.library.stop_card.as_ref().map(|card| leaflet::stop(&frame, card)));
    pages.extend(frame.library.leaflets.iter().map(|leaflet| leaflet::page(&frame, leaflet)));
    pages.extend(frame.library.procedures.iter().map(|procedure| procedure::page(&frame, procedure)));
    files.extend(pages.into_iter().map(|(path, html)| (path, html.into_bytes())));
    files.insert("schemas/record.schema.json".to_owned(), theme::record_schema().into_bytes());
    let offline = offline::files(frame.library, &files);
    files.extend(offline);
    files
}

/// Paths of the pictures that belong to the site, relative to the library; each goes to the same path in the site.
pub fn pictures(cleared: &Cleared<Library>) -> Vec<String> {
    cleared.library().pictures.iter().cloned().collect()
}
