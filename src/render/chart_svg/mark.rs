//! Elements and attributes, escaped.

/// One element being written.
#[derive(Clone, Debug)]
pub struct Tag {
    name: &'static str,
    /// `<`, the name and the attributes so far.
    begun: String,
}

impl Tag {
    pub fn new(name: &'static str) -> Self {
        let mut begun = String::with_capacity(96);
        begun.push('<');
        begun.push_str(name);
        Self { name, begun }
    }

    pub fn with(mut self, name: &str, value: impl AsRef<str>) -> Self {
        self.begun.push(' ');
        self.begun.push_str(name);
        self.begun.push_str("=\"");
        escape_to(&mut self.begun, value.as_ref());
        self.begun.push('"');
        self
    }

    pub fn open(mut self) -> String {
        self.begun.push('>');
        self.begun
    }

    pub fn empty(mut self) -> String {
        self.begun.push_str("/>");
        self.begun
    }

    pub fn around(self, inner: &str) -> String {
        self.close(inner.len(), |markup| markup.push_str(inner))
    }

    pub fn text(self, text: &str) -> String {
        self.close(text.len(), |markup| escape_to(markup, text))
    }

    fn close(self, room: usize, inner: impl FnOnce(&mut String)) -> String {
        let name = self.name;
        let mut markup = self.open();
        markup.reserve(room + name.len() + 3);
        inner(&mut markup);
        markup.push_str("</");
        markup.push_str(name);
        markup.push('>');
        markup
    }
}

/// Safe in text and in quoted attributes, of HTML and of XML; control characters, which XML cannot hold, are left out.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    escape_to(&mut safe, text);
    safe
}

fn escape_to(safe: &mut String, text: &str) {
    // Most texts have nothing to escape. Of the signs beyond ASCII those that go begin with one of two bytes.
    let stays = |byte: u8| !matches!(byte, 0..=0x1F | 0x7F | b'&' | b'<' | b'>' | b'"' | b'\'' | 0xC2 | 0xEF);
    if text.bytes().all(stays) {
        safe.push_str(text);
        return;
    }
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_alone_and_beside_others_is_escaped_alike() {
        let alone = |sign: char| match sign {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            '>' => "&gt;".to_owned(),
            '"' => "&quot;".to_owned(),
            '\'' => "&#39;".to_owned(),
            '\n' | '\t' => " ".to_owned(),
            '\u{FFFE}' | '\u{FFFF}' => String::new(),
            sign if sign.is_control() => String::new(),
            sign => sign.to_string(),
        };
        for sign in '\0'..=char::MAX {
            assert_eq!(escape(sign.encode_utf8(&mut [0; 4])), alone(sign), "{sign:?}");
        }
        assert_eq!(Tag::new("a").with("b", "<&>").with("c", "\u{7f}x").text("y\u{85}'"), "<a b=\"&lt;&amp;&gt;\" c=\"x\">y&#39;</a>");
    }
}
