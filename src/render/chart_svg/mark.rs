//! Elements and attributes, escaped.

use std::fmt::Write as _;

/// One element being written.
#[derive(Clone, Debug)]
pub struct Tag {
    name: &'static str,
    attributes: String,
}

impl Tag {
    pub fn new(name: &'static str) -> Self {
        Self { name, attributes: String::new() }
    }

    pub fn with(mut self, name: &str, value: impl AsRef<str>) -> Self {
        // Writing to a text cannot fail.
        let _ = write!(self.attributes, " {name}=\"{}\"", escape(value.as_ref()));
        self
    }

    pub fn open(&self) -> String {
        format!("<{}{}>", self.name, self.attributes)
    }

    pub fn empty(&self) -> String {
        format!("<{}{}/>", self.name, self.attributes)
    }

    pub fn around(&self, inner: &str) -> String {
        format!("<{}{}>{inner}</{}>", self.name, self.attributes, self.name)
    }

    pub fn text(&self, text: &str) -> String {
        self.around(&escape(text))
    }
}

/// Safe in text and in quoted attributes, of HTML and of XML; control characters, which XML cannot hold, are left out.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' | '\t' => safe.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => {}
            other if other.is_control() => {}
            other => safe.push(other),
        }
    }
    safe
}
