//! Makes text from sources safe to print: no character of it can move the cursor, colour the terminal or turn the reading direction.

use std::borrow::Cow;

/// Text for one line of a terminal. Line breaks and tabs become spaces, other control characters U+FFFD.
pub fn line(text: &str) -> Cow<'_, str> {
    if text.chars().any(is_unsafe) { Cow::Owned(text.chars().map(|c| shown(c, ' ')).collect()) } else { Cow::Borrowed(text) }
}

/// One character of a source line as it may be printed; a tab stays a tab, so that what is marked stands where it was written.
pub fn source_character(c: char) -> char {
    shown(c, '\t')
}

fn shown(c: char, tab: char) -> char {
    match c {
        '\t' => tab,
        '\n' | '\r' => ' ',
        c if is_unsafe(c) => char::REPLACEMENT_CHARACTER,
        c => c,
    }
}

/// C0 and C1 controls, the line and paragraph separators, and the bidirectional controls (Unicode Standard Annex 9, from memory).
fn is_unsafe(c: char) -> bool {
    c.is_control() || matches!(c, '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_printed_can_steer_a_terminal() {
        assert_eq!(line("plain — text"), "plain — text");
        assert_eq!(line("a\nb\tc"), "a b c");
        assert_eq!(line("\u{1b}[31mred"), "\u{fffd}[31mred");
        assert_eq!(line("x\u{202e}y\u{9b}z"), "x\u{fffd}y\u{fffd}z");
        assert_eq!(source_character('\t'), '\t');
    }
}
