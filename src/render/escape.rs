//! Text made safe for the place it stands in.

/// Text for an element or a double-quoted attribute.
pub fn text(value: &str) -> String {
    // Most texts have nothing to escape.
    if value.bytes().all(|byte| !matches!(byte, b'&' | b'<' | b'>' | b'"' | b'\'' | b'\0' | 0xB | 0xC)) {
        return value.to_owned();
    }
    let mut out = String::with_capacity(value.len() + 8);
    for c in value.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // HTML allows neither as text; a reader shows a replacement.
            '\0' | '\u{b}' | '\u{c}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// JSON for a script element: no `<` is left, so neither `</script` nor `<!--` can end or change it.
pub fn json_in_script(value: &serde_json::Value) -> String {
    let mut text = value.to_string();
    for (sign, escaped) in [('<', "\\u003c"), ('\u{2028}', "\\u2028"), ('\u{2029}', "\\u2029")] {
        // Most texts hold none of them, and need not be copied.
        if text.contains(sign) {
            text = text.replace(sign, escaped);
        }
    }
    text
}

/// A `tera` value that holds markup already made safe.
pub fn safe(markup: &str) -> tera::Value {
    tera::Value::safe_string(markup)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_leaves_its_place() {
        assert_eq!(text("<a href=\"x\">'&"), "&lt;a href=&quot;x&quot;&gt;&#39;&amp;");
        let json = json_in_script(&serde_json::json!({ "a": "</script><!--\u{2028}" }));
        assert!(!json.contains('<') && !json.contains('\u{2028}'));
        let back: serde_json::Value = serde_json::from_str(&json).expect("still JSON");
        assert_eq!(back["a"], "</script><!--\u{2028}");
    }
}
