//! `heading-order`: a heading that skips a level.

use std::collections::BTreeMap;

use crate::finding::rule::HEADING_ORDER;
use crate::finding::{Finding, Findings};
use crate::model::body::Heading;
use crate::rules::Context;
use crate::rules::pages::{Stretch, stretches};
use crate::rules::wording::named;
use crate::text::place::FileId;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut files: BTreeMap<FileId, BTreeMap<u32, (Stretch<'_>, &Heading)>> = BTreeMap::new();
    for stretch in stretches(context.library) {
        let headings = files.entry(stretch.file).or_default();
        // By place: a heading in a footnote belongs to every section that refers to it.
        for heading in &stretch.section.headings {
            headings.entry(heading.at.start).or_insert((stretch, heading));
        }
    }
    for headings in files.values() {
        // The title of the page stands above them all.
        let mut before = 1;
        for (stretch, heading) in headings.values() {
            if heading.level > before + 1 {
                findings.push(stretch.place(finding(heading, before)));
            }
            before = heading.level;
        }
    }
}

fn finding(heading: &Heading, before: u8) -> Finding {
    let message = format!("a heading of level {} comes after one of level {before}", heading.level);
    let above = if before == 1 {
        "the title is level 1".to_owned()
    } else {
        format!("begin it with {}", named("#".repeat(usize::from(before) + 1)))
    };
    let help = format!("write it one level below the heading it belongs to; {above}");
    Finding::new(&HEADING_ORDER, heading.at, message).subject(heading.text.as_str()).help(help)
}
