//! A quick reader of YAML as it is mostly written: block mappings and lists, one entry a line, and on a line bare words, texts in quotes without escapes, and
//! lists and mappings in brackets. It makes the very tree that the parser makes, place for place, or none at all: whatever is written in any other way is the
//! parser's. It knows no errors: what it does not understand need not be one.

use crate::read::yaml::{Builder, Document, Places};
use crate::text::place::Place;

/// The deepest nesting that is read here; far less than is refused.
const DEEPEST: usize = 24;
/// The longest key; the parser takes longer ones.
const LONGEST_KEY: usize = 128;

/// Reads a document. `None` if it is not all plain.
pub(super) fn parse(text: &str, places: Places) -> Option<Document> {
    if !is_plain(text) {
        return None;
    }
    let mut reader = Reader { text, bytes: text.as_bytes(), at: 0, line: 1, line_start: 0, builder: Builder::new(places) };
    reader.next_entry(0);
    if reader.is_over() || reader.column() != 0 {
        return None;
    }
    reader.mapping(0, 0)?;
    reader.is_over().then(|| reader.builder.finish())
}

/// Whether it holds only letters that stand for themselves everywhere: no tabs and other control characters, no other line breaks than line feeds, no byte order
/// marks.
fn is_plain(text: &str) -> bool {
    // Those beyond ASCII begin with one of these bytes: U+0080 to U+009F; U+2028 and U+2029; U+FEFF, U+FFFE and U+FFFF.
    let suspect = |byte: u8| matches!(byte, 0xC2 | 0xE2 | 0xEF);
    let plain = |byte: u8| byte == b'\n' || (byte >= b' ' && byte != 0x7F);
    text.bytes().all(plain)
        && (!text.bytes().any(suspect)
            || !text.chars().any(|sign| {
                sign.is_control() && sign != '\n' || matches!(sign, '\u{2028}' | '\u{2029}' | '\u{FEFF}' | '\u{FFFE}' | '\u{FFFF}')
            }))
}

struct Reader<'t> {
    text: &'t str,
    bytes: &'t [u8],
    at: usize,
    /// From 1.
    line: usize,
    line_start: usize,
    builder: Builder,
}

