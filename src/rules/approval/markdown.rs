//! What a reader of Markdown sees, and nothing of how it is written: words, and how they are marked up and put in paragraphs, lists and tables.

use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use crate::read::markdown_options;
use crate::text::digest::Value;

/// Line breaks, the width of lines, the sort of bullets and the spacing of lists are not part of it.
pub fn seen(markdown: &str) -> Value {
    let mut stream = Stream::default();
    Parser::new_ext(markdown, markdown_options()).for_each(|event| stream.take(event));
    stream.end_paragraph();
    Value::list(stream.tokens)
}

#[derive(Default)]
struct Stream {
    tokens: Vec<Value>,
    text: String,
    /// Something stands in the paragraph that is open. A list item without blank lines has one too, though no tag says so.
    in_paragraph: bool,
}

impl Stream {
    fn take(&mut self, event: Event<'_>) {
        match event {
            Event::Text(text) => self.text.push_str(&text),
            Event::SoftBreak | Event::HardBreak => self.text.push(' '),
            Event::Code(text) => self.inline("code", &text),
            Event::InlineMath(text) | Event::DisplayMath(text) => self.inline("math", &text),
            Event::Html(text) | Event::InlineHtml(text) => self.inline("html", &text),
            Event::FootnoteReference(label) => self.inline("note", &label),
            Event::Rule => self.block("rule".to_owned()),
            Event::TaskListMarker(done) => self.inline("task", if done { "done" } else { "open" }),
            Event::Start(tag) => self.start(tag),
            Event::End(end) => self.end(end),
        }
    }

    fn start(&mut self, tag: Tag<'_>) {
        match tag {
            Tag::Paragraph => self.end_paragraph(),
            // How a link is written (in place, by reference, bare) is not seen.
            Tag::Link { dest_url, title, .. } => self.inline("link", &format!("{} {title}", dest_url.trim())),
            Tag::Image { dest_url, title, .. } => self.inline("picture", &format!("{} {title}", dest_url.trim())),
            Tag::Emphasis | Tag::Strong | Tag::Strikethrough | Tag::Superscript | Tag::Subscript => {
                self.inline("begin", &format!("{tag:?}"))
            }
            // How it is set apart is not seen.
            Tag::CodeBlock(_) => self.block("code block".to_owned()),
            Tag::Heading { level, id, .. } => self.block(format!("heading {level} {}", id.as_deref().unwrap_or(""))),
            Tag::List(first) => self.block(first.map_or_else(|| "list".to_owned(), |number| format!("list from {number}"))),
            Tag::FootnoteDefinition(label) => self.block(format!("note {label}")),
            other => self.block(format!("{other:?}")),
        }
    }

    fn end(&mut self, end: TagEnd) {
        match end {
            TagEnd::Paragraph => self.end_paragraph(),
            TagEnd::Link
            | TagEnd::Image
            | TagEnd::Emphasis
            | TagEnd::Strong
            | TagEnd::Strikethrough
            | TagEnd::Superscript
            | TagEnd::Subscript => {
                self.inline("end", "");
            }
            TagEnd::CodeBlock => {
                let lines = self.text.lines().map(Value::words).collect::<Vec<_>>();
                self.text.clear();
                self.tokens.push(Value::list(lines));
            }
            // Which one ends is told by what began.
            _ => self.block("end".to_owned()),
        }
    }

    fn inline(&mut self, what: &str, text: &str) {
        self.end_text();
        self.in_paragraph = true;
        self.tokens.push(Value::list([Value::text(what), Value::words(text)]));
    }

    fn block(&mut self, what: String) {
        self.end_paragraph();
        self.tokens.push(Value::list([Value::Nothing, Value::Text(what)]));
    }

    /// Runs of white space become one space; those at the edges stay, since they part words from what is marked up.
    fn end_text(&mut self) {
        let mut text = String::new();
        for c in self.text.drain(..) {
            let space = c.is_whitespace();
            if !(space && text.ends_with(' ')) {
                text.push(if space { ' ' } else { c });
            }
        }
        if !text.is_empty() {
            self.in_paragraph = true;
            self.tokens.push(Value::Text(text));
        }
    }

    fn end_paragraph(&mut self) {
        self.end_text();
        if std::mem::take(&mut self.in_paragraph) {
            self.tokens.push(Value::list([Value::Nothing, Value::text("paragraph")]));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_markdown_is_written_is_not_seen() {
        let same = [
            ("One two\nthree.\n", "One\ntwo three.\n\n\n"),
            ("*One* two", "_One_\r\ntwo  "),
            ("One  \ntwo", "One two"),
            ("- one\n- two\n", "* one\n\n* two\n"),
            ("Head\n----\n", "## Head ##\n"),
            ("[a](b.md)", "[a][x]\n\n[x]: b.md\n"),
            ("| a | b |\n|---|---|\n| 1 | 2 |\n", "|a|b|\n|-----|-|\n|  1  |2|\n"),
            ("    code  here\n", "```\ncode here  \n```\n"),
            ("A\u{a0}b &amp; c", "A b \\& c"),
        ];
        for (one, two) in same {
            assert_eq!(seen(one), seen(two), "{one:?} {two:?}");
        }
    }

    #[test]
    fn what_differs_for_a_reader_is_seen() {
        let all = [
            "one two",
            "one\n\ntwo",
            "onetwo",
            "*one* two",
            "*one*two",
            "**one** two",
            "- one two",
            "1. one two",
            "2. one two",
            "- one\n- two",
            "- one\n  - two",
            "# one two",
            "## one two",
            "## one two {#x}",
            "> one two",
            "`one two`",
            "    one two",
            "    one\n    two",
            "[one two](a)",
            "[one two](b)",
            "![one two](a)",
            "|one two|\n|-|\n",
            "|one|two|\n|-|-|\n",
            "one two[^a]\n\n[^a]: three",
            "~~one~~ two",
            "one two\n\n---\n",
        ];
        for (index, one) in all.iter().enumerate() {
            for two in &all[..index] {
                assert_ne!(seen(one), seen(two), "{one:?} {two:?}");
            }
        }
    }
}
