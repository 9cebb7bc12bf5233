//! `picture-without-words`: a picture without alternative text.

use crate::finding::rule::PICTURE_WITHOUT_WORDS;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::pages::stretches;
use crate::rules::wording::named;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for stretch in stretches(context.library) {
        for picture in stretch.section.pictures.iter().filter(|picture| picture.words.trim().is_empty()) {
            let message = format!("the picture {} has no alternative text", named(&picture.target));
            let finding = Finding::new(&PICTURE_WITHOUT_WORDS, picture.at, message).subject(picture.target.as_str());
            findings.push(stretch.place(finding).help("say between the square brackets what the picture shows"));
        }
    }
}
