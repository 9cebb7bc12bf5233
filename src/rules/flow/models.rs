//! The models a procedure is judged for.

use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// The models a procedure is for, in the order of the equipment. `None` where the equipment cannot be read or the procedure names models that it
/// lacks: those are findings, and what follows from them is none.
pub fn models_of<'a>(library: &'a Library, procedure: &Procedure) -> Option<Vec<&'a Model>> {
    let known = |name: &Id| library.equipment.model(name).is_some();
    if library.equipment.unreadable || procedure.equipment.iter().flatten().any(|name| !known(name)) {
        return None;
    }
    Some(library.models_of(procedure).into_iter().filter_map(|id| library.equipment.model(id)).collect())
}

/// The models for a finding that holds for `some` of `all`: none are listed if it holds for all of them.
pub fn listed(some: &[&Model], all: &[&Model]) -> Vec<Id> {
    if some.len() == all.len() { Vec::new() } else { some.iter().map(|model| model.id.clone()).collect() }
}

/// The models for which the author forgot something; `None` stands for a library without models, in which nothing can have it.
pub fn without<'a>(models: &[&'a Model], has: impl Fn(&Model) -> bool) -> Vec<Option<&'a Model>> {
    if models.is_empty() { vec![None] } else { models.iter().copied().filter(|model| !has(model)).map(Some).collect() }
}
