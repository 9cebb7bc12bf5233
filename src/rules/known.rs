//! What was found about procedures before, for a library that is judged again and again: what takes long is found anew only where something that it rests on
//! is another. Kept in memory by one process, for the preview; whatever is verified or published is judged from nothing.
//!
//! A judgement may be kept if it rests on these alone: the procedure, with [`On::Below`] all that it carries out and refers to, and the [ground](Remembered::new), which is everything
//! in the library but the words of procedures and leaflets. A procedure that is the very same in memory is the same: none is changed once it was read.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use jiff::civil::Date;
use rustc_hash::FxHashMap;

use crate::finding::Findings;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// One memory for each of the judgements that take long.
#[derive(Default)]
pub struct Known {
    pub undeclared: Kept<Findings>,
    pub conditions: Kept<Findings>,
    pub instructions: Kept<Findings>,
    pub paths: Kept<Findings>,
    /// What the digest of a procedure is made of.
    pub digests: Kept<BTreeMap<String, String>>,
}

impl Known {
    /// Forgets what was not asked for since it was last told so: procedures that changed or are gone. Judge once in between.
    pub fn forget_unused(&self) {
        self.of_findings().for_each(Kept::forget_unused);
        self.digests.forget_unused();
    }

    /// How many judgements are kept.
    pub fn kept(&self) -> usize {
        self.of_findings().map(|kept| kept.entries().len()).sum::<usize>() + self.digests.entries().len()
    }

    /// How many were made anew since the beginning.
    pub fn made(&self) -> usize {
        let made = |made: &AtomicUsize| made.load(Ordering::Relaxed);
        self.of_findings().map(|kept| made(&kept.made)).sum::<usize>() + made(&self.digests.made)
    }

    fn of_findings(&self) -> impl Iterator<Item = &Kept<Findings>> {
        [&self.undeclared, &self.conditions, &self.instructions, &self.paths].into_iter()
    }
}

/// One judgement of each procedure.
pub struct Kept<V> {
    entries: Mutex<FxHashMap<Id, Entry<V>>>,
    made: AtomicUsize,
}

struct Entry<V> {
    ground: blake3::Hash,
    rests_on: Vec<Arc<Procedure>>,
    value: V,
    used: bool,
}

impl<V> Default for Kept<V> {
    fn default() -> Self {
        Self { entries: Mutex::default(), made: AtomicUsize::new(0) }
    }
}

impl<V> Kept<V> {
    fn entries(&self) -> MutexGuard<'_, FxHashMap<Id, Entry<V>>> {
        self.entries.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn forget_unused(&self) {
        self.entries().retain(|_, entry| std::mem::take(&mut entry.used));
    }
}

/// The memory, and the ground on which a library stands.
pub struct Remembered<'a> {
    pub known: &'a Known,
    library: &'a Library,
    ground: blake3::Hash,
}

impl<'a> Remembered<'a> {
    pub fn new(known: &'a Known, library: &'a Library, today: Date, misread: &BTreeSet<Id>) -> Self {
        let mut ground = blake3::Hasher::new();
        let mut add = |text: &str| {
            // The length keeps two lists of texts apart that read alike.
            ground.update(&(text.len() as u64).to_le_bytes()).update(text.as_bytes());
        };
        add(&today.to_string());
        let (catalogue, equipment) = (library.catalogue.unreadable, library.equipment.unreadable);
        add(&format!("{catalogue} {equipment} {} {}", misread.len(), library.pictures.len()));
        misread.iter().for_each(|id| add(id.as_str()));
        for path in &library.pictures {
            add(path);
            add(library.picture_digests.get(path).map_or("", String::as_str));
        }
        for (file, source) in library.sources.iter() {
            // Findings name files by their numbers.
            add(&format!("{} {}", file.0, source.path));
            if !source.path.starts_with("procedures/") && !source.path.starts_with("leaflets/") {
                add(&source.text);
            }
        }
        Self { known, library, ground: ground.finalize() }
    }

    /// The same as `make`, made anew if it is not known. `rests_on`: the procedure, and what else of procedures it rests on.
    fn get<V: Clone>(&self, kept: &Kept<V>, rests_on: Vec<Arc<Procedure>>, id: &Id, make: impl FnOnce() -> V) -> V {
        if let Some(entry) = kept.entries().get_mut(id)
            && entry.ground == self.ground
            && entry.rests_on.len() == rests_on.len()
            && entry.rests_on.iter().zip(&rests_on).all(|(before, now)| Arc::ptr_eq(before, now))
        {
            entry.used = true;
            return entry.value.clone();
        }
        let value = make();
        kept.made.fetch_add(1, Ordering::Relaxed);
        kept.entries().insert(id.clone(), Entry { ground: self.ground, rests_on, value: value.clone(), used: true });
        value
    }

    /// Of a procedure, with `below` of all that it carries out, and of what any of these refers to. `None` if it is not in the library.
    fn shared(&self, procedure: &Procedure, below: bool) -> Option<Vec<Arc<Procedure>>> {
        let all = &self.library.procedures;
        let mut found = vec![all.shared(&procedure.id)?.clone()];
        if !below {
            return Some(found);
        }
        let mut seen = BTreeSet::from([procedure.id.clone()]);
        let mut next = 0;
        while let Some(one) = found.get(next).cloned() {
            found.extend(one.callees().filter(|id| seen.insert((*id).clone())).filter_map(|id| all.shared(id)).cloned());
            next += 1;
        }
        // Whom that is for is asked of whoever refers to it; what it does is not.
        let referred: BTreeSet<&Id> = found.iter().flat_map(|one| one.referrals()).filter(|id| !seen.contains(*id)).collect();
        let referred: Vec<_> = referred.into_iter().filter_map(|id| all.shared(id)).cloned().collect();
        found.extend(referred);
        Some(found)
    }
}

/// What a judgement of a procedure rests on, beside the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    Itself,
    /// Itself and all that it carries out, and what any of these refers to.
    Below,
}

/// What `make` finds about a procedure, made anew if nothing is remembered of it. It must rest on nothing that is not said here.
pub fn of<V: Clone>(
    remembered: Option<&Remembered<'_>>,
    kept: impl FnOnce(&Known) -> &Kept<V>,
    procedure: &Procedure,
    on: On,
    make: impl FnOnce() -> V,
) -> V {
    let Some(remembered) = remembered else { return make() };
    match remembered.shared(procedure, on == On::Below) {
        Some(rests_on) => remembered.get(kept(remembered.known), rests_on, &procedure.id, make),
        None => make(),
    }
}
