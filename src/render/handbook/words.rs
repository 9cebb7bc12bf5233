//! Words of a rule's page as markup. The pages are our own; whatever looks like HTML in them is shown as text all the same.

use pulldown_cmark::{Event, Options, Parser, html};

use crate::finding::rule;
use crate::render::escape;

/// A stretch of Markdown; nothing for an empty one. The name of another rule leads to its page.
pub fn prose(markdown: &str) -> String {
    if markdown.trim().is_empty() {
        return String::new();
    }
    let events = Parser::new_ext(markdown, Options::ENABLE_TABLES).map(|event| match event {
        Event::Code(name) if rule::by_name(&name).is_some() => Event::Html(link(&name).into()),
        Event::Html(text) | Event::InlineHtml(text) => Event::Text(text),
        other => other,
    });
    let mut out = "<div class=\"prose\">\n".to_owned();
    html::push_html(&mut out, events);
    out + "</div>\n"
}

fn link(name: &str) -> String {
    let name = escape::text(name);
    format!("<a href=\"{name}.html\"><code>{name}</code></a>")
}

/// Plain text with `code` between backticks.
pub fn code(text: &str) -> String {
    let pieces = text.split('`').map(escape::text).enumerate();
    pieces.map(|(number, piece)| if number % 2 == 1 { format!("<code>{piece}</code>") } else { piece }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn code_and_names_of_rules_are_set() {
        assert_eq!(code("show `a<b` here"), "show <code>a&lt;b</code> here");
        assert!(
            prose("See `caution-missing` and `x`.")
                .contains("<a href=\"caution-missing.html\"><code>caution-missing</code></a> and <code>x</code>")
        );
        assert!(prose("<b>no</b>").contains("&lt;b&gt;"));
        assert_eq!(prose("\n"), "");
    }
}
