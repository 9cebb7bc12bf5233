//! What a procedure uses of the catalogue, the equipment and the pictures. What nobody names in it is not used: a part that only its words give
//! away is an error until it is touched or denied, and then it is named.

use std::collections::BTreeSet;

use crate::flow::graph::ways;
use crate::formula::Formula;
use crate::model::body::Section;
use crate::model::catalogue::{Condition, Hazard, Part, Takes};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{LimitValue, Measurement, Sorting, Step, StepKind};
use crate::rules::pages::{Lead, Pages};
use crate::text::id::Id;
use crate::text::place::{At, FileId};

/// Each in the order of the catalogue, each once.
pub struct Used<'a> {
    pub hazards: Vec<&'a Hazard>,
    pub conditions: Vec<&'a Condition>,
    pub parts: Vec<&'a Part>,
    pub figures: BTreeSet<Id>,
    /// The parts that are looked up in the table of distances.
    pub rolling: BTreeSet<Id>,
    pub pictures: BTreeSet<&'a str>,
}

impl<'a> Used<'a> {
    pub fn by(library: &'a Library, pages: &Pages<'a>, procedure: &'a Procedure) -> Self {
        let names = Names::of(procedure);
        let catalogue = &library.catalogue;
        let parts: Vec<&Part> = catalogue.parts.iter().filter(|part| names.parts.contains(&part.id)).collect();
        let mut hazards = names.hazards;
        hazards.extend(parts.iter().flat_map(|part| &part.hazards).map(|hazard| &hazard.value));
        let hazards: Vec<&Hazard> = catalogue.hazards.iter().filter(|hazard| hazards.contains(&hazard.id)).collect();
        let mut conditions = names.conditions;
        conditions.extend(hazards.iter().flat_map(|hazard| hazard.requires.iter().chain(&hazard.returns_with)).map(|id| &id.value));
        let conditions = with_linked(library, conditions);
        let mut figures = names.figures;
        figures.extend(conditions.iter().filter_map(|condition| match condition.takes.as_ref().map(|takes| &takes.value) {
            Some(Takes::Figure(figure)) => Some(figure.clone()),
            Some(Takes::Seconds(_)) | None => None,
        }));
        let pictures = pictures(library, pages, procedure);
        Self { hazards, conditions, parts, figures, rolling: names.rolling, pictures }
    }
}

/// The conditions, and those that they come after or clear, and so on.
fn with_linked<'a>(library: &'a Library, mut names: BTreeSet<&'a Id>) -> Vec<&'a Condition> {
    let all = &library.catalogue.conditions;
    loop {
        let used: Vec<&Condition> = all.iter().filter(|condition| names.contains(&condition.id)).collect();
        let linked: BTreeSet<&Id> = used.iter().flat_map(|one| one.after.iter().chain(&one.clears)).map(|id| &id.value).collect();
        let before = names.len();
        names.extend(linked);
        if names.len() == before {
            return used;
        }
    }
}

/// The names as they stand in a procedure.
#[derive(Default)]
struct Names<'a> {
    hazards: BTreeSet<&'a Id>,
    conditions: BTreeSet<&'a Id>,
    parts: BTreeSet<&'a Id>,
    figures: BTreeSet<Id>,
    rolling: BTreeSet<Id>,
}

impl<'a> Names<'a> {
    fn of(procedure: &'a Procedure) -> Self {
        let mut names = Self::default();
        names.conditions.extend(values(&procedure.requires));
        names.parts.extend(procedure.not_touching.iter().map(|denial| &denial.of.value));
        names.hazards.extend(procedure.waivers.iter().filter_map(|waiver| waiver.hazard.as_ref()).map(|hazard| &hazard.value));
        procedure.steps.iter().for_each(|step| names.add(step));
        names
    }

    fn add(&mut self, step: &'a Step) {
        self.hazards.extend(values(&step.cautions).chain(values(&step.exposes)));
        self.parts.extend(values(&step.touches).chain(step.not_touching.iter().map(|denial| &denial.of.value)));
        self.conditions.extend(values(&step.requires).chain(step.not_changing.iter().map(|denial| &denial.of.value)));
        let of_ways = ways(step).into_iter().filter_map(|way| way.effects);
        let (own, waited) = match &step.kind {
            StepKind::Do(action) => (Some(&action.effects), action.wait_for.as_ref()),
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => (None, None),
        };
        self.conditions.extend(of_ways.chain(own).flat_map(|effects| values(&effects.clears).chain(values(&effects.sets))));
        self.conditions.extend(waited.map(|condition| &condition.value));
        if let StepKind::Measure(measurement) = &step.kind {
            self.measured(measurement);
        }
    }

    fn measured(&mut self, measurement: &'a Measurement) {
        match &measurement.sorting {
            Sorting::Bands(bands) => {
                let limits = bands.iter().filter_map(|band| band.limit.as_ref());
                self.figures.extend(limits.filter_map(|limit| match &limit.value.value {
                    LimitValue::Figure(figure) => Some(figure.clone()),
                    LimitValue::Number(..) => None,
                }));
            }
            Sorting::Match(matched) => {
                self.rolling.extend(matched.parts.iter().map(|part| part.name.value.clone()));
                // The catalogue gives such a part its name on the page.
                self.parts.extend(matched.parts.iter().map(|part| &part.name.value));
            }
            Sorting::Missing => {}
        }
        if let Some(Ok(formula)) = measurement.formula.as_ref().map(|formula| Formula::parse(formula)) {
            let own = |name: &Id| measurement.readings.iter().any(|reading| reading.id == *name);
            self.figures.extend(formula.names().into_iter().map(Id::new).filter(|name| !own(name)));
        }
    }
}

fn values(ids: &[At<Id>]) -> impl Iterator<Item = &Id> {
    ids.iter().map(|id| &id.value)
}

/// The pictures shown or linked to: by the procedure's words, by its steps, and by the stop card.
fn pictures<'a>(library: &'a Library, pages: &Pages<'a>, procedure: &Procedure) -> BTreeSet<&'a str> {
    let mut all: BTreeSet<&str> = procedure.steps.iter().filter_map(|step| pages.picture_of(procedure, step)).collect();
    let stop = library.stop_card.iter().map(|card| (card.at.file, &card.body));
    for (file, body) in [(procedure.at.file, &procedure.body)].into_iter().chain(stop) {
        for section in [&body.introduction].into_iter().chain(&body.sections) {
            all.extend(shown(pages, file, section));
        }
    }
    all
}

fn shown<'a>(pages: &Pages<'a>, file: FileId, section: &Section) -> Vec<&'a str> {
    let targets = section.pictures.iter().map(|picture| &picture.target).chain(section.links.iter().map(|link| &link.target));
    let pictures = targets.filter_map(|target| match pages.lead(file, target) {
        Lead::Picture(path) => Some(path),
        Lead::Elsewhere(_) | Lead::Page(..) | Lead::Unread | Lead::Nowhere => None,
    });
    pictures.collect()
}
