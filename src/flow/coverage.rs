//! What a reviewer sees of one procedure: every exposure, how it is covered, on which way, and what would uncover it.
//!
//! Everything is counted from the procedure's own start, procedures it carries out entered with its own state; the exposures of those stand in their own coverage.

use crate::finding::WayKind;
use crate::finding::Witness;
use crate::model::catalogue::Person;
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
    /// Whether nothing is wrong with it: cover, conditions and person (as waived).
    pub proven: bool,
    /// How many ways lead to the step from the start, in decimal digits, exact. A loop is gone round at most once: ways back to a step that is
    /// already on the way are left out. A step reached through a procedure carried out counts its ways, too. The model with most of them.
    pub ways: String,
    /// Whether ways were left out of that number because they go round a loop.
    pub loops: bool,
    /// A shortest way on which the cover is what `cover` says (for a failure: the shortest that shows it); the exposing step last.
    pub worst: Option<Witness>,
}

/// How an exposure's caution is covered on the worst path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cover {
    /// Shown at the step itself.
    Here,
    /// Shown so many steps and seconds before, at these steps (of the procedure or of one it carries out) on that path: procedure, step.
    Before { steps: u32, seconds: u32, at: (Id, Id) },
    /// Longer ago than the library allows.
    OutOfDate { at: Option<(Id, Id)> },
    /// Some path has not shown it since it last counted.
    Missing,
}

/// A condition that a hazard requires, at an exposure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    pub condition: Id,
    /// On every path, and after what the step itself changes.
    pub holds: bool,
    /// The steps that can have set it for this exposure (the last to do so on some path), in file order, the procedure itself first.
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
    /// Exposures that would have a finding they do not have now: procedure (itself, or, for a task, one that carries it out), step, the shortest way that shows it. Empty: nothing depends on it.
    pub uncovers: Vec<(Id, Id, Witness)>,
}

/// The smallest set of steps at which showing a hazard's caution mends every failure of that hazard's cover in the procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mend {
    pub hazard: Id,
    /// In file order; of several smallest sets the one nearest to the exposures.
    pub steps: Vec<Id>,
}
