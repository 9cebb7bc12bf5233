//! One mapping whose keys the format knows: hands out values by key and reports the keys it does not know.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::finding::rule::UNKNOWN_KEY;
use crate::read::scope::{Scope, quoted};
use crate::read::value::{is_empty, kind_of};
use crate::read::yaml::{Mapping, Node, Value};
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::{At, Place};

static NOTHING: Mapping = Mapping { entries: Vec::new() };

/// The keys and values of a mapping.
#[derive(Clone, Copy)]
pub struct Fields<'n> {
    /// Where a missing key is reported: the mapping's key, or its beginning in a list.
    pub at: Place,
    mapping: &'n Mapping,
}

impl<'n> Fields<'n> {
    /// Opens a mapping and reports its unknown keys. Nothing at all counts as an empty mapping; anything else is a finding.
    pub fn open(scope: &mut Scope<'_>, node: &'n Node, at: Place, known: &[&str]) -> Option<Self> {
        let fields = Self::open_freely(scope, node, at)?;
        fields.report_unknown(scope, known, known);
        Some(fields)
    }

    /// Opens a mapping without judging its keys.
    pub fn open_freely(scope: &mut Scope<'_>, node: &'n Node, at: Place) -> Option<Self> {
        match &node.value {
            Value::Map(mapping) => Some(Self { at, mapping }),
            Value::Scalar(_) if is_empty(node) => Some(Self { at, mapping: &NOTHING }),
            Value::Scalar(_) | Value::List(_) => {
                let message = format!("{} stands where a mapping is expected", kind_of(node));
                scope.wrong(node.at, message, "write `key: value` entries");
                None
            }
        }
    }

    /// Reports every key outside `known`; the hint is looked for in `likely`.
    pub fn report_unknown(&self, scope: &mut Scope<'_>, known: &[&str], likely: &[&str]) {
        for (key, _) in &self.mapping.entries {
            if !known.contains(&key.value.as_str()) && !scope.is_full() {
                let near = nearest(&key.value, likely.iter().copied()).or_else(|| nearest(&key.value, known.iter().copied()));
                let help = match near {
                    Some(near) => format!("the nearest known key is `{near}`"),
                    None => format!("known here: {}", likely.join(", ")),
                };
                scope.say(&UNKNOWN_KEY, key.at, format!("the key {} is not known here", quoted(&key.value)), help);
            }
        }
    }

    /// Every key, in the order written.
    pub fn keys(&self) -> impl Iterator<Item = &'n At<String>> + use<'n> {
        self.mapping.entries.iter().map(|(key, _)| key)
    }

    /// Every key and value, in the order written.
    pub fn entries(&self) -> &'n [(At<String>, Node)] {
        &self.mapping.entries
    }

    /// Another choice of the keys of the same mapping.
    pub fn over<'m>(&self, mapping: &'m Mapping) -> Fields<'m> {
        Fields { at: self.at, mapping }
    }

    fn entry(&self, key: &str) -> Option<(&'n At<String>, &'n Node)> {
        self.mapping.entries.iter().find(|(name, _)| name.value == key).map(|(name, node)| (name, node))
    }

    /// Key and value; `None` if the key is absent or its value empty.
    pub fn get(&self, key: &str) -> Option<(&'n At<String>, &'n Node)> {
        self.entry(key).filter(|(_, node)| !is_empty(node))
    }

    pub fn node(&self, key: &str) -> Option<&'n Node> {
        self.get(key).map(|(_, node)| node)
    }

    /// Like [`Fields::node`], and a finding if there is none.
    pub fn required(&self, scope: &mut Scope<'_>, key: &str) -> Option<&'n Node> {
        let node = self.node(key);
        if node.is_none() {
            let help = if self.entry(key).is_some() { "give the key a value; an empty one counts as missing" } else { "add the key" };
            scope.missing(self.at, key, help);
        }
        node
    }

    pub fn text(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<String>> {
        let (_, node) = self.entry(key)?;
        if is_empty(node) {
            self.swallowed(scope, node);
            return None;
        }
        scope.text(node)
    }

    /// Words that must be there.
    pub fn required_text(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<String>> {
        if let Some((_, node)) = self.entry(key)
            && is_empty(node)
            && self.swallowed(scope, node)
        {
            return None;
        }
        let node = self.required(scope, key)?;
        scope.text(node)
    }

    /// A bare text that begins with `#` is a comment to YAML: `title: #5 tray`.
    fn swallowed(&self, scope: &mut Scope<'_>, node: &Node) -> bool {
        let bare = matches!(&node.value, Value::Scalar(scalar) if scalar.plain);
        let cut = bare && scope.is_cut(node.at, true);
        if cut {
            let rest = scope.text.get(node.at.end as usize..).unwrap_or("");
            let skipped = u32::try_from(rest.find('#').unwrap_or(0)).unwrap_or(0);
            let start = node.at.end + skipped;
            scope.cut_short(Place { column: node.at.column + skipped, start, end: start + 1, ..node.at });
        }
        cut
    }

    pub fn word(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<String>> {
        self.node(key).and_then(|node| scope.word(node))
    }
    pub fn id(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<Id>> {
        self.node(key).and_then(|node| scope.id(node))
    }
    pub fn ids(&self, scope: &mut Scope<'_>, key: &str) -> Vec<At<Id>> {
        self.node(key).map(|node| scope.ids(node)).unwrap_or_default()
    }
    pub fn texts(&self, scope: &mut Scope<'_>, key: &str) -> Vec<At<String>> {
        self.node(key).map(|node| scope.texts(node)).unwrap_or_default()
    }
    pub fn decimal(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<Decimal>> {
        self.node(key).and_then(|node| scope.decimal(node))
    }
    pub fn date(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<Date>> {
        self.node(key).and_then(|node| scope.date(node))
    }
    pub fn boolean(&self, scope: &mut Scope<'_>, key: &str) -> bool {
        self.node(key).and_then(|node| scope.boolean(node)).unwrap_or(false)
    }
    pub fn choice<T>(&self, scope: &mut Scope<'_>, key: &str, words: &[&str], parse: impl Fn(&str) -> Option<T>) -> Option<At<T>> {
        self.node(key).and_then(|node| scope.choice(node, words, parse))
    }
    pub fn required_decimal(&self, scope: &mut Scope<'_>, key: &str) -> Option<At<Decimal>> {
        let node = self.required(scope, key)?;
        scope.decimal(node)
    }
}
