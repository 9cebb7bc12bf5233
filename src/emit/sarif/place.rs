//! Places of the library as SARIF states them: an address below the library's folder, and a region in lines and characters.

use crate::emit::sarif::BASE;
use crate::emit::sarif::shape::{ArtifactLocation, Location, PhysicalLocation, Region};
use crate::text::place::{Place, Sources};

/// A location that is nothing but a place; without one if no file was read there.
pub fn location<'a>(place: Place, sources: &Sources) -> Location<'a> {
    let path = sources.path(place.file);
    let text = sources.get(place.file).map_or("", |source| source.text.as_str());
    let physical_location = (!path.is_empty()).then(|| PhysicalLocation {
        artifact_location: ArtifactLocation { uri: Some(address(path)), uri_base_id: Some(BASE), description: None },
        region: region(place, text),
    });
    Location { id: None, physical_location, logical_locations: Vec::new(), message: None }
}

/// A path as a relative reference (RFC 3986): everything but unreserved characters and `/` is percent-encoded, the colon too, which could otherwise make
/// a scheme of the first part.
fn address(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for byte in path.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => out.push(char::from(byte)),
            byte => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

/// From the first character that is meant to one past the last. A place without extent begins and ends at the same column.
fn region(place: Place, text: &str) -> Region {
    let meant = text.get(place.start as usize..place.end as usize).unwrap_or("");
    let (mut end_line, mut end_column) = (place.line, place.column);
    let mut signs = meant.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign == '\n' || (sign == '\r' && signs.peek() != Some(&'\n')) {
            end_line += 1;
            end_column = 1;
        } else if place.start == 0 && end_line == 1 && sign == '\u{feff}' {
            // A byte order mark is no column (3.30.2, as in the reader).
        } else {
            end_column += 1;
        }
    }
    Region { start_line: place.line, start_column: place.column, end_line, end_column }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(line: u32, column: u32, start: u32, end: u32) -> Place {
        Place { line, column, start, end, ..Place::default() }
    }

    fn at(start: (u32, u32), end: (u32, u32)) -> Region {
        Region { start_line: start.0, start_column: start.1, end_line: end.0, end_column: end.1 }
    }

    #[test]
    fn a_region_ends_one_past_its_last_character() {
        let text = "a: 🙂é b\r\nc: d\re";
        assert_eq!(region(place(1, 4, 3, 9), text), at((1, 4), (1, 6)));
        assert_eq!(region(place(1, 4, 3, 17), text), at((1, 4), (2, 5)));
        assert_eq!(region(place(1, 4, 3, 19), text), at((1, 4), (3, 2)));
        assert_eq!(region(place(1, 1, 0, 0), text), at((1, 1), (1, 1)));
        assert_eq!(region(place(1, 1, 0, 900), text), at((1, 1), (1, 1)));
        assert_eq!(region(place(1, 1, 0, 4), "\u{feff}ab"), at((1, 1), (1, 2)));
    }

    #[test]
    fn an_address_is_ascii_and_relative() {
        assert_eq!(address("procedures/a-b_c.md"), "procedures/a-b_c.md");
        assert_eq!(address("procedures/größe 1#2%?.md"), "procedures/gr%C3%B6%C3%9Fe%201%232%25%3F.md");
        assert_eq!(address("a:b"), "a%3Ab");
    }
}
