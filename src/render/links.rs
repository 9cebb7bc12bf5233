//! Where the links and pictures of a Markdown file lead in the site.

use crate::model::body::Body;
use crate::model::library::Library;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::target::{self, SCHEMES, resolve};

/// What a link's target comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// An address to write.
    Address(String),
    /// A place in the same file.
    Here(String),
    /// Nothing in the site, or a kind of address that may not be written: its words stay, the link goes.
    Nothing,
}

/// A link as seen from the file it is written in. `root` leads from the page to the top of the site.
pub fn link(library: &Library, body: &Body, root: &str, written: &str) -> Target {
    match target::Target::parse(written) {
        // Anything else, `javascript:` above all, is no address for a page.
        target::Target::Elsewhere(scheme) if SCHEMES.contains(&scheme.as_str()) => Target::Address(written_out(written.trim())),
        target::Target::Elsewhere(_) => Target::Nothing,
        target::Target::Inside { path, fragment: Some(id) } if path.is_empty() => Target::Here(id),
        target::Target::Inside { path, fragment } => {
            let page =
                resolve(library.sources.path(body.file), &path).and_then(|path| page_of(library, &path, &fragment.unwrap_or_default()));
            page.map_or(Target::Nothing, |page| Target::Address(format!("{root}{page}")))
        }
    }
}

/// A picture as seen from the file it is written in; `None` if the library has no such picture.
pub fn picture(library: &Library, body: &Body, root: &str, written: &str) -> Option<String> {
    let target::Target::Inside { path, .. } = target::Target::parse(written) else { return None };
    let candidates = [library.sources.path(body.file), "", "pictures/x"].map(|from| resolve(from, &path));
    let found = candidates.into_iter().flatten().find(|path| library.pictures.contains(path))?;
    Some(format!("{root}{}", encoded(&found)))
}

/// The page of a Markdown file, with the place in it if it has one.
fn page_of(library: &Library, path: &str, fragment: &str) -> Option<String> {
    let is_here = |body: &Body| library.sources.path(body.file) == path;
    if let Some(procedure) = library.procedures.iter().find(|procedure| library.sources.path(procedure.at.file) == path) {
        let step = procedure.step(&Id::new(fragment)).map(|step| format!("#step-{}", step.id));
        return Some(format!("procedures/{}.html{}", procedure.id, step.unwrap_or_default()));
    }
    if let Some(leaflet) = library.leaflets.iter().find(|leaflet| is_here(&leaflet.body)) {
        return Some(format!("leaflets/{}.html{}", leaflet.id, heading_of(&leaflet.body, fragment)));
    }
    let card = library.stop_card.as_ref().filter(|card| is_here(&card.body))?;
    Some(format!("stop.html{}", heading_of(&card.body, fragment)))
}

/// The address of a heading on a plain page; empty if there is no such heading.
fn heading_of(body: &Body, id: &str) -> String {
    let sections = || std::iter::once(&body.introduction).chain(&body.sections);
    let is_it = |found: &At<Id>| found.value.as_str() == id;
    let found = sections()
        .any(|section| section.id.as_ref().is_some_and(is_it) || section.headings.iter().any(|it| it.id.as_ref().is_some_and(is_it)));
    if found { format!("#words-{id}") } else { String::new() }
}

/// An address with `%` before what may not stand in one: the marks that RFC 3986 (2) knows stay, but for square brackets, as in CommonMark's examples.
fn written_out(address: &str) -> String {
    let stays = |byte: u8| byte.is_ascii_alphanumeric() || b"!#$%&'()*+,-./:;=?@_~".contains(&byte);
    address.bytes().map(|byte| if stays(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}

/// A path as part of an address.
fn encoded(path: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'-' | b'_' | b'.' | b'~');
    path.bytes().map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_written_as_addresses() {
        assert_eq!(encoded("pictures/a b.png"), "pictures/a%20b.png");
    }

    #[test]
    fn only_addresses_that_are_safe_are_written() {
        let (library, body) = (Library::default(), Body::default());
        for bad in
            ["javascript:alert(1)", "JaVaScript:x", "data:text/html,x", "vbscript:x", "file:///etc/x", "//other/x", " java\tscript:x"]
        {
            assert_eq!(link(&library, &body, "", bad), Target::Nothing, "{bad}");
        }
        assert_eq!(link(&library, &body, "", "mailto:a@b.example"), Target::Address("mailto:a@b.example".to_owned()));
        let odd = link(&library, &body, "", "https://a.example/b c?d=[\\]é%20");
        assert_eq!(odd, Target::Address("https://a.example/b%20c?d=%5B%5C%5D%C3%A9%20".to_owned()));
        assert_eq!(link(&library, &body, "", "#gap"), Target::Here("gap".to_owned()));
    }
}
