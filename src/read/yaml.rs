//! YAML with places: mappings, lists and scalars, each with where it was written. No types are guessed: a scalar is its text.
//! Anchors, aliases, tags and second documents are refused; nesting is bounded while events come in, so nothing can grow or overflow.

use std::collections::BTreeMap;
use std::ops::Range;

use granit_parser::{ErrorKind, Event, Marker, Parser, ScalarStyle, Span, options};

use crate::finding::Rule;
use crate::finding::rule::{FRONT_MATTER_INVALID, TOO_DEEP};
use crate::read::scope::MOST_FINDINGS;
use crate::read::{plain, yaml_error};
use crate::text::place::{At, FileId, Place};

/// The deepest nesting of mappings and lists, the outermost counted as one.
pub const DEEPEST: usize = 64;

/// Anchors, aliases and tags named in one file before the rest is left unsaid.
const REFUSALS: usize = 10;

/// A value and where it stands.
#[derive(Clone, Debug)]
pub struct Node {
    pub at: Place,
    pub value: Value,
}

#[derive(Clone, Debug)]
pub enum Value {
    Scalar(Scalar),
    List(Vec<Node>),
    Map(Mapping),
}

/// A text, and whether it was written bare.
#[derive(Clone, Debug)]
pub struct Scalar {
    pub text: String,
    pub plain: bool,
}

/// Keys and values in the order written. Of a key that is there twice only the first is kept.
#[derive(Clone, Debug, Default)]
pub struct Mapping {
    pub entries: Vec<(At<String>, Node)>,
}

/// What was read of one document.
#[derive(Debug, Default)]
pub struct Document {
    /// `None` if it is empty or could not be understood; then `problems` tells the two apart.
    pub root: Option<Node>,
    pub problems: Vec<Problem>,
    pub duplicates: Vec<Duplicate>,
}

/// Why a document cannot be understood.
#[derive(Debug)]
pub struct Problem {
    pub rule: &'static Rule,
    pub at: Place,
    pub message: String,
    pub help: String,
}

/// A key that one mapping holds twice.
#[derive(Debug)]
pub struct Duplicate {
    pub key: String,
    pub first: Place,
    pub second: Place,
    /// The keys that lead to the mapping, outermost first.
    pub path: Vec<String>,
}

/// Reads `range` of a file's text as one YAML document.
pub fn parse(text: &str, range: Range<usize>, file: FileId) -> Document {
    parse_plain(text, range.clone(), file).unwrap_or_else(|| parse_any(text, range, file))
}

/// The same, if it is all [plain], by the quick reader alone.
pub fn parse_plain(text: &str, range: Range<usize>, file: FileId) -> Option<Document> {
    plain::parse(text.get(range.clone()).unwrap_or(""), Places::new(text, range, file))
}

/// The same of any document, by the parser alone.
pub fn parse_any(text: &str, range: Range<usize>, file: FileId) -> Document {
    let slice = text.get(range.clone()).unwrap_or("");
    let places = Places::new(text, range, file);
    let mut options = options! { disallow_directives: true, emit_unresolved_aliases: true, emit_anchor_events: true };
    options.set_emit_comments(false);
    let mut builder = Builder::new(places);
    for event in Parser::new_from_str_with_options(slice, options) {
        match event {
            Ok((event, span)) => builder.take(event, span),
            Err(error) => builder.fail(error.kind(), *error.marker()),
        }
        if builder.stopped {
            break;
        }
    }
    builder.finish()
}

/// Turns the parser's marks into places of the file as written.
pub(super) struct Places {
    file: FileId,
    byte: usize,
    lines: usize,
    length: usize,
}

impl Places {
    fn new(text: &str, range: Range<usize>, file: FileId) -> Self {
        let lines = crate::read::lines::breaks(text.get(..range.start).unwrap_or(""));
        Self { file, byte: range.start, lines, length: text.get(range).unwrap_or("").len() }
    }

    fn of(&self, start: Marker, end: Marker) -> Place {
        let byte = |mark: Marker| self.byte + mark.byte_offset().unwrap_or(0).min(self.length);
        Place {
            file: self.file,
            line: whole(self.lines + start.line()),
            column: whole(start.col() + 1),
            start: whole(byte(start)),
            end: whole(byte(end).max(byte(start))),
        }
    }
    fn span(&self, span: Span) -> Place {
        self.of(span.start, span.end)
    }
}