impl Reader<'_> {
    /// The byte that comes next; a line feed at the end.
    fn byte(&self, ahead: usize) -> u8 {
        self.bytes.get(self.at + ahead).copied().unwrap_or(b'\n')
    }

    fn is_over(&self) -> bool {
        self.at == self.bytes.len()
    }

    /// Bytes since the line began; of what stands behind spaces alone these are characters, too.
    fn column(&self) -> usize {
        self.at - self.line_start
    }

    fn spaces(&mut self) {
        while self.byte(0) == b' ' {
            self.at += 1;
        }
    }

    /// Goes on to the first sign of the next line that says something, from a place at which nothing more is said on the line. `from`: where the spaces before
    /// that place began, as a comment stands behind a space.
    fn next_entry(&mut self, from: usize) -> Option<()> {
        loop {
            self.spaces();
            if self.byte(0) == b'#' && (self.at == self.line_start || self.at > from) {
                while self.byte(0) != b'\n' {
                    self.at += 1;
                }
            }
            match self.bytes.get(self.at) {
                None => return Some(()),
                Some(b'\n') => {
                    self.at += 1;
                    self.line += 1;
                    self.line_start = self.at;
                }
                // At the start of a line this is the next entry; else something stands where nothing may.
                Some(_) if self.bytes.get(self.line_start..self.at).is_some_and(|before| before.iter().all(|byte| *byte == b' ')) => {
                    return Some(());
                }
                Some(_) => return None,
            }
        }
    }

    fn place(&self, start: usize, end: usize) -> Place {
        let before = self.bytes.get(self.line_start..start).unwrap_or_default();
        // Continuation bytes of UTF-8 are 10xxxxxx; every other byte begins a character.
        let column = before.iter().filter(|byte| (**byte & 0xC0) != 0x80).count();
        self.builder.place(self.line, column, start, end)
    }

    /// The entries of a block mapping whose keys stand at a column; the first of them is next.
    fn mapping(&mut self, column: usize, depth: usize) -> Option<()> {
        if depth > DEEPEST {
            return None;
        }
        self.builder.open_map(self.place(self.at, self.at));
        loop {
            self.key()?;
            self.value(column, depth)?;
            if self.is_over() || self.column() < column {
                break;
            }
            if self.column() > column {
                return None;
            }
        }
        self.builder.close_at(self.at);
        Some(())
    }

    /// The entries of a block list whose dashes stand at a column; the first of them is next.
    fn list(&mut self, column: usize, depth: usize) -> Option<()> {
        if depth > DEEPEST {
            return None;
        }
        self.builder.open_list(self.place(self.at, self.at));
        while !self.is_over() && self.column() == column {
            if self.byte(0) != b'-' || self.byte(1) != b' ' {
                return None;
            }
            self.at += 1;
            self.spaces();
            if self.key_length().is_some() {
                let inner = self.column();
                // The column of a key is counted in characters; before it stand spaces and a dash alone.
                self.mapping(inner, depth + 1)?;
            } else {
                self.on_line(depth)?;
            }
            if !self.is_over() && self.column() > column {
                return None;
            }
        }
        self.builder.close_at(self.at);
        Some(())
    }

    /// How long the key is that comes next, if one does: letters, digits and hyphens, then a colon with a space or nothing behind it.
    fn key_length(&self) -> Option<usize> {
        let rest = self.bytes.get(self.at..)?;
        let length = rest.iter().take(LONGEST_KEY).position(|byte| !byte.is_ascii_alphanumeric() && *byte != b'-' && *byte != b'_')?;
        let begins = rest.first().is_some_and(u8::is_ascii_alphanumeric);
        let ends = rest.get(length) == Some(&b':') && matches!(rest.get(length + 1), None | Some(b' ' | b'\n'));
        (begins && ends).then_some(length)
    }

    /// A key, and the colon behind it.
    fn key(&mut self) -> Option<()> {
        let length = self.key_length()?;
        self.scalar(self.at, self.at + length, self.at..self.at + length, true);
        self.at += length + 1;
        Some(())
    }

    /// What stands behind the colon of a key at a column: something on the line, something below it that is further in, or nothing.
    fn value(&mut self, column: usize, depth: usize) -> Option<()> {
        let colon = self.at - 1;
        let from = self.at;
        self.spaces();
        if self.byte(0) != b'\n' && self.byte(0) != b'#' {
            return self.on_line(depth);
        }
        let nothing = self.place(colon, colon);
        self.next_entry(from)?;
        if self.is_over() || self.column() < column {
            self.builder.scalar(nothing, String::new(), true);
            return Some(());
        }
        if self.column() == column {
            // A list may stand right under its key; that is the parser's.
            if self.byte(0) == b'-' {
                return None;
            }
            self.builder.scalar(nothing, String::new(), true);
            return Some(());
        }
        let inner = self.column();
        // Whoever asked for the value sees whether what comes next stands where it may.
        if self.byte(0) == b'-' { self.list(inner, depth + 1) } else { self.mapping(inner, depth + 1) }
    }

    /// A value that ends on its line, and on to the next entry.
    fn on_line(&mut self, depth: usize) -> Option<()> {
        match self.byte(0) {
            b'[' | b'{' => self.bracket(depth + 1)?,
            b'"' | b'\'' => self.quoted()?,
            _ => self.bare(false)?,
        }
        let from = self.at;
        self.next_entry(from)
    }

    /// A text in quotes, without an escape or a line break.
    fn quoted(&mut self) -> Option<()> {
        let (start, quote) = (self.at, self.byte(0));
        let inner = self.bytes.get(start + 1..)?;
        let length = inner.iter().position(|byte| *byte == quote || *byte == b'\n' || *byte == b'\\')?;
        let end = start + 1 + length;
        // In single quotes two of them are one: then something stands behind the first, and all of it is the parser's.
        if self.bytes.get(end) != Some(&quote) {
            return None;
        }
        self.scalar(start, end + 1, start + 1..end, false);
        self.at = end + 1;
        Some(())
    }

    /// Bare words, as far as they go on the line or, in brackets, to the next sign of the brackets.
    fn bare(&mut self, bracketed: bool) -> Option<()> {
        let start = self.at;
        match self.byte(0) {
            b'-' | b'.' if self.byte(1).is_ascii_alphanumeric() => {}
            byte if byte.is_ascii_alphanumeric() || byte >= 0x80 || matches!(byte, b'(' | b'/' | b'+') => {}
            _ => return None,
        }
        let mut end = start;
        loop {
            match self.byte(0) {
                b'\n' => break,
                b',' | b'[' | b']' | b'{' | b'}' if bracketed => break,
                b' ' => {
                    self.at += 1;
                    if self.byte(0) == b'#' {
                        break;
                    }
                    continue;
                }
                // A colon inside a word is one; one behind a word is none of it.
                b':' if bracketed || matches!(self.byte(1), b' ' | b'\n') => return None,
                _ => self.at += 1,
            }
            end = self.at;
        }
        self.at = end;
        self.scalar(start, end, start..end, true);
        Some(())
    }

    /// A list or mapping in brackets, on one line.
    fn bracket(&mut self, depth: usize) -> Option<()> {
        if depth > DEEPEST {
            return None;
        }
        let opening = self.place(self.at, self.at + 1);
        let is_list = self.byte(0) == b'[';
        let closing = if is_list { b']' } else { b'}' };
        if is_list {
            self.builder.open_list(opening);
        } else {
            self.builder.open_map(opening);
        }
        self.at += 1;
        self.spaces();
        while self.byte(0) != closing {
            let colon = if is_list { None } else { Some(self.key().map(|()| self.at - 1)?) };
            self.spaces();
            match (self.byte(0), colon) {
                (byte, Some(colon)) if byte == b',' || byte == closing => {
                    let nothing = self.place(colon, colon);
                    self.builder.scalar(nothing, String::new(), true);
                }
                (b'[' | b'{', _) => self.bracket(depth + 1)?,
                (b'"' | b'\'', _) => self.quoted()?,
                _ => self.bare(true)?,
            }
            self.spaces();
            match self.byte(0) {
                b',' => self.at += 1,
                byte if byte == closing => break,
                _ => return None,
            }
            self.spaces();
            // Nothing behind the last comma: the parser knows what that means.
            if self.byte(0) == closing {
                return None;
            }
        }
        self.at += 1;
        self.builder.close_at(self.at);
        Some(())
    }

    fn scalar(&mut self, start: usize, end: usize, text: std::ops::Range<usize>, plain: bool) {
        let place = self.place(start, end);
        self.builder.scalar(place, self.text.get(text).unwrap_or_default().to_owned(), plain);
    }
}
