//! What lets a browser keep a site: the worker with the digest of every file, and the site's description for the device's list of programs.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use serde_json::json;
use sha2::{Digest, Sha256};

use crate::model::library::Library;
use crate::theme;

/// What the device's list of programs shows of a site.
pub fn description(library: &Library) -> BTreeMap<String, Vec<u8>> {
    let description = json!({
        "name": library.settings.title(),
        "short_name": library.settings.title(),
        "lang": library.settings.language(),
        "start_url": "index.html",
        "scope": "./",
        "display": "minimal-ui",
        "background_color": "#fdfcf8",
        "theme_color": "#fdfcf8",
        "icons": [{ "src": "icon.svg", "sizes": "any", "type": "image/svg+xml" }],
    });
    BTreeMap::from([
        ("icon.svg".to_owned(), theme::icon().into_bytes()),
        ("site.webmanifest".to_owned(), format!("{description:#}\n").into_bytes()),
    ])
}

/// Whether a browser keeps a file. Certificates are for programs; a telephone in a cellar has no use for them.
pub fn keeps(path: &str) -> bool {
    !path.ends_with(".certificate.json")
}

/// The worker, with its path. It knows every other file that is kept by its digest.
pub fn worker(digests: &BTreeMap<String, String>) -> (String, Vec<u8>) {
    let list = serde_json::to_string_pretty(digests).expect("a map of texts always has a JSON form");
    let edition = digest(list.as_bytes());
    let worker = theme::worker().replace("{edition}", &edition[..16]).replace("{files}", &list);
    ("offline.js".to_owned(), worker.into_bytes())
}

/// SHA-256, which browsers have, in hexadecimal.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        // Writing to a text does not fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
