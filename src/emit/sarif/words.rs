//! Words that a reader of SARIF takes for nothing but words.

use crate::emit::clean;

/// A plain-text message that reads as `text`. Braces are doubled, since single ones hold places for arguments (3.11.5); a bracket before a
/// parenthesis is escaped, since the two make a link (3.11.6); and what looks like the beginning of an HTML tag, which such a message must not hold
/// (3.11.2), begins with another sign.
pub fn plain(text: &str) -> String {
    let text = clean::line(text);
    let mut out = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(sign) = rest.next() {
        match (sign, rest.peek()) {
            ('{', _) => out.push_str("{{"),
            ('}', _) => out.push_str("}}"),
            (']', Some('(')) => out.push_str("\\]"),
            ('<', Some(next)) if next.is_ascii_alphabetic() || matches!(next, '/' | '!' | '?') => out.push('‹'),
            (sign, _) => out.push(sign),
        }
    }
    out
}

/// `the key is missing` -> `The key is missing.`
pub fn sentence(text: &str) -> String {
    let mut letters = text.trim().chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    let whole = format!("{first}{}", letters.as_str());
    if whole.is_empty() || whole.ends_with(['.', '?', '!']) { whole } else { whole + "." }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_sign_of_a_message_means_more_than_itself() {
        assert_eq!(plain("write `{ then, when }`"), "write `{{ then, when }}`");
        assert_eq!(plain("[a](b) and [c]"), "[a\\](b) and [c]");
        assert_eq!(plain("<br> </p> <!-- --> 3 < 4 <"), "‹br> ‹/p> ‹!-- --> 3 < 4 <");
        assert_eq!(plain("two\nlines\u{1b}"), "two lines\u{fffd}");
        assert_eq!(sentence("the key is missing"), "The key is missing.");
        assert_eq!(sentence("`a` is it"), "`a` is it.");
        assert_eq!(sentence("done."), "Done.");
        assert_eq!(sentence(" "), "");
    }
}
