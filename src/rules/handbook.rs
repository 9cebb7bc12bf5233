//! The handbook: the page of each rule, taken into the program when it is compiled.

use include_dir::{Dir, include_dir};

use crate::finding::Rule;

static PAGES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/rules");

/// The page as written, or `None` if the rule has none yet.
pub fn page(rule: &Rule) -> Option<&'static str> {
    let path = format!("{}/{}.md", rule.group.as_str(), rule.name.replace('-', "_"));
    PAGES.get_file(path)?.contents_utf8()
}

/// The first line of the page that is not its title: one sentence.
pub fn summary(rule: &Rule) -> Option<&'static str> {
    page(rule)?.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'))
}
