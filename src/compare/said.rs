//! Texts by what they say: white space, wrapping and the choice between two ways of writing the same Markdown do not count.

use std::collections::BTreeMap;

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use similar::{Algorithm, ChangeTag, utils::diff_slices};

use crate::model::body::Body;
use crate::text::id::Id;

/// A text with every run of white space as one space, and none at its ends.
pub fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What became of a stretch of words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    Same,
    /// Only in OLD.
    Gone,
    /// Only in NEW.
    Come,
}

/// Beyond this many words on either side a text is marked as a whole: finding the least difference would take too long.
const MOST_WORDS: usize = 20_000;

/// The words of both texts in reading order, each stretch marked. The stretches of OLD (same and gone) joined give OLD, those of NEW give NEW.
pub fn marks(old: &str, new: &str) -> Vec<(Mark, String)> {
    let (left, right) = (pieces(old), pieces(new));
    if left.len().max(right.len()) > MOST_WORDS {
        return vec![(Mark::Gone, old.to_owned()), (Mark::Come, new.to_owned())];
    }
    let parts = diff_slices(Algorithm::Myers, &left, &right).into_iter().map(|(tag, words)| {
        let mark = match tag {
            ChangeTag::Equal => Mark::Same,
            ChangeTag::Delete => Mark::Gone,
            ChangeTag::Insert => Mark::Come,
        };
        (mark, words.concat())
    });
    parts.filter(|(_, words)| !words.is_empty()).collect()
}

/// Words, each with the white space after it: joined again they are the text.
fn pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let word = rest.find(char::is_whitespace).unwrap_or(rest.len());
        let (before, after) = rest.split_at(word);
        let space = after.find(|c: char| !c.is_whitespace()).unwrap_or(after.len());
        if !before.is_empty() {
            pieces.push(before);
        }
        let (white, next) = after.split_at(space);
        if !white.is_empty() {
            pieces.push(white);
        }
        rest = next;
    }
    pieces
}

/// The blocks of each section of a body (`None`: the introduction), one line a block, in the order in which they stand.
pub fn sections(body: &Body) -> BTreeMap<Option<Id>, Vec<String>> {
    let options = Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_HEADING_ATTRIBUTES;
    let mut writer = Writer::default();
    for (event, range) in Parser::new_ext(&body.markdown, options).into_offset_iter() {
        let section = body.sections.iter().find(|section| section.range.contains(&range.start));
        writer.section = section.and_then(|section| section.id.as_ref()).map(|id| id.value.clone());
        writer.take(event);
    }
    writer.flush();
    writer.sections
}

/// All that a body says, block by block.
pub fn whole(body: &Body) -> String {
    let options = sections(&Body { sections: Vec::new(), ..body.clone() });
    options.into_values().flatten().collect::<Vec<_>>().join("\n")
}

#[derive(Default)]
struct Writer {
    section: Option<Id>,
    sections: BTreeMap<Option<Id>, Vec<String>>,
    prefix: String,
    line: String,
    verbatim: bool,
    lists: Vec<Option<u64>>,
    /// Where the links and pictures lead that are open.
    targets: Vec<String>,
    cells: usize,
}

impl Writer {
    fn flush(&mut self) {
        let text = if self.verbatim { self.line.trim_end().to_owned() } else { plain(&self.line) };
        self.line.clear();
        if !text.is_empty() {
            let prefix = std::mem::take(&mut self.prefix);
            self.sections.entry(self.section.clone()).or_default().push(prefix + &text);
        }
    }

    fn block(&mut self, prefix: String) {
        self.flush();
        self.prefix = prefix;
    }

    fn take(&mut self, event: Event<'_>) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(tag) => self.end(tag),
            Event::Text(text) | Event::Html(text) | Event::InlineHtml(text) => self.line.push_str(&text),
            Event::InlineMath(text) | Event::DisplayMath(text) | Event::Code(text) => self.line.push_str(&format!("`{text}`")),
            Event::SoftBreak | Event::HardBreak => self.line.push(' '),
            Event::FootnoteReference(label) => self.line.push_str(&format!("[^{label}]")),
            Event::Rule => {
                self.block(String::new());
                self.line.push_str("---");
                self.flush();
            }
            Event::TaskListMarker(done) => self.line.push_str(if done { "[x] " } else { "[ ] " }),
        }
    }

    fn start(&mut self, tag: Tag<'_>) {
        match tag {
            Tag::Heading { level, id, .. } => {
                let level = level as usize;
                let anchor = id.filter(|_| level > 2).map(|id| format!("{{#{id}}} ")).unwrap_or_default();
                self.block(format!("{} {anchor}", "#".repeat(level)));
            }
            // A paragraph that begins an item or a note carries on its mark: whether a list is loose is a matter of blank lines.
            Tag::Paragraph => self.flush(),
            Tag::List(first) => {
                self.flush();
                self.lists.push(first);
            }
            Tag::Item => {
                let depth = self.lists.len();
                let first = self.lists.last_mut().and_then(Option::take);
                // Numbers follow from the first one; telling each would show every later item as changed.
                let numbered = first.map(|first| if first == 1 { "#".to_owned() } else { format!("#{first}") });
                if numbered.is_some()
                    && let Some(list) = self.lists.last_mut()
                {
                    *list = Some(1);
                }
                self.block(format!("{} ", numbered.unwrap_or_else(|| "-".to_owned()).repeat(depth.max(1))));
            }
            Tag::TableHead | Tag::TableRow => {
                self.cells = 0;
                self.block("| ".to_owned());
            }
            Tag::TableCell => {
                if self.cells > 0 {
                    self.line.push_str(" | ");
                }
                self.cells += 1;
            }
            Tag::CodeBlock(_) => {
                self.block("``` ".to_owned());
                self.verbatim = true;
            }
            Tag::BlockQuote(_) => self.block("> ".to_owned()),
            Tag::FootnoteDefinition(label) => self.block(format!("[^{label}]: ")),
            Tag::Emphasis => self.line.push('*'),
            Tag::Strong => self.line.push_str("**"),
            Tag::Strikethrough => self.line.push_str("~~"),
            Tag::Link { dest_url, .. } => {
                self.line.push('[');
                self.targets.push(dest_url.to_string());
            }
            Tag::Image { dest_url, .. } => {
                self.line.push_str("![");
                self.targets.push(dest_url.to_string());
            }
            _ => self.flush(),
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Emphasis => self.line.push('*'),
            TagEnd::Strong => self.line.push_str("**"),
            TagEnd::Strikethrough => self.line.push_str("~~"),
            TagEnd::Link | TagEnd::Image => {
                let target = self.targets.pop().unwrap_or_default();
                self.line.push_str(&format!("]({target})"));
            }
            TagEnd::TableCell => {}
            TagEnd::List(_) => {
                self.flush();
                self.lists.pop();
                self.prefix.clear();
            }
            TagEnd::CodeBlock => {
                self.flush();
                self.verbatim = false;
                self.prefix.clear();
            }
            _ => {
                self.flush();
                self.prefix.clear();
            }
        }
    }
}
