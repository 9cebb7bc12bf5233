//! Digests (BLAKE3) of values and of bytes. A value is written in one form only, and no two values in the same form.

use std::collections::BTreeMap;

/// The version of the form below and of what goes into it; another form is another version, so that digests of two never meet.
const VERSION: &str = "stepward/meaning/1";

/// A tree of texts. In a map the order of the keys is not part of it, and what is [`Value::Nothing`] is as good as not there.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Value {
    #[default]
    Nothing,
    Text(String),
    List(Vec<Value>),
    Map(BTreeMap<String, Value>),
}

impl Value {
    /// A text as it is.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// The words of a text: how they are spaced and broken into lines is not part of them.
    pub fn words(text: &str) -> Self {
        Self::Text(text.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    pub fn list(items: impl IntoIterator<Item = Value>) -> Self {
        Self::List(items.into_iter().collect())
    }

    /// Of two entries with one key the last counts.
    pub fn map<K: Into<String>>(entries: impl IntoIterator<Item = (K, Value)>) -> Self {
        Self::Map(entries.into_iter().map(|(key, value)| (key.into(), value)).filter(|(_, value)| *value != Value::Nothing).collect())
    }

    /// The digest, 64 hexadecimal digits.
    pub fn digest(&self) -> String {
        let mut form = Vec::new();
        put(&mut form, b'v', VERSION.as_bytes());
        self.write(&mut form);
        of_bytes(&form)
    }

    /// Every part says what it is and how long it is, so the form can be read back in one way only.
    fn write(&self, form: &mut Vec<u8>) {
        match self {
            Value::Nothing => form.push(b'n'),
            Value::Text(text) => put(form, b't', text.as_bytes()),
            Value::List(items) => {
                count(form, b'l', items.len());
                items.iter().for_each(|item| item.write(form));
            }
            Value::Map(entries) => {
                let entries = entries.iter().filter(|(_, value)| **value != Value::Nothing);
                count(form, b'm', entries.clone().count());
                for (key, value) in entries {
                    put(form, b'k', key.as_bytes());
                    value.write(form);
                }
            }
        }
    }
}

fn put(form: &mut Vec<u8>, tag: u8, bytes: &[u8]) {
    count(form, tag, bytes.len());
    form.extend_from_slice(bytes);
}

fn count(form: &mut Vec<u8>, tag: u8, number: usize) {
    form.push(tag);
    form.extend_from_slice(&(number as u64).to_le_bytes());
}

/// The digest of bytes, 64 hexadecimal digits.
pub fn of_bytes(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_that_differ_are_written_differently() {
        let text = |text: &str| Value::text(text);
        let values = [
            Value::Nothing,
            text(""),
            text("ab"),
            text("tab"),
            Value::list([]),
            Value::list([text("ab")]),
            Value::list([text("a"), text("b")]),
            Value::list([text("b"), text("a")]),
            Value::list([text("a"), Value::list([text("b")])]),
            Value::list([Value::list([text("a")]), text("b")]),
            Value::map::<&str>([]),
            Value::map([("a", text("b"))]),
            Value::map([("b", text("a"))]),
            Value::map([("a", Value::list([text("b")]))]),
        ];
        let digests: std::collections::BTreeSet<String> = values.iter().map(Value::digest).collect();
        assert_eq!(digests.len(), values.len());
    }

    #[test]
    fn spacing_key_order_and_empty_entries_are_not_part_of_a_value() {
        assert_eq!(Value::words("  hot \r\n\tfuser "), Value::text("hot fuser"));
        let (one, two) = (("a", Value::text("1")), ("b", Value::text("2")));
        let turned = Value::map([two.clone(), ("c", Value::Nothing), one.clone()]);
        assert_eq!(Value::map([one, two]).digest(), turned.digest());
    }
}
