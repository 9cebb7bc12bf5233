//! The list of a site's files with their digests: it marks a folder as a site of ours and says which files in it are ours.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Its name, at the top of a site.
pub const NAME: &str = "stepward-site.json";
const SCHEMA: &str = "stepward/site/1";

/// No clock, no name of a machine or person: the same library makes the same list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    schema: String,
    /// Procedures that are not released are in it: not for use at a machine.
    pub unreleased: bool,
    /// Review pages alone, with no procedure to follow.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub review: bool,
    /// BLAKE3 digest, in hexadecimal, of each file but this one, by path.
    pub files: BTreeMap<String, String>,
}

impl Manifest {
    /// `files`: the [digest] of each by its path.
    pub fn new(files: BTreeMap<String, String>, unreleased: bool, review: bool) -> Self {
        Self { schema: SCHEMA.to_owned(), unreleased, review, files }
    }

    /// `None` if it is none of ours.
    pub fn parse(bytes: &[u8]) -> Option<Self> {
        serde_json::from_slice(bytes).ok().filter(|manifest: &Self| manifest.schema == SCHEMA)
    }

    pub fn to_bytes(&self) -> Vec<u8> {
        let mut bytes = serde_json::to_vec_pretty(self).expect("texts and a map of texts always have a JSON form");
        bytes.push(b'\n');
        bytes
    }
}

pub fn digest(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}
