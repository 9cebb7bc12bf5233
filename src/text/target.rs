//! What a link or a picture leads to, as written: a scheme, or a path inside the library with perhaps a fragment.

/// A target taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// It begins with a scheme, here in lower case and without the colon.
    Elsewhere(String),
    /// A path relative to the file it is written in (empty: that file), and the fragment after `#`, both decoded.
    Inside { path: String, fragment: Option<String> },
}

/// The schemes a link may have (`rules.md`, `raw-html`).
pub const SCHEMES: [&str; 4] = ["https", "http", "mailto", "tel"];

impl Target {
    /// Takes a target apart as a browser would: white space and control characters around it fall away, tabs and line ends inside too
    /// (WHATWG URL, basic parser), so that no scheme hides behind them.
    pub fn parse(written: &str) -> Self {
        let trimmed = written.trim_matches(|c: char| c <= ' ');
        let plain: String = trimmed.chars().filter(|c| !matches!(c, '\t' | '\n' | '\r')).collect();
        if let Some(scheme) = scheme(&plain) {
            return Self::Elsewhere(scheme);
        }
        let (path, fragment) = match plain.split_once('#') {
            Some((path, fragment)) => (path, Some(decoded(fragment))),
            None => (plain.as_str(), None),
        };
        Self::Inside { path: decoded(path), fragment }
    }
}

/// RFC 3986, 3.1: a letter, then letters, digits, `+`, `-`, `.`, up to a colon.
fn scheme(text: &str) -> Option<String> {
    let (scheme, _) = text.split_once(':')?;
    let fits = scheme.starts_with(|c: char| c.is_ascii_alphabetic())
        && scheme.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'+' | b'-' | b'.'));
    fits.then(|| scheme.to_ascii_lowercase())
}

/// The path of the library that a relative path leads to from a file; `None` if it is absolute or leads outside.
pub fn resolve(from: &str, relative: &str) -> Option<String> {
    if relative.is_empty() {
        return Some(from.to_owned());
    }
    if relative.starts_with('/') {
        return None;
    }
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in relative.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

/// `%20` and its like as the characters they stand for.
fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        let digits = after.get(..2).filter(|digits| digits.iter().all(u8::is_ascii_hexdigit));
        let code = digits.and_then(|digits| std::str::from_utf8(digits).ok()).and_then(|digits| u8::from_str_radix(digits, 16).ok());
        match (first, code) {
            (b'%', Some(code)) => {
                bytes.push(code);
                rest = after.get(2..).unwrap_or_default();
            }
            _ => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inside(path: &str, fragment: Option<&str>) -> Target {
        Target::Inside { path: path.to_owned(), fragment: fragment.map(str::to_owned) }
    }

    #[test]
    fn no_scheme_hides_behind_case_space_or_line_ends() {
        for odd in ["javascript:alert(1)", " JavaScript:x", "java\nscript:x", "\u{1}javascript:x"] {
            assert_eq!(Target::parse(odd), Target::Elsewhere("javascript".to_owned()), "{odd:?}");
        }
        assert_eq!(Target::parse("HTTPS://a.example/b:c"), Target::Elsewhere("https".to_owned()));
    }

    #[test]
    fn a_path_and_a_fragment_are_decoded() {
        assert_eq!(Target::parse("isolate.md#cool"), inside("isolate.md", Some("cool")));
        assert_eq!(Target::parse("#cool"), inside("", Some("cool")));
        assert_eq!(Target::parse("../pictures/a%20b.svg"), inside("../pictures/a b.svg", None));
        assert_eq!(Target::parse("1:2.md"), inside("1:2.md", None));
        assert_eq!(Target::parse("50%25%"), inside("50%%", None));
        assert_eq!(Target::parse("%+f"), inside("%+f", None));
    }

    #[test]
    fn paths_are_relative_to_the_file_and_stay_inside() {
        assert_eq!(resolve("procedures/paper/jam.md", "../isolate.md").as_deref(), Some("procedures/isolate.md"));
        assert_eq!(resolve("procedures/jam.md", "").as_deref(), Some("procedures/jam.md"));
        assert_eq!(resolve("stop.md", "./leaflets//a.md").as_deref(), Some("leaflets/a.md"));
        assert_eq!(resolve("procedures/jam.md", "../../x.md"), None);
        assert_eq!(resolve("procedures/jam.md", "/stop.md"), None);
        assert_eq!(resolve("procedures/jam.md", "//far.example/x.md"), None);
    }
}
