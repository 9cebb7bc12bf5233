//! Markdown to markup: heading levels, links, pictures, tables and footnotes as our pages need them; raw HTML is shown as text.

use std::collections::BTreeMap;
use std::ops::Range;

use pulldown_cmark::{Alignment, CowStr, Event, LinkType, Options, Parser, Tag, TagEnd, html};

use crate::model::body::Body;
use crate::model::procedure::Procedure;
use crate::render::escape;
use crate::render::frame::Frame;
use crate::render::links::{self, Target};

/// The extensions of the format, the same as in reading.
fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_HEADING_ATTRIBUTES
}

/// The words of one Markdown file, parsed once, set in stretches.
pub struct Prose<'a> {
    frame: &'a Frame<'a>,
    body: &'a Body,
    procedure: Option<&'a Procedure>,
    root: &'a str,
    events: Vec<(Event<'a>, Range<usize>)>,
    /// Label to the events of a footnote, in [`Prose::events`].
    footnotes: BTreeMap<String, Range<usize>>,
    /// Ids of headings that a link may lead to, and where they stand.
    headings: BTreeMap<String, usize>,
}

/// How a stretch is set.
pub struct Setting<'k> {
    /// The level of the heading that the stretch stands under.
    pub level: u8,
    /// Tells the ids of this stretch from those of others on the page.
    pub key: &'k str,
    /// Whether its headings keep their ids: the first time a stretch is on the page.
    pub first: bool,
}

impl<'a> Prose<'a> {
    /// `root` leads from the page to the top of the site.
    pub fn new(frame: &'a Frame<'a>, body: &'a Body, procedure: Option<&'a Procedure>, root: &'a str) -> Self {
        let events: Vec<_> = Parser::new_ext(&body.markdown, options()).into_offset_iter().collect();
        let mut footnotes = BTreeMap::new();
        let mut headings = BTreeMap::new();
        let mut open: Option<(String, usize)> = None;
        for (index, (event, range)) in events.iter().enumerate() {
            match event {
                Event::Start(Tag::FootnoteDefinition(label)) => open = Some((label.to_string(), index + 1)),
                Event::End(TagEnd::FootnoteDefinition) => {
                    if let Some((label, start)) = open.take() {
                        footnotes.entry(label).or_insert(start..index);
                    }
                }
                Event::Start(Tag::Heading { id: Some(id), .. }) => {
                    headings.entry(id.to_string()).or_insert(range.start);
                }
                _ => {}
            }
        }
        Self { frame, body, procedure, root, events, footnotes, headings }
    }

    /// The first level-1 heading, if the words begin with one: where it ends.
    pub fn title_end(&self) -> Option<usize> {
        let (event, range) = self.events.first()?;
        matches!(event, Event::Start(Tag::Heading { level, .. }) if *level as u8 == 1).then_some(range.end)
    }

    /// A stretch of the words as markup.
    pub fn html(&self, stretch: &Range<usize>, setting: &Setting<'_>) -> String {
        let mut setter = Setter { prose: self, setting, last: setting.level, notes: Vec::new(), table: Table::default(), out: Vec::new() };
        let mut inside_note = false;
        for (event, range) in &self.events {
            match event {
                Event::Start(Tag::FootnoteDefinition(_)) => inside_note = true,
                Event::End(TagEnd::FootnoteDefinition) => inside_note = false,
                _ if inside_note || !stretch.contains(&range.start) => {}
                event => setter.set(event, range),
            }
        }
        setter.set_notes();
        let mut out = String::new();
        html::push_html(&mut out, setter.out.into_iter());
        out
    }

    /// Where a link within this file leads on its page.
    fn anchor(&self, id: &str) -> Option<String> {
        let step = self.procedure.is_some_and(|procedure| procedure.steps.iter().any(|step| step.id == *id));
        if step {
            return Some(format!("step-{id}"));
        }
        let at = *self.headings.get(id)?;
        let shown = self.procedure.is_none_or(|procedure| {
            let words = procedure.steps.iter().filter_map(|step| procedure.words_of(step));
            words.chain([&procedure.body.introduction]).any(|section| section.range.contains(&at))
        });
        shown.then(|| format!("words-{id}"))
    }
}

#[derive(Default)]
struct Table {
    sides: Vec<Alignment>,
    head: bool,
    column: usize,
}

struct Setter<'p, 'a> {
    prose: &'p Prose<'a>,
    setting: &'p Setting<'p>,
    /// Level of the heading set last: none is skipped below it.
    last: u8,
    /// Labels of the footnotes referred to, in order.
    notes: Vec<String>,
    table: Table,
    out: Vec<Event<'a>>,
}

