//! What a reviewer sees of one procedure: every exposure, how it is covered, on which way, and what would uncover it.
//!
//! Everything is counted from the procedure's own start, procedures it carries out entered with its own state; the exposures of those stand in their own coverage.

mod ages;
mod contexts;
pub mod cut;
mod exposures;
mod mend;
mod setters;
mod ways;
mod what_if;
mod worst;

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::finding::WayKind;
use crate::finding::Witness;
use crate::flow::proof::Programs;
use crate::model::catalogue::Person;
use crate::model::procedure::Procedure;
use crate::text::id::Id;

/// One procedure that could be analysed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coverage {
    pub procedure: Id,
    /// Steps in file order; hazards of one step in the catalogue's order. Those that no way leads to are in it, with `reachable` false.
    pub exposures: Vec<Exposure>,
    /// Every caution of every step, in file order: what if it were not shown.
    pub shown: Vec<Shown>,
    /// For each hazard that has a caution missing or out of date somewhere: where showing it would mend all of that.
    pub mends: Vec<Mend>,
    /// Hazards that it meets only in procedures it carries out (their own, directly or further down): hazard, procedure.
    pub elsewhere: Vec<(Id, Id)>,
}

/// A step where somebody meets a hazard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exposure {
    pub step: Id,
    pub hazard: Id,
    /// The parts that bring the hazard; empty if `exposes` alone does.
    pub parts: Vec<Id>,
    /// Named by the step's `exposes`.
    pub declared: bool,
    /// The models on which a way leads there; empty if that is so on all the procedure is for.
    pub models: Vec<Id>,
    pub reachable: bool,
    pub cover: Cover,
    /// The least qualified person who can be at the machine, and the one the hazard asks for.
    pub person: Person,
    pub least: Person,
    pub least_waived: bool,
    /// What the hazard requires, in the catalogue's order.
    pub conditions: Vec<Held>,
    pub requires_waived: bool,
    /// Whether nothing is wrong with it: cover, conditions and person (as waived). An exposure that no way leads to is not proven.
    pub proven: bool,
    /// How many ways lead to the step from the start, in decimal digits, exact: two answers that lead to one step are two ways. No loop is gone
    /// round: from the start, depth first and in the order of the file, each way that leads back to a step still being followed is left out, and the
    /// ways through what remains are counted. A procedure carried out counts as many times as ways lead, by the same rule, to its endings with the
    /// outcome taken. Limits are not counted. The model with most of them.
    pub ways: String,
    /// Whether ways to this step were left out of that number because they go round a loop, here or in a procedure carried out.
    pub loops: bool,
    /// A shortest way on which the cover is what `cover` says (for a failure: the shortest that shows it); the exposing step last. Where the most steps
    /// and the most seconds belong to different ways, it is one with the figure that is nearer to its limit (both equally near: the steps). `None`
    /// where no way leads to the step.
    pub worst: Option<Witness>,
}

/// How an exposure's caution is covered on the worst path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cover {
    /// Shown at the step itself.
    Here,
    /// Shown at most so many steps and at most so many seconds before (the two perhaps on different ways). `at`: where it was last shown on the way in
    /// `worst`, in the procedure or in one it carries out: procedure, step.
    Before { steps: u32, seconds: u32, at: (Id, Id) },
    /// Longer ago than the library allows; where it was last shown on the way in `worst`.
    OutOfDate { at: Option<(Id, Id)> },
    /// Some path has not shown it since it last counted.
    Missing,
}

/// A condition that a hazard requires, at an exposure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    pub condition: Id,
    /// On every path, now and after what the step itself changes.
    pub holds: bool,
    /// The steps and ways that can have set it for this exposure (the last to do so on some path), in file order, the procedure itself first. One more
    /// may be named where paths meet that waited differently long for it, or of which one lacks what it comes `after`; never one too few.
    pub set_by: Vec<Setter>,
    /// Held by the task's own `requires`: its callers answer for it.
    pub from_start: bool,
}

/// What set a condition: a step, and the way on from it if that did.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Setter {
    pub procedure: Id,
    pub step: Id,
    pub way: Option<(WayKind, Option<String>)>,
}

/// A caution shown at a step, and what would be wrong without it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    pub step: Id,
    pub hazard: Id,
    /// Exposures to the hazard that would have a `caution-missing` or `caution-out-of-date` that they do not have now: procedure (itself first, then,
    /// for a task, those that carry it out), step, the shortest way that shows it. Empty: nothing depends on it.
    pub uncovers: Vec<(Id, Id, Witness)>,
}

/// The smallest set of steps at which showing a hazard's caution mends every failure of that hazard's cover in the procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mend {
    pub hazard: Id,
    /// In file order; of several smallest sets one that is near to the exposures.
    pub steps: Vec<Id>,
    /// Whether it is proved that no smaller set mends them all. It always mends them all.
    pub smallest: bool,
}

/// What has been counted once on a model and is asked for again.
#[derive(Default)]
pub(super) struct Known {
    ends: RefCell<FxHashMap<usize, Rc<ways::Ends>>>,
    contexts: RefCell<contexts::Contexts>,
}

impl Programs<'_> {
    /// The same with procedures that are not judged (and so get no finding whatever is taken out of what they carry out).
    pub fn leaving_out(mut self, ids: impl IntoIterator<Item = Id>) -> Self {
        self.left_out = ids.into_iter().collect();
        self
    }

    /// What a reviewer sees of one procedure, the worst of all models it is for. It, and all it carries out, must be whole: no broken references.
    pub fn coverage(&self, procedure: &Procedure) -> Coverage {
        self.make_ready();
        Coverage {
            procedure: procedure.id.clone(),
            exposures: self.exposures(procedure),
            shown: self.shown(procedure),
            mends: self.mends(procedure),
            elsewhere: self.elsewhere(procedure),
        }
    }

    /// Hazards of the procedures carried out that no step of this one exposes to.
    fn elsewhere(&self, procedure: &Procedure) -> Vec<(Id, Id)> {
        let catalogue = &self.library.catalogue;
        let hazards = |procedure: &Procedure| -> BTreeSet<Id> {
            procedure.steps.iter().flat_map(|step| catalogue.exposed(step)).map(|hazard| hazard.id.clone()).collect()
        };
        let own = hazards(procedure);
        let below = self.closure(procedure).into_iter().map(|number| &self.library.procedures[number]);
        let met: Vec<(&Procedure, BTreeSet<Id>)> =
            below.filter(|other| other.id != procedure.id).map(|other| (other, hazards(other))).collect();
        let ours = catalogue.hazards.iter().filter(|hazard| !own.contains(&hazard.id));
        ours.flat_map(|hazard| {
            let there = met.iter().filter(|(_, hazards)| hazards.contains(&hazard.id));
            there.map(|(other, _)| (hazard.id.clone(), other.id.clone()))
        })
        .collect()
    }
}
