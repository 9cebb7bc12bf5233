//! From bytes to lines and columns, for a file read from front to back.

use std::cell::Cell;
use std::ops::Range;

use crate::text::place::{FileId, Place};

/// How many line breaks a text holds: line feeds, carriage returns, and the two together as one.
pub fn breaks(text: &str) -> usize {
    let bytes = text.as_bytes();
    let lone = |index: usize| bytes.get(index + 1) != Some(&b'\n');
    bytes.iter().enumerate().filter(|(index, byte)| **byte == b'\n' || (**byte == b'\r' && lone(*index))).count()
}

/// The lines of one file. Columns count characters; a byte order mark at the top counts as none.
pub struct Lines<'a> {
    file: FileId,
    text: &'a str,
    starts: Vec<usize>,
    /// The last place asked for (line index, byte, characters before it), so that one long line is walked once.
    last: Cell<(usize, usize, usize)>,
}

impl<'a> Lines<'a> {
    pub fn new(file: FileId, text: &'a str) -> Self {
        let bytes = text.as_bytes();
        let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let mut starts = vec![mark];
        for (index, byte) in bytes.iter().enumerate() {
            if *byte == b'\n' || (*byte == b'\r' && bytes.get(index + 1) != Some(&b'\n')) {
                starts.push(index + 1);
            }
        }
        Self { file, text, starts, last: Cell::new((0, mark, 0)) }
    }

    /// The place of a stretch of bytes. An offset inside a character counts as the character's end.
    pub fn place(&self, range: Range<usize>) -> Place {
        let start = range.start.min(self.text.len());
        let line = self.starts.partition_point(|begin| *begin <= start).saturating_sub(1);
        let begin = self.starts.get(line).copied().unwrap_or(0);
        let (last_line, last_byte, last_count) = self.last.get();
        let (from, counted) = if last_line == line && last_byte <= start { (last_byte, last_count) } else { (begin, 0) };
        let more = self.text.as_bytes().get(from..start).unwrap_or_default();
        // Continuation bytes of UTF-8 are 10xxxxxx; every other byte begins a character.
        let column = counted + more.iter().filter(|byte| (**byte & 0xC0) != 0x80).count();
        self.last.set((line, start, column));
        let whole = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        Place {
            file: self.file,
            line: whole(line + 1),
            column: whole(column + 1),
            start: whole(start),
            end: whole(range.end.clamp(start, self.text.len().max(start))),
        }
    }
}
