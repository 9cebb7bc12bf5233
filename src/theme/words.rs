//! The words of the interface, in groups. Every word a page shows that no author wrote comes from here.

use std::collections::BTreeMap;
use std::fmt;

/// Group and key to text.
#[derive(Clone, Debug, Default)]
pub struct Words {
    groups: BTreeMap<String, BTreeMap<String, String>>,
}

/// The file of words cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault(String);

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Words {
    /// # Errors
    /// If the text is not a map of maps of texts.
    pub fn parse(yaml: &str) -> Result<Self, Fault> {
        serde_yaml::from_str(yaml).map(|groups| Self { groups }).map_err(|error| Fault(error.to_string()))
    }

    /// A text, or the key itself for one that is missing: a test looks for such.
    pub fn say<'a>(&'a self, group: &str, key: &'a str) -> &'a str {
        self.find(group, key).unwrap_or(key)
    }

    pub fn find(&self, group: &str, key: &str) -> Option<&str> {
        self.groups.get(group)?.get(key).map(String::as_str)
    }

    /// A text with its `{names}` filled in.
    pub fn fill(&self, group: &str, key: &str, values: &[(&str, &str)]) -> String {
        let mut rest = self.say(group, key);
        let mut out = String::new();
        // One pass, so that a value that looks like a name is never filled in again.
        while let Some(open) = rest.find('{') {
            let (before, from) = rest.split_at(open);
            out.push_str(before);
            let hit = values.iter().find_map(|(name, value)| {
                let after = from.strip_prefix('{')?.strip_prefix(name)?.strip_prefix('}')?;
                Some((*value, after))
            });
            match hit {
                Some((value, after)) => {
                    out.push_str(value);
                    rest = after;
                }
                None => {
                    out.push('{');
                    rest = from.strip_prefix('{').unwrap_or_default();
                }
            }
        }
        out + rest
    }

    /// For templates.
    pub fn groups(&self) -> &BTreeMap<String, BTreeMap<String, String>> {
        &self.groups
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_filled_in_once() {
        let words = Words::parse("go:\n  to: \"{n} of {all}{x}\"\n").expect("two levels");
        assert_eq!(words.fill("go", "to", &[("n", "{all}"), ("all", "9")]), "{all} of 9{x}");
        assert_eq!(words.say("go", "gone"), "gone");
    }
}
