//! The words of a Markdown file, cut at its level-2 sections.

use crate::text::id::Id;
use crate::text::passage::Passage;
use crate::text::place::{At, FileId, Place};

/// The Markdown under the front matter.
#[derive(Clone, Debug, Default)]
pub struct Body {
    pub file: FileId,
    /// Byte offset of the body in its file.
    pub start: u32,
    /// The Markdown as written, from `start` to the end of the file.
    pub markdown: String,
    /// What stands before the first section. Always present, perhaps empty.
    pub introduction: Section,
    /// Level-2 sections whose heading carries an id, in file order. Text under a level-2 heading without an id belongs to the section before it
    /// (or to the introduction).
    pub sections: Vec<Section>,
}

/// One stretch of the body.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// The step's id; `None` for the introduction.
    pub id: Option<At<Id>>,
    /// The heading's words, without markup.
    pub heading: String,
    /// From the heading to the end of the section.
    pub at: Place,
    /// Byte range of the section in [`Body::markdown`], heading included.
    pub range: std::ops::Range<usize>,
    /// The words, one entry a paragraph, heading, table cell or list item; footnotes and alternative texts of pictures included.
    pub blocks: Vec<At<String>>,
    /// The running text, one entry a paragraph, table cell or list item, in file order; footnotes included. No headings, code blocks and alternative texts.
    pub passages: Vec<Passage>,
    pub headings: Vec<Heading>,
    pub links: Vec<Link>,
    pub pictures: Vec<Picture>,
    /// Raw HTML, with its text.
    pub html: Vec<At<String>>,
    /// The first numbered list.
    pub numbered_list: Option<Place>,
}

#[derive(Clone, Debug)]
pub struct Heading {
    pub level: u8,
    pub text: String,
    pub id: Option<At<Id>>,
    pub at: Place,
}

/// A link, its target as written.
#[derive(Clone, Debug)]
pub struct Link {
    pub target: String,
    pub at: Place,
}

#[derive(Clone, Debug)]
pub struct Picture {
    pub target: String,
    /// Alternative text; may be empty, which is a finding.
    pub words: String,
    pub at: Place,
}
