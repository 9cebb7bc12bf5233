//! The Markdown of a file, cut at its level-2 sections, with the place of every word, link and picture.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, LinkType, Options, Parser, Tag};

use crate::finding::Finding;
use crate::finding::rule::{DUPLICATE_KEY, NOT_UTF8, TOO_DEEP};
use crate::model::body::{Body, Heading, Link, Picture, Section};
use crate::read::lines::Lines;
use crate::read::path::stays_inside;
use crate::read::scope::{Scope, is_bidirectional, quoted};
use crate::read::yaml::DEEPEST;
use crate::text::id::Id;
use crate::text::passage::Passage;
use crate::text::place::{At, Place};

/// The most text, in bytes, that footnotes may add to the sections that refer to them.
const MOST_NOTES: usize = 8 * 1024 * 1024;

/// Reads the file from byte `start` on. In a procedure (`of_steps`) two sections of one id are a finding.
pub fn body(scope: &mut Scope<'_>, start: usize, of_steps: bool) -> Body {
    let text = scope.text;
    let markdown = text.get(start..).unwrap_or("");
    let mut reader = Reader::new(scope, start, markdown, of_steps);
    for (event, range) in Parser::new_ext(markdown, options()).into_offset_iter() {
        reader.take(event, range);
    }
    reader.finish()
}

/// What of Markdown the format knows beside CommonMark.
pub fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_HEADING_ATTRIBUTES
}

/// Something that began and has not ended.
struct Open {
    what: What,
    at: Place,
    text: String,
    /// The same with the place of each letter, for running text only.
    passage: Option<Passage>,
}

enum What {
    /// Holds words: a paragraph, table cell, list item or code block.
    Block,
    Heading(u8, Option<At<Id>>),
    Html,
    Picture(String),
    Footnote(Option<String>),
    /// Passes its words on to what is around it.
    Through,
}

/// A section and the footnotes it refers to; or a footnote.
#[derive(Default)]
struct Gathered {
    section: Section,
    notes: BTreeSet<String>,
}

struct Reader<'s, 'a> {
    scope: &'s mut Scope<'a>,
    lines: Lines<'a>,
    start: usize,
    markdown: &'a str,
    of_steps: bool,
    open: Vec<Open>,
    /// The introduction first.
    sections: Vec<Gathered>,
    /// The footnote that is being read.
    note: Option<String>,
    notes: BTreeMap<String, Gathered>,
    too_deep: bool,
}

impl<'s, 'a> Reader<'s, 'a> {
    fn new(scope: &'s mut Scope<'a>, start: usize, markdown: &'a str, of_steps: bool) -> Self {
        let lines = Lines::new(scope.file, scope.text);
        let introduction = Section { at: lines.place(start..start + markdown.len()), range: 0..markdown.len(), ..Section::default() };
        let sections = vec![Gathered { section: introduction, notes: BTreeSet::new() }];
        let notes = BTreeMap::new();
        Self { scope, lines, start, markdown, of_steps, open: Vec::new(), sections, note: None, notes, too_deep: false }
    }

    fn place(&self, range: &Range<usize>) -> Place {
        self.lines.place(self.start + range.start..self.start + range.end)
    }

    /// Where what is read now belongs: the footnote or the section.
    fn gathered(&mut self) -> &mut Gathered {
        match &self.note {
            Some(label) => self.notes.entry(label.clone()).or_default(),
            None => self.sections.last_mut().expect("the introduction stands first and is never taken out"),
        }
    }

    fn take(&mut self, event: Event<'_>, range: Range<usize>) {
        match event {
            Event::Start(tag) => self.begin(tag, &range),
            Event::End(_) => self.end(),
            Event::Text(text) => {
                self.check_hidden(&text, &range);
                self.words(&text, &range, false);
            }
            Event::Code(text) | Event::InlineMath(text) | Event::DisplayMath(text) => self.words(&text, &range, true),
            Event::SoftBreak | Event::HardBreak => self.words(" ", &range, false),
            Event::Html(text) => match self.open.last_mut() {
                Some(Open { what: What::Html, text: html, .. }) => html.push_str(&text),
                _ => self.inline_html(&text, &range),
            },
            Event::InlineHtml(text) => self.inline_html(&text, &range),
            Event::FootnoteReference(label) => {
                let label = label.into_string();
                self.gathered().notes.insert(label);
            }
            Event::Rule | Event::TaskListMarker(_) => {}
        }
    }

