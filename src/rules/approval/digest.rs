//! The digest of a procedure: of all that its reviewer saw and all that this depends on.
//!
//! Written in `approvals.yaml` it is one text: first the digest of the whole, 64 hexadecimal digits, which alone decides; then a word for each
//! thing that went into it, with the first digits of a digest of its own, so that a later run can name what changed.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::rules::approval::meaning::{catalogue, procedure as own, settings};
use crate::rules::approval::used::Used;
use crate::rules::known::{self, On, Remembered};
use crate::rules::pages::Pages;
use crate::rules::wording::{listed, named};
use crate::text::digest::Value;
use crate::text::id::Id;

/// Digits of the digest of one thing that are written down; they name what changed and decide nothing.
const SHORT: usize = 8;

/// What a procedure, and each thing it depends on, comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Digest {
    whole: String,
    /// By name, such as `steps` or `hazard/hot-fuser`.
    parts: BTreeMap<String, String>,
}

impl Digest {
    fn new(parts: BTreeMap<String, String>) -> Self {
        let whole = Value::map(parts.iter().map(|(name, digest)| (name, Value::text(digest)))).digest();
        Self { whole, parts }
    }

    /// The digest that decides, 64 hexadecimal digits.
    pub fn whole(&self) -> &str {
        &self.whole
    }

    /// The names of everything in it.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.parts.keys().map(String::as_str)
    }

    /// What it covers, in a few words.
    pub fn covers(&self) -> String {
        let count = |sort: &str| self.names().filter(|name| name.split('/').next() == Some(sort)).count();
        let sorts = ["hazard", "condition", "part", "figure", "table", "picture", "task"];
        let counted = sorts.into_iter().map(|sort| (sort, count(sort))).filter(|(_, number)| *number > 0);
        let counted = counted.map(|(sort, number)| format!("{number} {sort}{}", if number == 1 { "" } else { "s" }));
        let whole = self.names().filter(|name| !name.contains('/')).map(said);
        listed(&whole.chain(counted).collect::<Vec<_>>())
    }

    /// `None` if the text of an approval is this very digest. Else the names of what differs: what changed, then what is new, then what is gone.
    pub fn changed_since(&self, approved: &str) -> Option<Vec<String>> {
        let mut words = approved.split_whitespace();
        if words.next() == Some(self.whole.as_str()) {
            return None;
        }
        let then: BTreeMap<&str, &str> = words.filter_map(|word| word.rsplit_once(':')).collect();
        if then.is_empty() {
            return Some(Vec::new());
        }
        let now = |name: &str| self.parts.get(name);
        let changed =
            then.iter().filter(|(name, short)| now(name).is_some_and(|digest| !digest.starts_with(**short))).map(|(name, _)| *name);
        let new = self.names().filter(|name| !then.contains_key(name));
        let gone = then.keys().copied().filter(|name| now(name).is_none());
        Some(changed.chain(new).chain(gone).map(str::to_owned).collect())
    }
}

/// The names of what differs between the digests of two approvals: what changed, then what is new, then what is gone. Empty if one of them names nothing.
pub fn changed_between(before: &str, after: &str) -> Vec<String> {
    let [then, now] =
        [before, after].map(|text| text.split_whitespace().filter_map(|word| word.rsplit_once(':')).collect::<BTreeMap<_, _>>());
    if then.is_empty() || now.is_empty() {
        return Vec::new();
    }
    let changed = then.iter().filter(|(name, short)| now.get(*name).is_some_and(|other| other != *short)).map(|(name, _)| *name);
    let new = now.keys().copied().filter(|name| !then.contains_key(name));
    let gone = then.keys().copied().filter(|name| !now.contains_key(name));
    changed.chain(new).chain(gone).map(str::to_owned).collect()
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.whole)?;
        self.parts.iter().try_for_each(|(name, digest)| write!(f, " {name}:{}", digest.get(..SHORT).unwrap_or(digest)))
    }
}

/// The digests of some procedures and of all that these carry out.
#[derive(Clone, Debug, Default)]
pub struct Digests<'a> {
    known: BTreeMap<&'a Id, Digest>,
}

