//! A stretch of running text (a paragraph, a list item, one text of the front matter) that knows where in its file each letter was written.

use std::ops::Range;

use super::place::{At, FileId};

/// The text as a reader sees it, without markup.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Passage {
    pub file: FileId,
    pub text: String,
    /// In the order of the text.
    pieces: Vec<Piece>,
}

/// A run of letters that stand in the file as they stand in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Piece {
    /// Byte of the text.
    from: usize,
    /// Byte of the file.
    start: u32,
    /// Bytes of the file that it takes up.
    length: u32,
    /// Written as code: a text of a panel or a key, not the author's own words.
    quoted: bool,
}

impl Passage {
    pub fn new(file: FileId) -> Self {
        Self { file, ..Self::default() }
    }

    /// Adds what stands at these bytes of the file.
    pub fn push(&mut self, text: &str, start: u32, length: u32, quoted: bool) {
        self.pieces.push(Piece { from: self.text.len(), start, length, quoted });
        self.text.push_str(text);
    }

    /// Adds a space that parts words.
    pub fn part(&mut self) {
        self.text.push(' ');
    }

    /// A scalar of the front matter. It may be folded over several lines, so each of its words is looked for after the one before; a word that was
    /// written by an escape is put where the one before it ends.
    pub fn of_scalar(scalar: &At<String>, source: &str) -> Self {
        let mut passage = Self::new(scalar.at.file);
        let (start, end) = (scalar.at.start, scalar.at.end);
        let slice = source.get(start as usize..end as usize).unwrap_or_default();
        let mut cursor = 0;
        for word in scalar.value.split_whitespace() {
            if !passage.text.is_empty() {
                passage.part();
            }
            let found = slice.get(cursor..).and_then(|rest| rest.find(word)).map(|at| cursor + at);
            let length = found.map_or(0, |_| word.len());
            let at = found.unwrap_or(cursor);
            passage.push(word, start + whole(at), whole(length), false);
            cursor = at + length;
        }
        passage
    }

    /// Byte of the file at which it begins.
    pub fn start(&self) -> u32 {
        self.byte(0)
    }

    /// The bytes of the file where a range of the text was written.
    pub fn source(&self, range: Range<usize>) -> Range<usize> {
        let start = self.byte(range.start);
        let last = range.end.saturating_sub(1).max(range.start);
        start as usize..(self.byte(last) + 1).max(start) as usize
    }

    fn byte(&self, at: usize) -> u32 {
        let index = self.pieces.partition_point(|piece| piece.from <= at).saturating_sub(1);
        self.pieces.get(index).map_or(0, |piece| piece.start + whole(at.saturating_sub(piece.from)).min(piece.length.saturating_sub(1)))
    }

    /// The ranges of the text that are code.
    pub fn quoted(&self) -> Vec<Range<usize>> {
        let ends = self.pieces.iter().skip(1).map(|piece| piece.from).chain([self.text.len()]);
        self.pieces.iter().zip(ends).filter(|(piece, _)| piece.quoted).map(|(piece, end)| piece.from..end).collect()
    }
}

fn whole(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::place::Place;

    fn scalar(source: &str, value: &str) -> Passage {
        let at = Place { end: whole(source.len()), ..Place::default() };
        Passage::of_scalar(&At::new(value.to_owned(), at), source)
    }

    #[test]
    fn a_folded_scalar_is_found_word_by_word() {
        let source = ">-\n    Open the tray.\n    Wait for the fan.\n";
        let passage = scalar(source, "Open the tray. Wait for the fan.");
        let at = passage.text.find("Wait").unwrap_or_default();
        assert_eq!(&source[passage.source(at..at + 12)], "Wait for the");
    }

    #[test]
    fn an_escape_moves_nothing_behind_it() {
        let source = r#""Caf\u00e9 side: press it""#;
        let passage = scalar(source, "Café side: press it");
        let at = passage.text.find("press").unwrap_or_default();
        assert_eq!(&source[passage.source(at..at + 5)], "press");
    }

    #[test]
    fn code_is_told_apart() {
        let mut passage = Passage::new(FileId(0));
        passage.push("Press ", 0, 6, false);
        passage.push("Some", 7, 4, true);
        passage.part();
        passage.push("now", 13, 3, false);
        assert_eq!(passage.quoted(), [6..11]);
        assert_eq!(passage.source(11..14), 13..16);
    }
}