    fn inline_html(&mut self, text: &str, range: &Range<usize>) {
        let html = At::new(text.to_owned(), self.place(range));
        self.gathered().section.html.push(html);
    }

    /// An entity such as `&#8238;` can bring in what the bytes of the file may not hold.
    fn check_hidden(&mut self, text: &str, range: &Range<usize>) {
        let written = self.markdown.get(range.clone()).unwrap_or("");
        if let Some(odd) = text.chars().find(|c| is_bidirectional(*c) && !written.contains(*c)) {
            let at = self.place(range);
            let message = format!("an entity puts the invisible character U+{:04X} in the text", u32::from(odd));
            self.scope.say(&NOT_UTF8, at, message, "take the entity out");
        }
    }

    fn words(&mut self, text: &str, range: &Range<usize>, quoted: bool) {
        let written = self.markdown.get(range.clone()).and_then(|written| written.find(text));
        let (start, length) = written.map_or((range.start, range.len()), |at| (range.start + at, text.len()));
        let whole = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        if let Some(holder) = self.open.iter_mut().rev().find(|open| !matches!(open.what, What::Through)) {
            holder.text.push_str(text);
            if let Some(passage) = &mut holder.passage {
                passage.push(text, whole(self.start + start), whole(length), quoted);
            }
        }
    }

    fn begin(&mut self, tag: Tag<'_>, range: &Range<usize>) {
        let at = self.place(range);
        if self.open.len() >= DEEPEST && !self.too_deep {
            self.too_deep = true;
            let message = format!("lists, quotes and markup are nested over {DEEPEST} levels deep");
            self.scope.say(&TOO_DEEP, at, message, "flatten the nesting");
        }
        let running = matches!(tag, Tag::Paragraph | Tag::TableCell | Tag::Item);
        let what = match tag {
            Tag::Paragraph | Tag::TableCell | Tag::Item => What::Block,
            Tag::CodeBlock(CodeBlockKind::Fenced(_) | CodeBlockKind::Indented) => What::Block,
            Tag::Heading { level, id, .. } => self.heading(level, id.as_deref(), range, at),
            Tag::HtmlBlock => What::Html,
            Tag::Image { dest_url, title, .. } => {
                // A title is shown too, to whoever rests the pointer on it.
                self.block(&title, at);
                What::Picture(dest_url.into_string())
            }
            Tag::Link { link_type, dest_url, title, .. } => {
                self.block(&title, at);
                self.link(link_type, &dest_url, at);
                What::Through
            }
            Tag::List(number) => {
                if number.is_some() {
                    self.gathered().section.numbered_list.get_or_insert(at);
                }
                What::Through
            }
            Tag::FootnoteDefinition(label) => What::Footnote(self.note.replace(label.into_string())),
            _ => What::Through,
        };
        self.open.push(Open { what, at, text: String::new(), passage: running.then(|| Passage::new(at.file)) });
    }

    fn heading(&mut self, level: HeadingLevel, id: Option<&str>, range: &Range<usize>, at: Place) -> What {
        let id = id.map(|id| At::new(Id::new(id), self.id_place(id, range, at)));
        let begins = level == HeadingLevel::H2 && self.open.is_empty() && self.note.is_none();
        if let Some(id) = id.clone().filter(|_| begins) {
            self.close_section(range.start);
            if self.of_steps {
                self.scope.step = Some(id.value.clone());
                self.check_twice(&id);
            }
            let to_end = self.place(&(range.start..self.markdown.len()));
            let section = Section { id: Some(id), at: to_end, range: range.start..self.markdown.len(), ..Section::default() };
            self.sections.push(Gathered { section, notes: BTreeSet::new() });
        }
        What::Heading(level as u8, id)
    }

    /// Where `{#id}` names the id, or the heading if it cannot be found as written.
    fn id_place(&self, id: &str, range: &Range<usize>, heading: Place) -> Place {
        let source = self.markdown.get(range.clone()).unwrap_or("");
        match source.rfind(&format!("#{id}")) {
            Some(at) => self.place(&(range.start + at + 1..range.start + at + 1 + id.len())),
            None => heading,
        }
    }

    fn check_twice(&mut self, id: &At<Id>) {
        let first = self.sections.iter().find_map(|one| one.section.id.as_ref().filter(|other| other.value == id.value)).cloned();
        if let Some(first) = first {
            let finding = Finding::new(&DUPLICATE_KEY, id.at, format!("a second section for the step {}", quoted(id.as_str())));
            let help = format!("join the two sections; the first is on line {}", first.at.line);
            self.scope.report(finding.subject(id.as_str()).help(help).also(first.at, "first here"));
        }
    }

