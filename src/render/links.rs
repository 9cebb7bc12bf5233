//! Where the links and pictures of a Markdown file lead in the site.

use crate::model::body::Body;
use crate::model::library::Library;
use crate::text::id::Id;

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
pub fn link(library: &Library, body: &Body, root: &str, target: &str) -> Target {
    if let Some(id) = target.strip_prefix('#') {
        return Target::Here(id.to_owned());
    }
    if let Some((scheme, _)) = target.split_once(':')
        && !scheme.contains(['/', '?', '.'])
    {
        // Anything else, `javascript:` above all, is no address for a page.
        let known = ["https", "http", "mailto", "tel"].iter().any(|known| scheme.eq_ignore_ascii_case(known));
        return if known { Target::Address(written_out(target)) } else { Target::Nothing };
    }
    let (path, fragment) = target.split_once('#').unwrap_or((target, ""));
    let Some(path) = resolve(library.sources.path(body.file), path) else { return Target::Nothing };
    page_of(library, &path, fragment).map_or(Target::Nothing, |page| Target::Address(format!("{root}{page}")))
}

/// A picture as seen from the file it is written in; `None` if the library has no such picture.
pub fn picture(library: &Library, body: &Body, root: &str, target: &str) -> Option<String> {
    let from_file = resolve(library.sources.path(body.file), target);
    let candidates = [from_file, resolve("", target), resolve("pictures/x", target)];
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
        return Some(format!("leaflets/{}.html", leaflet.id));
    }
    library.stop_card.as_ref().filter(|card| is_here(&card.body)).map(|_| "stop.html".to_owned())
}

/// A relative path as seen from a file. `None` if it leaves the library or begins at the top of something.
fn resolve(file: &str, target: &str) -> Option<String> {
    if target.starts_with('/') || target.is_empty() {
        return None;
    }
    let target = decoded(target);
    let mut parts: Vec<&str> = file.split('/').filter(|part| !part.is_empty()).collect();
    parts.pop();
    for piece in target.split('/') {
        match piece {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

/// `%20` and its like as the characters they stand for; anything malformed stays as written.
fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((first, more)) = rest.split_first() {
        let hex = more.get(..2).and_then(|pair| std::str::from_utf8(pair).ok()).and_then(|pair| u8::from_str_radix(pair, 16).ok());
        match (first, hex) {
            (b'%', Some(byte)) => {
                bytes.push(byte);
                rest = more.get(2..).unwrap_or_default();
            }
            _ => {
                bytes.push(*first);
                rest = more;
            }
        }
    }
    String::from_utf8(bytes).unwrap_or_else(|_| text.to_owned())
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
    fn paths_are_seen_from_their_file_and_stay_inside() {
        assert_eq!(resolve("procedures/a/x.md", "../y.md").as_deref(), Some("procedures/y.md"));
        assert_eq!(resolve("procedures/x.md", "../../y.md"), None);
        assert_eq!(resolve("procedures/x.md", "/y.md"), None);
        assert_eq!(resolve("stop.md", "leaflets/a%20b.md").as_deref(), Some("leaflets/a b.md"));
        assert_eq!(encoded("pictures/a b.png"), "pictures/a%20b.png");
    }

    #[test]
    fn only_addresses_that_are_safe_are_written() {
        let (library, body) = (Library::default(), Body::default());
        for bad in ["javascript:alert(1)", "JaVaScript:x", "data:text/html,x", "vbscript:x", "file:///etc/x", "//other/x"] {
            assert_eq!(link(&library, &body, "", bad), Target::Nothing, "{bad}");
        }
        assert_eq!(link(&library, &body, "", "mailto:a@b.example"), Target::Address("mailto:a@b.example".to_owned()));
        let odd = link(&library, &body, "", "https://a.example/b c?d=[\\]é%20");
        assert_eq!(odd, Target::Address("https://a.example/b%20c?d=%5B%5C%5D%C3%A9%20".to_owned()));
        assert_eq!(link(&library, &body, "", "#gap"), Target::Here("gap".to_owned()));
    }
}
