//! Pages as bytes in memory: one file for each kind of page. Nothing is judged here, nothing is written to disk.

mod caution;
pub mod certificate;
pub mod chart_svg;
pub mod comparison;
mod escape;
pub mod flow_data;
mod frame;
mod handbook;
mod hazards;
mod leaflet;
mod links;
mod markdown;
mod offline;
mod procedure;
mod readings;
mod review;
mod say;
mod sign;
mod start;
mod step;
mod ways;

use std::collections::BTreeMap;

use crate::analyse::gate::Cleared;
use crate::emit::review::Review;
use crate::model::library::Library;
use crate::render::frame::Frame;
use crate::theme;

/// Every page, asset and picture of a site by its path; pictures, handed in as they are, keep theirs. Only a library that passed the gate has pages.
/// `review` is the review of the same library; its pages are part of the site.
pub fn site(cleared: &Cleared<Library>, review: &Review<'_>, pictures: BTreeMap<String, Vec<u8>>) -> BTreeMap<String, Vec<u8>> {
    let frame = Frame::new(cleared, review.today);
    let mut files = frame.assets();
    files.extend(pictures);
    let mut pages = vec![start::page(&frame)];
    pages.extend(frame.library.stop_card.as_ref().map(|card| leaflet::stop(&frame, card)));
    pages.extend(frame.library.leaflets.iter().map(|leaflet| leaflet::page(&frame, leaflet)));
    pages.extend(frame.library.procedures.iter().map(|procedure| procedure::page(&frame, procedure)));
    pages.extend(handbook::pages(&frame));
    pages.extend(review::beside_procedures(&frame, review));
    files.extend(pages.into_iter().map(|(path, html)| (path, html.into_bytes())));
    files.extend(certificate::all(frame.library));
    files.insert("schemas/record.schema.json".to_owned(), theme::record_schema().into_bytes());
    let offline = offline::files(frame.library, &files);
    files.extend(offline);
    files
}

/// The review pages alone, with their assets. They show libraries with errors, too: there is no procedure in them that could be followed.
pub fn review(review: &Review<'_>) -> BTreeMap<String, Vec<u8>> {
    review::alone(review)
}
