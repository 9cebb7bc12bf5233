//! Which procedures use an entry of a catalogue, directly or through a part.

use crate::formula::Formula;
use crate::model::catalogue::Takes;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Effects, LimitValue, Sorting, Step, StepKind};
use crate::text::id::Id;

fn those(library: &Library, uses: impl Fn(&Procedure) -> bool) -> Vec<Id> {
    library.procedures.iter().filter(|procedure| uses(procedure)).map(|procedure| procedure.id.clone()).collect()
}

/// Procedures with a step that shows its caution or exposes to it.
pub fn hazard(library: &Library, id: &Id) -> Vec<Id> {
    let at = |step: &Step| {
        step.cautions.iter().any(|caution| caution.value == *id) || library.catalogue.exposed(step).iter().any(|hazard| hazard.id == *id)
    };
    those(library, |procedure| procedure.steps.iter().any(at))
}

/// Procedures that require, set, clear or wait for it, or meet a hazard that demands it or returns with it.
pub fn condition(library: &Library, id: &Id) -> Vec<Id> {
    let named = |list: &[crate::text::place::At<Id>]| list.iter().any(|it| it.value == *id);
    let changes = |effects: &Effects| named(&effects.sets) || named(&effects.clears);
    let own = |step: &Step| match &step.kind {
        StepKind::Ask(question) => question.answers.iter().any(|answer| changes(&answer.effects)),
        StepKind::Measure(measurement) => match &measurement.sorting {
            Sorting::Bands(bands) => bands.iter().any(|band| changes(&band.effects)),
            Sorting::Match(_) | Sorting::Missing => false,
        },
        StepKind::Do(action) => changes(&action.effects) || action.wait_for.as_ref().is_some_and(|it| it.value == *id),
        StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => false,
    };
    let met = |step: &Step| library.catalogue.exposed(step).iter().any(|hazard| named(&hazard.requires) || named(&hazard.returns_with));
    let uses = |step: &Step| named(&step.requires) || own(step) || met(step);
    those(library, |procedure| named(&procedure.requires) || procedure.steps.iter().any(uses))
}

pub fn part(library: &Library, id: &Id) -> Vec<Id> {
    let denied = |list: &[crate::model::procedure::Denial]| list.iter().any(|denial| denial.of.value == *id);
    let at = |step: &Step| step.touches.iter().any(|part| part.value == *id) || denied(&step.not_touching);
    those(library, |procedure| denied(&procedure.not_touching) || procedure.steps.iter().any(at))
}

/// Procedures whose limits, formulas or waits use a figure of the models.
pub fn figure(library: &Library, id: &Id) -> Vec<Id> {
    let takes = |condition: &Id| {
        let condition = library.catalogue.condition(condition);
        condition.and_then(|it| it.takes.as_ref()).is_some_and(|takes| matches!(&takes.value, Takes::Figure(figure) if figure == id))
    };
    let waits: Vec<Id> = library.catalogue.conditions.iter().map(|it| it.id.clone()).filter(takes).collect();
    let at = |step: &Step| match &step.kind {
        StepKind::Measure(measurement) => {
            let limits = match &measurement.sorting {
                Sorting::Bands(bands) => bands
                    .iter()
                    .filter_map(|band| band.limit.as_ref())
                    .any(|limit| matches!(&limit.value.value, LimitValue::Figure(figure) if figure == id)),
                Sorting::Match(_) | Sorting::Missing => false,
            };
            let formula = measurement.formula.as_ref().and_then(|text| Formula::parse(text).ok());
            limits || formula.is_some_and(|formula| formula.names().contains(&id.as_str()))
        }
        StepKind::Ask(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => false,
    };
    let mut found = those(library, |procedure| procedure.steps.iter().any(at));
    found.extend(waits.iter().flat_map(|condition| self::condition(library, condition)));
    found.sort();
    found.dedup();
    found
}

/// Whether a condition of either library takes as long as a figure says.
pub fn is_wait(old: &Library, new: &Library, id: &Id) -> bool {
    let conditions = old.catalogue.conditions.iter().chain(&new.catalogue.conditions);
    let mut takes = conditions.filter_map(|condition| condition.takes.as_ref());
    takes.any(|takes| matches!(&takes.value, Takes::Figure(figure) if figure == id))
}

/// Procedures that sort a reading by the table of distances.
pub fn repeats(library: &Library) -> Vec<Id> {
    let at = |step: &Step| matches!(&step.kind, StepKind::Measure(measurement) if matches!(measurement.sorting, Sorting::Match(_)));
    those(library, |procedure| procedure.steps.iter().any(at))
}

pub fn picture(library: &Library, path: &str) -> Vec<Id> {
    let name = path.rsplit('/').next().unwrap_or(path);
    let ends = |target: &str| target.rsplit('/').next() == Some(name);
    let shown = |procedure: &Procedure| {
        let sections = procedure.body.sections.iter().chain([&procedure.body.introduction]);
        let in_words = sections.flat_map(|section| &section.pictures).any(|picture| ends(&picture.target));
        in_words || procedure.steps.iter().any(|step| step.picture.as_ref().is_some_and(|picture| ends(picture)))
    };
    those(library, shown)
}
