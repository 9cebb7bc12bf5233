//! The two lines of `---` around the front matter. Where it begins and ends, nothing of what it says.

use std::ops::Range;

/// How a Markdown file is cut. Ranges are bytes of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cut {
    /// No front matter; the whole file (its byte order mark aside) is the body.
    None {
        body: usize,
    },
    Found {
        yaml: Range<usize>,
        body: usize,
    },
    /// The first line opens it and no line closes it.
    Unclosed {
        opening: Range<usize>,
    },
}

/// Looks for front matter: the first line is `---`, and so is a later one. Blanks at the end of either line do not count.
pub fn cut(text: &str) -> Cut {
    let top = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let mut lines = lines(text, top);
    let Some(first) = lines.next().filter(|line| is_fence(text, line)) else {
        return Cut::None { body: top };
    };
    let mut yaml_start = None;
    for line in lines {
        let start = *yaml_start.get_or_insert(line.start);
        if is_fence(text, &line) {
            let body = after_break(text, line.end);
            return Cut::Found { yaml: start..line.start, body };
        }
    }
    Cut::Unclosed { opening: first }
}

fn is_fence(text: &str, line: &Range<usize>) -> bool {
    text.get(line.clone()).is_some_and(|line| line.trim_end_matches([' ', '\t']) == "---")
}

/// The lines from `top` on, without their breaks.
fn lines(text: &str, top: usize) -> impl Iterator<Item = Range<usize>> {
    let mut next = Some(top);
    std::iter::from_fn(move || {
        let start = next?;
        let rest = text.get(start..)?;
        let end = rest.find(['\n', '\r']).map_or(text.len(), |at| start + at);
        next = (end < text.len()).then(|| after_break(text, end));
        Some(start..end)
    })
}

fn after_break(text: &str, end: usize) -> usize {
    let rest = text.as_bytes().get(end..).unwrap_or_default();
    match rest {
        [b'\r', b'\n', ..] => end + 2,
        [b'\r' | b'\n', ..] => end + 1,
        _ => end,
    }
}