    fn close_section(&mut self, end: usize) {
        let absolute = u32::try_from(self.start + end).unwrap_or(u32::MAX);
        if let Some(last) = self.sections.last_mut() {
            last.section.range.end = end;
            last.section.at.end = absolute;
        }
    }

    fn link(&mut self, kind: LinkType, target: &str, at: Place) {
        let target = if kind == LinkType::Email { format!("mailto:{target}") } else { target.to_owned() };
        let target = At::new(target, at);
        if stays_inside(self.scope, &target) {
            self.gathered().section.links.push(Link { target: target.value, at });
        }
    }

    fn end(&mut self) {
        let Some(Open { what, at, text, passage }) = self.open.pop() else {
            return;
        };
        if let Some(passage) = passage.filter(|passage| !passage.text.trim().is_empty()) {
            self.gathered().section.passages.push(passage);
        }
        match what {
            What::Block => self.block(&text, at),
            What::Heading(level, id) => {
                let words = text.trim().to_owned();
                self.block(&text, at);
                let section = &mut self.gathered().section;
                if section.id.is_some() && section.headings.is_empty() {
                    section.heading.clone_from(&words);
                }
                section.headings.push(Heading { level, text: words, id, at });
            }
            What::Html => self.gathered().section.html.push(At::new(text, at)),
            What::Picture(target) => {
                self.block(&text, at);
                // A word before and a word after a picture do not stand side by side.
                let range = (at.end as usize).saturating_sub(self.start);
                self.words(" ", &(range..range), false);
                let target = At::new(target, at);
                if stays_inside(self.scope, &target) {
                    let picture = Picture { target: target.value, words: text.trim().to_owned(), at };
                    self.gathered().section.pictures.push(picture);
                }
            }
            What::Footnote(around) => self.note = around,
            What::Through => {}
        }
    }

    fn block(&mut self, text: &str, at: Place) {
        let words = text.trim();
        if !words.is_empty() {
            self.gathered().section.blocks.push(At::new(words.to_owned(), at));
        }
    }

    fn finish(mut self) -> Body {
        self.scope.step = None;
        self.close_section(self.markdown.len());
        for one in &mut self.sections {
            one.section.blocks.sort_by_key(|block| block.at.start);
            one.section.passages.sort_by_key(Passage::start);
        }
        self.hand_out_notes();
        let mut sections = self.sections.into_iter().map(|one| one.section);
        let introduction = sections.next().unwrap_or_default();
        Body {
            file: self.scope.file,
            start: u32::try_from(self.start).unwrap_or(u32::MAX),
            markdown: self.markdown.to_owned(),
            introduction,
            sections: sections.collect(),
        }
    }

    /// A footnote's words belong to every section that refers to it, wherever the footnote stands.
    fn hand_out_notes(&mut self) {
        let mut given = 0;
        for one in &mut self.sections {
            for label in reached(&one.notes, &self.notes) {
                let Some(note) = self.notes.get(&label) else {
                    continue;
                };
                given += note.section.blocks.iter().map(|block| block.value.len()).sum::<usize>();
                if given > MOST_NOTES {
                    let message = "footnotes are referred to so often that they outgrow the file";
                    self.scope.say(&TOO_DEEP, one.section.at, message, "move the footnotes' text into a leaflet");
                    return;
                }
                add(&mut one.section, &note.section);
            }
        }
    }
}

/// The footnotes that are referred to, and those that these refer to.
fn reached(first: &BTreeSet<String>, notes: &BTreeMap<String, Gathered>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open: Vec<&String> = first.iter().collect();
    while let Some(label) = open.pop() {
        if found.insert(label.clone())
            && let Some(note) = notes.get(label)
        {
            open.extend(&note.notes);
        }
    }
    found
}

fn add(section: &mut Section, note: &Section) {
    section.blocks.extend(note.blocks.iter().cloned());
    section.headings.extend(note.headings.iter().cloned());
    section.links.extend(note.links.iter().cloned());
    section.pictures.extend(note.pictures.iter().cloned());
    section.html.extend(note.html.iter().cloned());
    section.passages.extend(note.passages.iter().cloned());
    section.numbered_list = section.numbered_list.or(note.numbered_list);
}
