//! A part of a chart that somebody may want to see by itself: where one hazard is met, what one kind of person does, the ways of one model, the
//! way that one fault takes. A lens names steps and ways; whoever draws decides what becomes of the others.

use std::collections::{BTreeMap, BTreeSet};

use crate::finding::WayKind;
use crate::flow::graph::{Way, ways};
use crate::model::catalogue::Person;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Sorting, Step, StepKind, When};
use crate::render::chart_svg::figure::target;
use crate::render::hazards::carried_out;
use crate::text::id::Id;
use crate::text::place::Place;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LensKind {
    Hazard,
    Person,
    Model,
    Fault,
}

impl LensKind {
    pub fn as_str(self) -> &'static str {
        match self {
            LensKind::Hazard => "hazard",
            LensKind::Person => "person",
            LensKind::Model => "model",
            LensKind::Fault => "fault",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lens {
    pub kind: LensKind,
    pub id: String,
    pub name: String,
    pub steps: BTreeSet<Id>,
    /// Step and index of a way in [`ways`].
    pub ways: BTreeSet<(Id, usize)>,
}

/// The lenses that leave something out: one that shows all of the chart, or none of it, tells nothing.
pub fn lenses(library: &Library, procedure: &Procedure) -> Vec<Lens> {
    let all = procedure.steps.iter().map(|step| &step.id).collect::<BTreeSet<_>>().len();
    let hazards = library.catalogue.hazards.iter().map(|hazard| self::hazard(library, procedure, &hazard.id));
    let persons = Person::ALL.iter().map(|kind| person(library, procedure, *kind));
    let models = library.models_of(procedure).into_iter().map(|id| model(library, procedure, id));
    let faults = procedure.faults.iter().map(|one| fault(procedure, &one.id));
    let found = hazards.chain(persons).chain(models).chain(faults);
    found.filter(|lens| !lens.steps.is_empty() && lens.steps.len() < all).collect()
}

/// The steps where a hazard's caution is shown or the hazard is met, also in a procedure that is carried out there.
pub fn hazard(library: &Library, procedure: &Procedure, id: &Id) -> Lens {
    let meets = |step: &Step| {
        let shown = step.cautions.iter().any(|caution| caution.value == *id);
        shown || library.catalogue.exposed(step).iter().any(|hazard| hazard.id == *id)
    };
    let within = |step: &Step| match &step.kind {
        StepKind::CarryOut(call) => closure(library, &call.procedure.value).iter().any(|callee| callee.steps.iter().any(meets)),
        _ => false,
    };
    let steps = procedure.steps.iter().filter(|step| meets(step) || within(step)).map(|step| step.id.clone()).collect();
    let name = library.catalogue.hazard(id).map_or_else(|| id.to_string(), |hazard| hazard.title().to_owned());
    Lens { kind: LensKind::Hazard, id: id.to_string(), name, steps, ways: BTreeSet::new() }
}

/// The ways that a machine of this model can take.
pub fn model(library: &Library, procedure: &Procedure, id: &Id) -> Lens {
    let mut walk = Walk::new(procedure);
    walk.run((), |_, (), all| {
        let named = |way: &Way<'_>| way.text.as_deref() == Some(id.as_str());
        let fits =
            |way: &Way<'_>| way.kind != WayKind::Model || named(way) || (way.text.as_deref() == Some("others") && !all.iter().any(named));
        all.iter().map(|way| fits(way).then_some(vec![()])).collect()
    });
    let name = library.equipment.model(id).map_or_else(|| id.to_string(), |model| model.title().to_owned());
    walk.lens(LensKind::Model, id.as_str(), name, |()| true)
}

/// The steps that find this kind of person at the machine, and the ways between them. A procedure that is carried out may bring somebody else.
pub fn person(library: &Library, procedure: &Procedure, kind: Person) -> Lens {
    let brought: BTreeMap<&Id, BTreeSet<Person>> = procedure.callees().map(|callee| (callee, persons_of(library, callee))).collect();
    let mut walk = Walk::new(procedure);
    walk.run(procedure.person, |step, here, all| {
        let inside = match &step.kind {
            StepKind::CarryOut(call) => brought.get(&call.procedure.value).cloned().unwrap_or_default(),
            _ => BTreeSet::new(),
        };
        let after = |way: &Way<'_>| match way.person {
            Some(person) => vec![person],
            None => inside.iter().copied().chain([here]).collect(),
        };
        all.iter().map(|way| Some(after(way))).collect()
    });
    walk.lens(LensKind::Person, kind.as_str(), kind.as_str().to_owned(), |person| *person == kind)
}

fn persons_of(library: &Library, callee: &Id) -> BTreeSet<Person> {
    closure(library, callee).iter().flat_map(|procedure| &procedure.steps).flat_map(ways).filter_map(|way| way.person).collect()
}

/// The way that a machine with this fault takes: the answers that it gives, cured from the step on that cures it. Ways for when a step cannot be
/// answered, or was tried often enough, are not its own.
pub fn fault(procedure: &Procedure, id: &Id) -> Lens {
    let mut walk = Walk::new(procedure);
    walk.run(false, |step, was_cured, all| {
        let cured = was_cured || step.cures.iter().any(|cure| cure.value == *id);
        let said = whens(step);
        let own = |way: &&Way<'_>| !matches!(way.kind, WayKind::Unsure | WayKind::Otherwise);
        all.iter().map(|way| Some(way).filter(own).filter(|way| gives(&said, way.at, id, cured)).map(|_| vec![cured])).collect()
    });
    let found = procedure.faults.iter().find(|fault| fault.id == *id).and_then(|fault| fault.name.as_ref());
    walk.lens(LensKind::Fault, id.as_str(), found.map_or_else(|| id.to_string(), |name| name.value.clone()), |_| true)
}

/// Whether a machine with the fault, cured or not, gives the answer that stands at a place.
fn gives(said: &[(Place, &When)], at: Place, fault: &Id, cured: bool) -> bool {
    let Some((_, when)) = said.iter().find(|(place, _)| *place == at) else { return true };
    let names = |when: &When| match when {
        When::Faults(faults) => {
            faults.iter().any(|(id, chance)| id.value == *fault && chance.as_ref().is_none_or(|one| !one.value.is_zero()))
        }
        When::Unsaid | When::Rest(_) => false,
    };
    match when {
        When::Unsaid => true,
        When::Rest(_) => !said.iter().any(|(_, other)| names(other)),
        When::Faults(faults) => {
            let word = |word: &str| faults.iter().any(|(id, _)| id.value == word);
            names(when) || (cured && word("fixed")) || (!cured && word("not-fixed"))
        }
    }
}

/// What each way on says about faults, by where it is written.
fn whens(step: &Step) -> Vec<(Place, &When)> {
    match &step.kind {
        StepKind::Ask(question) => question.answers.iter().map(|answer| (answer.at, &answer.when)).collect(),
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => bands.iter().map(|band| (band.at, &band.when)).collect(),
            Sorting::Match(table) => {
                table.parts.iter().chain(&table.several).chain(&table.none).map(|way| (way.name.at, &way.when)).collect()
            }
            Sorting::Missing => Vec::new(),
        },
        StepKind::CarryOut(call) => call.outcomes.iter().map(|way| (way.name.at, &way.when)).collect(),
        StepKind::Do(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => Vec::new(),
    }
}

/// A procedure and all that it carries out.
fn closure<'a>(library: &'a Library, id: &Id) -> Vec<&'a Procedure> {
    library.procedure(id).map_or_else(Vec::new, |procedure| carried_out(library, procedure))
}

