//! Paths that authors write: whether they stay inside the library.

use crate::finding::rule::OUTSIDE_LIBRARY;
use crate::read::scope::{Scope, quoted};
use crate::text::place::At;

/// Whether a target leads out of the library when followed from the folder of the file at `from`. Targets with a scheme never do: they are no paths.
pub fn leads_outside(from: &str, target: &str) -> bool {
    let target = decoded(target).replace('\\', "/");
    let path = target.split(['#', '?']).next().unwrap_or("");
    if has_scheme(path) {
        return false;
    }
    let mut depth: i64 = if path.starts_with('/') { 0 } else { i64::try_from(from.matches('/').count()).unwrap_or(i64::MAX) };
    for piece in path.split('/') {
        match piece {
            "" | "." => {}
            ".." => depth -= 1,
            _ => depth += 1,
        }
        if depth < 0 {
            return true;
        }
    }
    false
}

/// Reports a path that leads outside; says whether it stays inside.
pub fn stays_inside(scope: &mut Scope<'_>, target: &At<String>) -> bool {
    let outside = leads_outside(scope.path, &target.value);
    if outside {
        let message = format!("the path {} leads outside the library", quoted(&target.value));
        scope.say(&OUTSIDE_LIBRARY, target.at, message, "put the file into the library and name it there");
    }
    !outside
}

fn has_scheme(path: &str) -> bool {
    path.split_once(':').is_some_and(|(scheme, _)| {
        scheme.starts_with(|c: char| c.is_ascii_alphabetic()) && scheme.chars().all(|c| c.is_ascii_alphanumeric() || "+-.".contains(c))
    })
}

/// Percent escapes undone once (RFC 3986, 2.1), so that `%2e%2e` is seen for what a browser makes of it.
fn decoded(target: &str) -> String {
    let bytes = target.as_bytes();
    let digit = |index: usize| bytes.get(index).and_then(|byte| char::from(*byte).to_digit(16));
    let mut out = Vec::with_capacity(bytes.len());
    let mut index = 0;
    while let Some(byte) = bytes.get(index) {
        match (*byte, digit(index + 1), digit(index + 2)) {
            (b'%', Some(high), Some(low)) => {
                out.push(u8::try_from(high * 16 + low).unwrap_or(b'?'));
                index += 3;
            }
            _ => {
                out.push(*byte);
                index += 1;
            }
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}