impl<'a> Digests<'a> {
    /// Ids that no procedure has are left out.
    pub fn of<'i>(library: &'a Library, ids: impl IntoIterator<Item = &'i Id>) -> Self {
        Self::with(library, None, ids)
    }

    /// The same; what is remembered is not made again.
    pub fn with<'i>(library: &'a Library, remembered: Option<&Remembered<'_>>, ids: impl IntoIterator<Item = &'i Id>) -> Self {
        let order = callees_first(library, ids);
        let pages = Pages::of(library);
        let of_one = |procedure: &&'a Procedure| {
            known::of(remembered, |known| &known.digests, procedure, On::Itself, || self::parts(library, &pages, procedure))
        };
        let parts: Vec<BTreeMap<String, String>> = order.iter().map(of_one).collect();
        let mut digests = Self::default();
        for (procedure, mut parts) in order.into_iter().zip(parts) {
            for callee in procedure.callees() {
                // One that is not known yet stands in a circle or does not exist: an error, whatever its digest.
                let digest = digests.get(callee).map_or("none", Digest::whole).to_owned();
                parts.insert(format!("task/{callee}"), digest);
            }
            digests.known.insert(&procedure.id, Digest::new(parts));
        }
        digests
    }

    pub fn get(&self, id: &Id) -> Option<&Digest> {
        self.known.get(id)
    }
}

/// The procedures and all they carry out, each once, after what it carries out itself. By hand, since chains may be longer than a stack is deep.
pub fn callees_first<'a, 'i>(library: &'a Library, ids: impl IntoIterator<Item = &'i Id>) -> Vec<&'a Procedure> {
    let mut order = Vec::new();
    let mut seen: BTreeSet<&Id> = BTreeSet::new();
    let known: BTreeSet<&Id> = ids.into_iter().filter_map(|id| library.procedure(id)).map(|procedure| &procedure.id).collect();
    let mut open: Vec<(&Procedure, bool)> = known.into_iter().rev().filter_map(|id| Some((library.procedure(id)?, false))).collect();
    while let Some((procedure, callees_done)) = open.pop() {
        if callees_done {
            order.push(procedure);
        } else if seen.insert(&procedure.id) {
            open.push((procedure, true));
            open.extend(procedure.callees().filter_map(|id| library.procedure(id)).map(|callee| (callee, false)));
        }
    }
    order
}

/// All of it but what it carries out, by name.
fn parts<'a>(library: &'a Library, pages: &Pages<'a>, procedure: &'a Procedure) -> BTreeMap<String, String> {
    let used = Used::by(library, pages, procedure);
    let mut parts: Vec<(String, Value)> = vec![
        ("card".to_owned(), own::card(procedure)),
        ("steps".to_owned(), own::steps(procedure)),
        ("waivers".to_owned(), own::waivers(procedure)),
        ("words".to_owned(), own::body(procedure)),
        ("caution-within".to_owned(), catalogue::caution_within(&library.catalogue)),
        ("stop-card".to_owned(), settings::stop_card(library)),
        ("lowered-rules".to_owned(), settings::lowered_rules(&library.settings)),
        ("language".to_owned(), settings::language(&library.settings)),
        ("models".to_owned(), settings::models(library, procedure)),
        ("table/repeats".to_owned(), settings::repeats(library, procedure, &used.rolling)),
    ];
    let figures = used.figures.iter().map(|name| (format!("figure/{name}"), settings::figure(library, procedure, name)));
    parts.extend(figures);
    parts.extend(used.hazards.iter().map(|hazard| (format!("hazard/{}", hazard.id), catalogue::hazard(hazard))));
    parts.extend(used.conditions.iter().map(|condition| (format!("condition/{}", condition.id), catalogue::condition(condition))));
    parts.extend(used.parts.iter().map(|part| (format!("part/{}", part.id), catalogue::part(part))));
    let pictures = used.pictures.iter().map(|path| (format!("picture/{}", as_word(path)), settings::picture(library, path)));
    parts.extend(pictures);
    let there = parts.into_iter().filter(|(_, value)| *value != Value::Nothing);
    there.map(|(name, value)| (name, value.digest())).collect()
}

/// A path as one word: what would end a word is written as `%` and its number.
fn as_word(path: &str) -> String {
    let mut word = String::new();
    for c in path.chars() {
        if c.is_whitespace() || c.is_control() || matches!(c, '%' | ':' | '"' | '\\') {
            word.push_str(&format!("%{:X}.", u32::from(c)));
        } else {
            word.push(c);
        }
    }
    word
}

/// A name of [`Digest::names`] in words.
pub fn said(name: &str) -> String {
    match name.split_once('/') {
        Some((sort, name)) => format!("the {sort} {}", named(name)),
        None => match name {
            "card" => "the front matter".to_owned(),
            "caution-within" => "`caution-within`".to_owned(),
            other => format!("the {}", named(other.replace('-', " ")).replace('`', "")),
        },
    }
}