impl<'a> Setter<'_, 'a> {
    fn markup(&mut self, markup: impl Into<String>) {
        self.out.push(Event::Html(CowStr::from(markup.into())));
    }

    fn set(&mut self, event: &Event<'a>, range: &Range<usize>) {
        match event {
            Event::Start(Tag::Heading { level, id, .. }) => self.heading(*level as u8, id.as_deref(), range),
            Event::End(TagEnd::Heading(_)) => self.markup(format!("</h{}>\n", self.last)),
            Event::Start(Tag::HtmlBlock) => self.out.push(Event::Start(Tag::Paragraph)),
            Event::End(TagEnd::HtmlBlock) => self.out.push(Event::End(TagEnd::Paragraph)),
            Event::Html(text) | Event::InlineHtml(text) => self.out.push(Event::Text(text.clone())),
            Event::Start(Tag::Link { link_type: LinkType::Email, dest_url, .. }) => self.link(&format!("mailto:{dest_url}")),
            Event::Start(Tag::Link { dest_url, .. }) => self.link(dest_url),
            Event::End(TagEnd::Link) => self.markup("</a>"),
            Event::Start(Tag::Image { link_type, dest_url, title, id }) => {
                // A picture that is not there leaves its words: an address that cannot load, with an alternative text.
                let found = links::picture(self.prose.frame.library, self.prose.body, self.prose.root, dest_url).unwrap_or_default();
                let (link_type, title, id) = (*link_type, title.clone(), id.clone());
                self.out.push(Event::Start(Tag::Image { link_type, dest_url: found.into(), title, id }));
            }
            Event::FootnoteReference(label) => self.note_link(label),
            Event::Start(Tag::Table(_) | Tag::TableHead | Tag::TableRow | Tag::TableCell)
            | Event::End(TagEnd::Table | TagEnd::TableHead | TagEnd::TableRow | TagEnd::TableCell) => self.table(event),
            other => self.out.push(other.clone()),
        }
    }

    /// The author's level 2 comes directly under the page's heading; deeper ones keep their distance but skip none.
    fn heading(&mut self, level: u8, id: Option<&str>, range: &Range<usize>) {
        let top = self.setting.level + 1;
        let wished = top + level.saturating_sub(2);
        self.last = wished.min(self.last + 1).clamp(top, 6);
        let first_here = id.filter(|id| self.setting.first && self.prose.headings.get(*id) == Some(&range.start));
        let own = first_here.filter(|id| self.prose.anchor(id).is_some_and(|anchor| anchor.starts_with("words-")));
        let attribute = own.map(|id| format!(" id=\"words-{}\"", escape::text(id))).unwrap_or_default();
        self.markup(format!("<h{}{attribute}>", self.last));
    }

    /// Every link opens an `a`; without an address it is only the mark of a link that leads nowhere.
    fn link(&mut self, target: &str) {
        let prose = self.prose;
        let address = match links::link(prose.frame.library, prose.body, prose.root, target) {
            Target::Address(address) => Some(address),
            Target::Here(id) => prose.anchor(&id).map(|anchor| format!("#{anchor}")),
            Target::Nothing => None,
        };
        self.markup(address.map_or_else(|| "<a>".to_owned(), |address| format!("<a href=\"{}\">", escape::text(&address))));
    }

    fn note_link(&mut self, label: &str) {
        if !self.prose.footnotes.contains_key(label) {
            self.out.push(Event::Text(CowStr::from(format!("[^{label}]"))));
            return;
        }
        let known = self.notes.iter().position(|note| note == label);
        let number = known.unwrap_or(self.notes.len()) + 1;
        let key = self.setting.key;
        let back = if known.is_none() { format!(" id=\"noted-{key}-{number}\"") } else { String::new() };
        if known.is_none() {
            self.notes.push(label.to_owned());
        }
        let name = self.prose.frame.fill("page", "note", &[("n", &number.to_string())]);
        self.markup(format!("<sup><a href=\"#note-{key}-{number}\"{back} aria-label=\"{name}\">{number}</a></sup>"));
    }

    fn set_notes(&mut self) {
        if self.notes.is_empty() {
            return;
        }
        let key = self.setting.key;
        self.markup("<ol class=\"notes\">\n");
        let mut next = 0;
        // A note may refer to another, which then joins the list.
        while let Some(label) = self.notes.get(next).cloned() {
            next += 1;
            self.markup(format!("<li id=\"note-{key}-{next}\">"));
            let events = self.prose.footnotes.get(&label).and_then(|range| self.prose.events.get(range.clone())).unwrap_or_default();
            for (event, range) in events {
                self.set(event, range);
            }
            let back = self.prose.frame.word("page", "note-back");
            self.markup(format!("<a href=\"#noted-{key}-{next}\">{back}</a></li>\n"));
        }
        self.markup("</ol>\n");
    }

    /// Tables of our own, so that their heads have a scope and wide ones scroll by themselves.
    fn table(&mut self, event: &Event<'a>) {
        match event {
            Event::Start(Tag::Table(sides)) => {
                self.table = Table { sides: sides.clone(), head: false, column: 0 };
                let name = self.prose.frame.word("page", "table");
                self.markup(format!("<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{name}\"><table>"));
            }
            Event::Start(Tag::TableHead) => {
                self.table.head = true;
                self.table.column = 0;
                self.markup("<thead><tr>");
            }
            Event::End(TagEnd::TableHead) => {
                self.table.head = false;
                self.markup("</tr></thead><tbody>\n");
            }
            Event::Start(Tag::TableRow) => {
                self.table.column = 0;
                self.markup("<tr>");
            }
            Event::End(TagEnd::TableRow) => self.markup("</tr>\n"),
            Event::Start(Tag::TableCell) => {
                let side = match self.table.sides.get(self.table.column) {
                    Some(Alignment::Right) => " class=\"align-right\"",
                    Some(Alignment::Center) => " class=\"align-center\"",
                    Some(Alignment::Left | Alignment::None) | None => "",
                };
                let open = if self.table.head { format!("<th scope=\"col\"{side}>") } else { format!("<td{side}>") };
                self.markup(open);
            }
            Event::End(TagEnd::TableCell) => {
                self.table.column += 1;
                self.markup(if self.table.head { "</th>" } else { "</td>" });
            }
            _ => self.markup("</tbody></table></div>\n"),
        }
    }
}
