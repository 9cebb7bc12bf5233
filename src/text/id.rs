//! Ids: the names that procedures, steps, hazards and everything else an author declares go by.

use std::borrow::Borrow;
use std::fmt;
use std::sync::Arc;

/// The name of something declared. Holds whatever the author wrote; [`Id::fault`] says what is wrong with it, if anything.
/// (A malformed id is a finding, not a reason to forget what it named.)
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(Arc<str>);

/// Ids with a meaning of their own that nothing may be called.
pub const RESERVED: [&str; 10] = ["fixed", "not-fixed", "rest", "others", "nothing", "by-code", "unsure", "otherwise", "several", "none"];

/// What is wrong with an id.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IdFault {
    Empty,
    TooLong,
    /// Another character than `a` to `z`, `0` to `9` and `-`.
    Character(char),
    /// It does not begin with a letter.
    Start,
    /// Two hyphens side by side, or one at the end.
    Hyphen,
    Reserved,
}

impl Id {
    pub fn new(text: impl AsRef<str>) -> Self {
        Self(Arc::from(text.as_ref()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Lower-case ASCII letters, digits and single hyphens, beginning with a letter, at most 64 characters, not reserved.
    pub fn fault(&self) -> Option<IdFault> {
        let text = self.as_str();
        if text.is_empty() {
            return Some(IdFault::Empty);
        }
        if let Some(odd) = text.chars().find(|c| !matches!(c, 'a'..='z' | '0'..='9' | '-')) {
            return Some(IdFault::Character(odd));
        }
        if text.len() > 64 {
            return Some(IdFault::TooLong);
        }
        if !text.starts_with(|c: char| c.is_ascii_lowercase()) {
            return Some(IdFault::Start);
        }
        if text.contains("--") || text.ends_with('-') {
            return Some(IdFault::Hyphen);
        }
        RESERVED.contains(&text).then_some(IdFault::Reserved)
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Debug for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}`", self.0)
    }
}

impl From<&str> for Id {
    fn from(text: &str) -> Self {
        Self::new(text)
    }
}

impl PartialEq<str> for Id {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<&str> for Id {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

impl Borrow<str> for Id {
    fn borrow(&self) -> &str {
        self.as_str()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_form_of_ids_is_held_at_its_edges() {
        assert_eq!(Id::new("make-safe").fault(), None);
        assert_eq!(Id::new("a".repeat(64)).fault(), None);
        assert_eq!(Id::new("a".repeat(65)).fault(), Some(IdFault::TooLong));
        assert_eq!(Id::new("").fault(), Some(IdFault::Empty));
        assert_eq!(Id::new("Make").fault(), Some(IdFault::Character('M')));
        assert_eq!(Id::new("m\u{0430}ke").fault(), Some(IdFault::Character('\u{0430}')));
        assert_eq!(Id::new("2nd").fault(), Some(IdFault::Start));
        assert_eq!(Id::new("a--b").fault(), Some(IdFault::Hyphen));
        assert_eq!(Id::new("a-").fault(), Some(IdFault::Hyphen));
        assert_eq!(Id::new("unsure").fault(), Some(IdFault::Reserved));
    }
}
