//! The procedures of a library, by id. They are shared: whoever copies a library, or reads it once more, does not copy what is in it again.

use std::ops::Index;
use std::sync::Arc;

use rayon::prelude::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};

use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// In the order in which they were given, which is by id wherever a library is looked up.
#[derive(Clone, Debug, Default)]
pub struct Procedures(Vec<Arc<Procedure>>);

/// See [`Procedures::iter`].
pub type Iter<'a> = std::iter::Map<std::slice::Iter<'a, Arc<Procedure>>, fn(&Arc<Procedure>) -> &Procedure>;

impl Procedures {
    pub fn iter(&self) -> Iter<'_> {
        self.0.iter().map(Arc::as_ref)
    }

    /// Each is copied first if somebody else has it, too.
    pub fn iter_mut(&mut self) -> impl Iterator<Item = &mut Procedure> {
        self.0.iter_mut().map(Arc::make_mut)
    }

    pub fn par_iter(&self) -> impl IndexedParallelIterator<Item = &Procedure> {
        self.0.par_iter().map(Arc::as_ref)
    }

    pub fn get(&self, index: usize) -> Option<&Procedure> {
        self.0.get(index).map(Arc::as_ref)
    }

    /// The one of an id, to be kept. In a list that is not by id it may not be found.
    pub fn shared(&self, id: &Id) -> Option<&Arc<Procedure>> {
        self.0.binary_search_by(|procedure| procedure.id.cmp(id)).ok().map(|index| &self.0[index])
    }

    pub fn len(&self) -> usize {
        self.0.len()
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub fn retain(&mut self, mut keep: impl FnMut(&Procedure) -> bool) {
        self.0.retain(|procedure| keep(procedure));
    }

    pub fn sort_by(&mut self, mut order: impl FnMut(&Procedure, &Procedure) -> std::cmp::Ordering) {
        self.0.sort_by(|a, b| order(a, b));
    }

    pub fn binary_search_by(&self, mut order: impl FnMut(&Procedure) -> std::cmp::Ordering) -> Result<usize, usize> {
        self.0.binary_search_by(|procedure| order(procedure))
    }
}

impl Index<usize> for Procedures {
    type Output = Procedure;
    fn index(&self, index: usize) -> &Procedure {
        &self.0[index]
    }
}

impl<'a> IntoIterator for &'a Procedures {
    type Item = &'a Procedure;
    type IntoIter = Iter<'a>;
    fn into_iter(self) -> Iter<'a> {
        self.iter()
    }
}

impl FromIterator<Arc<Procedure>> for Procedures {
    fn from_iter<I: IntoIterator<Item = Arc<Procedure>>>(procedures: I) -> Self {
        Self(procedures.into_iter().collect())
    }
}

impl FromIterator<Procedure> for Procedures {
    fn from_iter<I: IntoIterator<Item = Procedure>>(procedures: I) -> Self {
        procedures.into_iter().map(Arc::new).collect()
    }
}