fn whole(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

enum Frame {
    Map { at: Place, mapping: Mapping, index: BTreeMap<String, usize>, key: Option<At<String>> },
    List { at: Place, items: Vec<Node> },
}

pub(super) struct Builder {
    places: Places,
    frames: Vec<Frame>,
    document: Document,
    documents: usize,
    stopped: bool,
}

impl Builder {
    pub(super) fn new(places: Places) -> Self {
        Self { places, frames: Vec::new(), document: Document::default(), documents: 0, stopped: false }
    }

    /// The place of a stretch of bytes of the document. `line` counts from 1, `column` from 0.
    pub(super) fn place(&self, line: usize, column: usize, start: usize, end: usize) -> Place {
        let Places { file, byte, lines, .. } = self.places;
        Place { file, line: whole(lines + line), column: whole(column + 1), start: whole(byte + start), end: whole(byte + end) }
    }

    pub(super) fn scalar(&mut self, at: Place, text: String, plain: bool) {
        self.put(Node { at, value: Value::Scalar(Scalar { text, plain }) });
    }

    pub(super) fn open_map(&mut self, at: Place) {
        self.open(Frame::Map { at, mapping: Mapping::default(), index: BTreeMap::new(), key: None }, at);
    }

    pub(super) fn open_list(&mut self, at: Place) {
        self.open(Frame::List { at, items: Vec::new() }, at);
    }

    fn take(&mut self, event: Event<'_>, span: Span) {
        match event {
            Event::DocumentStart(..) => {
                self.documents += 1;
                if self.documents > 1 {
                    self.refuse(self.places.span(span), "a second document begins here", "keep one YAML document in the file");
                    self.stopped = true;
                }
            }
            Event::Scalar(text, style, _, tag) => {
                self.tag(tag.is_some(), span);
                let at = self.places.span(span);
                let plain = matches!(style, ScalarStyle::Plain);
                // The parser writes `~` for a value that is not there; one that is there takes up room.
                let text = if plain && at.start == at.end { String::new() } else { text.into_owned() };
                self.scalar(at, text, plain);
            }
            Event::SequenceStart(_, _, tag) => {
                self.tag(tag.is_some(), span);
                let at = self.places.span(span);
                self.open_list(at);
            }
            Event::MappingStart(_, _, tag) => {
                self.tag(tag.is_some(), span);
                let at = self.places.span(span);
                self.open_map(at);
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(self.places.span(span).end),
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                let at = self.places.span(span);
                self.refuse(at, "an alias (`*`) is not allowed", "write the value out; quote a text that begins with `*`");
                self.put(Node { at, value: Value::Scalar(Scalar { text: String::new(), plain: true }) });
            }
            Event::Anchor(..) => {
                let help = "take the anchor out; quote a text that begins with `&`";
                self.refuse(self.places.span(span), "an anchor (`&`) is not allowed", help);
            }
            // The parser may grow further events that are no nodes; comments are switched off.
            _ => {}
        }
    }

    fn tag(&mut self, present: bool, span: Span) {
        if present {
            let at = span.tag_span().map_or_else(|| self.places.span(span), |tag| self.places.span(tag));
            self.refuse(at, "a tag (`!`) is not allowed", "take the tag out; quote a text that begins with `!`");
        }
    }

    fn open(&mut self, frame: Frame, at: Place) {
        if self.frames.len() >= DEEPEST {
            self.too_deep(at);
            return;
        }
        self.frames.push(frame);
    }

    /// Ends the innermost list or mapping at a byte of the document.
    pub(super) fn close_at(&mut self, byte: usize) {
        self.close(whole(self.places.byte + byte));
    }

    fn close(&mut self, end: u32) {
        let ended = |at: Place| Place { end: end.max(at.end), ..at };
        match self.frames.pop() {
            Some(Frame::Map { at, mapping, .. }) => self.put(Node { at: ended(at), value: Value::Map(mapping) }),
            Some(Frame::List { at, items }) => self.put(Node { at: ended(at), value: Value::List(items) }),
            None => {}
        }
    }

    fn put(&mut self, node: Node) {
        let path_needed = match self.frames.last_mut() {
            None => {
                self.document.root = Some(node);
                return;
            }
            Some(Frame::List { items, .. }) => {
                items.push(node);
                return;
            }
            Some(Frame::Map { mapping, index, key, .. }) => match key.take() {
                None => {
                    if let Value::Scalar(scalar) = node.value {
                        *key = Some(At::new(scalar.text, node.at));
                    } else {
                        *key = Some(At::new(String::new(), node.at));
                        self.refuse(node.at, "a key is a list or a mapping", "write a plain word as the key");
                    }
                    return;
                }
                Some(key) => match index.get(&key.value) {
                    None => {
                        index.insert(key.value.clone(), mapping.entries.len());
                        mapping.entries.push((key, node));
                        return;
                    }
                    Some(first) => mapping.entries.get(*first).map(|(first, _)| (key, first.at)),
                },
            },
        };
        if let Some((key, first)) = path_needed
            && self.document.duplicates.len() < MOST_FINDINGS
        {
            let path = self.path();
            self.document.duplicates.push(Duplicate { key: key.value, first, second: key.at, path });
        }
    }

    /// The keys of the mappings that are open around the innermost one.
    fn path(&self) -> Vec<String> {
        let key = |frame: &Frame| match frame {
            Frame::Map { key, .. } => key.as_ref().map(|key| key.value.clone()),
            Frame::List { .. } => None,
        };
        self.frames.iter().filter_map(key).collect()
    }

    fn refuse(&mut self, at: Place, message: &str, help: &str) {
        if self.document.problems.len() < REFUSALS {
            let problem = Problem { rule: &FRONT_MATTER_INVALID, at, message: message.to_owned(), help: help.to_owned() };
            self.document.problems.push(problem);
        }
    }

    fn too_deep(&mut self, at: Place) {
        let message = format!("mappings and lists are nested over {DEEPEST} levels deep");
        let help = "flatten the nesting; no key of the format needs more than ten levels".to_owned();
        self.document.problems.push(Problem { rule: &TOO_DEEP, at, message, help });
        self.stopped = true;
    }

    fn fail(&mut self, kind: &ErrorKind, mark: Marker) {
        let at = self.places.of(mark, mark);
        if matches!(kind, ErrorKind::RecursionLimitExceeded) {
            self.too_deep(at);
        } else {
            let (message, help) = yaml_error::in_plain_words(kind);
            self.refuse(at, &message, help);
            self.stopped = true;
        }
    }

    pub(super) fn finish(self) -> Document {
        let mut document = self.document;
        if !document.problems.is_empty() {
            document.root = None;
        }
        document
    }
}
