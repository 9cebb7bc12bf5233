//! `picture-missing`: a picture file that is not there.

use crate::finding::rule::PICTURE_MISSING;
use crate::finding::{Finding, Findings};
use crate::model::procedure::Status;
use crate::rules::Context;
use crate::rules::pages::{Lead, Pages, stretches};
use crate::rules::wording::named;
use crate::rules::words::raw_html::is_refused;
use crate::text::place::Place;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let pages = Pages::of(context.library);
    for stretch in stretches(context.library) {
        for picture in &stretch.section.pictures {
            let there = match pages.lead(stretch.file, &picture.target) {
                Lead::Picture(_) => true,
                // The scheme is the finding.
                Lead::Elsewhere(scheme) => is_refused(&scheme),
                Lead::Page(..) | Lead::Unread | Lead::Nowhere => false,
            };
            if !there {
                findings.push(stretch.place(finding(&picture.target, picture.at)));
            }
        }
    }
    for procedure in context.library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn) {
        for step in &procedure.steps {
            let Some(picture) = &step.picture else { continue };
            if pages.picture_of(procedure, step).is_none() {
                findings.push(finding(picture, picture.at).procedure(&procedure.id).step(&step.id));
            }
        }
    }
}

fn finding(target: &str, at: Place) -> Finding {
    let message = format!("no picture of the library is at {}", named(target.trim()));
    let help = "put the file under `pictures/` and name it by its path from this file; pictures from elsewhere are not shown";
    Finding::new(&PICTURE_MISSING, at, message).subject(target).help(help)
}