/// All that can be reached from the start, by step and what is known there.
struct Walk<'a, K> {
    procedure: &'a Procedure,
    seen: BTreeSet<(Id, K)>,
    taken: BTreeMap<(Id, usize), BTreeSet<K>>,
}

impl<'a, K: Copy + Ord> Walk<'a, K> {
    fn new(procedure: &'a Procedure) -> Self {
        Self { procedure, seen: BTreeSet::new(), taken: BTreeMap::new() }
    }

    /// `after` says for each way of a step what may be known behind it; `None` where it is not taken.
    fn run(&mut self, first: K, after: impl Fn(&Step, K, &[Way<'_>]) -> Vec<Option<Vec<K>>>) {
        let mut open: Vec<(&Step, K)> = self.procedure.start_step().map(|step| (step, first)).into_iter().collect();
        while let Some((step, known)) = open.pop() {
            if !self.seen.insert((step.id.clone(), known)) {
                continue;
            }
            let all = ways(step);
            for ((index, way), behind) in all.iter().enumerate().zip(after(step, known, &all)) {
                let (Some(behind), Some(next)) = (behind, target(self.procedure, way)) else { continue };
                self.taken.entry((step.id.clone(), index)).or_default().insert(known);
                open.extend(behind.into_iter().map(|known| (next, known)));
            }
        }
    }

    /// What was reached with knowledge that belongs; ways between two such steps.
    fn lens(self, kind: LensKind, id: &str, name: String, belongs: impl Fn(&K) -> bool) -> Lens {
        let steps: BTreeSet<Id> = self.seen.iter().filter(|(_, known)| belongs(known)).map(|(step, _)| step.clone()).collect();
        let to = |(step, index): &(Id, usize)| {
            let step = self.procedure.step(step)?;
            ways(step).get(*index).and_then(|way| target(self.procedure, way)).map(|next| next.id.clone())
        };
        let inside =
            self.taken.iter().filter(|(way, known)| known.iter().any(&belongs) && to(way).is_some_and(|next| steps.contains(&next)));
        let ways = inside.map(|(way, _)| way.clone()).collect();
        Lens { kind, id: id.to_owned(), name, steps, ways }
    }
}
