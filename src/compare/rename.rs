//! OLD in NEW's names: once every id that was renamed is replaced, both libraries can be compared by id.

use std::collections::BTreeMap;

use crate::compare::pair::{By, Entry, LEAST_LIKENESS, Pair, likeness, pair};
use crate::model::catalogue::Catalogue;
use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure};
use crate::model::step::{Effects, NamedWay, Sorting, Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;

/// What ids of one sort are called in NEW, by what they are called in OLD.
type Map = BTreeMap<Id, Id>;

/// A pair that was not found by its id, or whose id may mean something else now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matched {
    /// `procedure`, `step`, `hazard`, `condition`, `part`, `model`.
    pub sort: &'static str,
    /// For a step: its procedure, in NEW.
    pub procedure: Option<Id>,
    pub old: Id,
    pub new: Id,
    pub by: By,
    /// How alike the texts are, in thousandths.
    pub likeness: u32,
}

#[derive(Clone, Debug, Default)]
pub struct Names {
    pub procedures: Map,
    /// By procedure (in NEW).
    pub steps: BTreeMap<Id, Map>,
    pub hazards: Map,
    pub conditions: Map,
    pub parts: Map,
    pub models: Map,
    /// What was matched by content, in the order found.
    pub matched: Vec<Matched>,
    /// Ids that stand over another text now.
    pub reused: Vec<Matched>,
}

impl Names {
    pub fn new(old: &Library, new: &Library) -> Self {
        let mut names = Names::default();
        let titled = |id: &Id, kind: &'static str, name: &Option<At<String>>| Entry {
            id: id.clone(),
            kind,
            text: name.as_ref().map(|name| name.value.clone()).unwrap_or_default(),
        };
        let hazards = |c: &Catalogue| c.hazards.iter().map(|it| titled(&it.id, "hazard", &it.name)).collect::<Vec<_>>();
        let conditions = |c: &Catalogue| c.conditions.iter().map(|it| titled(&it.id, "condition", &it.name)).collect::<Vec<_>>();
        let parts = |c: &Catalogue| c.parts.iter().map(|it| titled(&it.id, "part", &it.name)).collect::<Vec<_>>();
        let models = |it: &Library| it.equipment.models.iter().map(|it| titled(&it.id, "model", &it.name)).collect::<Vec<_>>();
        names.hazards = names.sort("hazard", None, &hazards(&old.catalogue), &hazards(&new.catalogue));
        names.conditions = names.sort("condition", None, &conditions(&old.catalogue), &conditions(&new.catalogue));
        names.parts = names.sort("part", None, &parts(&old.catalogue), &parts(&new.catalogue));
        names.models = names.sort("model", None, &models(old), &models(new));
        names.procedures = names.sort("procedure", None, &procedures(old), &procedures(new));
        for (old_id, new_id) in names.procedures.clone() {
            if let (Some(before), Some(after)) = (old.procedure(&old_id), new.procedure(&new_id)) {
                let map = names.sort("step", Some(&new_id), &steps(before), &steps(after));
                names.steps.insert(new_id, map);
            }
        }
        names
    }

    /// Matches entries of one sort; notes what was matched by content and what is called as something else was.
    fn sort(&mut self, sort: &'static str, procedure: Option<&Id>, old: &[Entry], new: &[Entry]) -> Map {
        let text = |list: &[Entry], id: &Id| list.iter().find(|entry| entry.id == *id).map(|entry| entry.text.clone()).unwrap_or_default();
        let mut map = Map::new();
        for Pair { old: before, new: after, by } in pair(old, new) {
            let (was, is) = (text(old, &before), text(new, &after));
            let alike = likeness(&was, &is);
            let matched = Matched { sort, procedure: procedure.cloned(), old: before.clone(), new: after.clone(), by, likeness: alike };
            if by != By::Id {
                self.matched.push(matched);
            } else if alike < LEAST_LIKENESS && own_words(old, &before) && own_words(new, &after) {
                self.reused.push(matched);
            }
            map.insert(before, after);
        }
        map
    }

    /// What a procedure and a step of NEW were called in OLD; `None` for what OLD did not have.
    pub fn former(&self, procedure: Option<&Id>, step: Option<&Id>) -> (Option<Id>, Option<Id>) {
        let before = |map: &Map, id: &Id| map.iter().find(|(_, new)| *new == id).map(|(old, _)| old.clone());
        let was = procedure.and_then(|id| before(&self.procedures, id).or_else(|| Some(id.clone())));
        let step = step.and_then(|step| {
            let known = procedure.and_then(|id| self.steps.get(id)).and_then(|map| before(map, step));
            known.or_else(|| Some(step.clone()))
        });
        (was, step)
    }

    pub fn procedure(&self, id: &Id) -> Id {
        renamed(&self.procedures, id)
    }

    /// `procedure` is NEW's.
    pub fn step(&self, procedure: &Id, id: &Id) -> Id {
        self.steps.get(procedure).map_or_else(|| id.clone(), |map| renamed(map, id))
    }

    /// A finding's subject in NEW's names: it may be an id of any sort.
    pub fn subject(&self, procedure: Option<&Id>, subject: &str) -> String {
        let own = procedure.and_then(|id| self.steps.get(id));
        let sorts = [&self.hazards, &self.conditions, &self.parts, &self.models, &self.procedures].into_iter().chain(own);
        let mut found = sorts.filter_map(|map| map.get(subject));
        found.find(|id| **id != *subject).map_or_else(|| subject.to_owned(), ToString::to_string)
    }

    /// OLD with every id as NEW has it. Places stay those of OLD.
    pub fn apply(&self, old: &Library) -> Library {
        let mut library = old.clone();
        let catalogue = &mut library.catalogue;
        for condition in &mut catalogue.conditions {
            condition.id = renamed(&self.conditions, &condition.id);
            all(&self.conditions, &mut condition.clears);
            some(&self.conditions, &mut condition.after);
        }
        for hazard in &mut catalogue.hazards {
            hazard.id = renamed(&self.hazards, &hazard.id);
            all(&self.conditions, &mut hazard.requires);
            all(&self.conditions, &mut hazard.returns_with);
        }
        for part in &mut catalogue.parts {
            part.id = renamed(&self.parts, &part.id);
            all(&self.hazards, &mut part.hazards);
        }
        for model in &mut library.equipment.models {
            model.id = renamed(&self.models, &model.id);
        }
        for procedure in library.procedures.iter_mut() {
            self.rename(procedure);
        }
        library.procedures.sort_by(|a, b| a.id.cmp(&b.id));
        library
    }

    fn rename(&self, procedure: &mut Procedure) {
        procedure.id = self.procedure(&procedure.id);
        let none = Map::new();
        let steps = self.steps.get(&procedure.id).unwrap_or(&none);
        some(&self.procedures, &mut procedure.replaced_by);
        all(&self.conditions, &mut procedure.requires);
        if let Some(models) = &mut procedure.equipment {
            all(&self.models, models);
        }
        procedure.not_touching.iter_mut().for_each(|denial| one(&self.parts, &mut denial.of));
        procedure.faults.iter_mut().for_each(|fault| some(steps, &mut fault.comes_to));
        for waiver in &mut procedure.waivers {
            some(steps, &mut waiver.step);
            some(&self.hazards, &mut waiver.hazard);
        }
        some(steps, &mut procedure.start);
        procedure.steps.iter_mut().for_each(|step| self.rename_step(step, steps));
        procedure.body.sections.iter_mut().for_each(|section| some(steps, &mut section.id));
    }

    fn rename_step(&self, step: &mut Step, steps: &Map) {
        step.id = renamed(steps, &step.id);
        all(&self.hazards, &mut step.cautions);
        all(&self.hazards, &mut step.exposes);
        all(&self.parts, &mut step.touches);
        all(&self.conditions, &mut step.requires);
        step.not_touching.iter_mut().for_each(|denial| one(&self.parts, &mut denial.of));
        step.not_changing.iter_mut().for_each(|denial| one(&self.conditions, &mut denial.of));
        some(steps, &mut step.words_of);
        some(steps, &mut step.otherwise);
        match &mut step.kind {
            StepKind::Ask(question) => {
                for answer in &mut question.answers {
                    some(steps, &mut answer.then);
                    self.effects(&mut answer.effects);
                }
                some(steps, &mut question.unsure);
            }
            StepKind::Measure(measurement) => {
                some(steps, &mut measurement.unsure);
                self.sorting(&mut measurement.sorting, steps);
            }
            StepKind::Do(action) => {
                some(steps, &mut action.then);
                some(&self.procedures, &mut action.refer_to);
                some(&self.conditions, &mut action.wait_for);
                self.effects(&mut action.effects);
            }
            StepKind::CarryOut(carry_out) => {
                one(&self.procedures, &mut carry_out.procedure);
                carry_out.outcomes.iter_mut().for_each(|way| some(steps, &mut way.then));
            }
            StepKind::ByModel(by_model) => {
                for (model, then) in &mut by_model.ways {
                    one(&self.models, model);
                    one(steps, then);
                }
                some(steps, &mut by_model.others);
            }
            StepKind::Unclear(_) => {}
        }
    }

    fn sorting(&self, sorting: &mut Sorting, steps: &Map) {
        match sorting {
            Sorting::Bands(bands) => {
                for band in bands {
                    some(steps, &mut band.then);
                    self.effects(&mut band.effects);
                }
            }
            Sorting::Match(table) => {
                let named = |way: &mut NamedWay| some(steps, &mut way.then);
                table.parts.iter_mut().chain(&mut table.several).chain(&mut table.none).for_each(named);
            }
            Sorting::Missing => {}
        }
    }

    fn effects(&self, effects: &mut Effects) {
        all(&self.conditions, &mut effects.clears);
        all(&self.conditions, &mut effects.sets);
    }
}

/// Whether an entry's text is its author's, and not only what it carries out or chooses from.
fn own_words(list: &[Entry], id: &Id) -> bool {
    let own = |entry: &Entry| !entry.text.trim().is_empty() && !matches!(entry.kind, "carry-out" | "by-model");
    list.iter().any(|entry| entry.id == *id && own(entry))
}

fn renamed(map: &Map, id: &Id) -> Id {
    map.get(id).unwrap_or(id).clone()
}

fn one(map: &Map, id: &mut At<Id>) {
    id.value = renamed(map, &id.value);
}

fn some(map: &Map, id: &mut Option<At<Id>>) {
    id.iter_mut().for_each(|id| one(map, id));
}

fn all(map: &Map, ids: &mut [At<Id>]) {
    ids.iter_mut().for_each(|id| one(map, id));
}

fn procedures(library: &Library) -> Vec<Entry> {
    let entry = |procedure: &Procedure| {
        let kind = if procedure.kind == Kind::Task { "task" } else { "fault-finding" };
        Entry { id: procedure.id.clone(), kind, text: procedure.title.as_ref().map(|title| title.value.clone()).unwrap_or_default() }
    };
    library.procedures.iter().map(entry).collect()
}

fn steps(procedure: &Procedure) -> Vec<Entry> {
    let entry = |step: &Step| Entry { id: step.id.clone(), kind: kind_of(step), text: text_of(step) };
    procedure.steps.iter().map(entry).collect()
}

/// The kind of a step by its key; endings are a kind of their own.
pub fn kind_of(step: &Step) -> &'static str {
    match &step.kind {
        StepKind::Ask(_) => "ask",
        StepKind::Measure(_) => "measure",
        StepKind::Do(action) if action.outcome.is_some() => "ending",
        StepKind::Do(_) => "do",
        StepKind::CarryOut(_) => "carry-out",
        StepKind::ByModel(_) => "by-model",
        StepKind::Unclear(_) => "unclear",
    }
}

/// What a step says it is.
fn text_of(step: &Step) -> String {
    match &step.kind {
        StepKind::CarryOut(carry_out) => match &carry_out.name {
            Some(name) => name.value.clone(),
            None => carry_out.procedure.value.as_str().replace('-', " "),
        },
        StepKind::ByModel(by_model) => by_model.ways.iter().map(|(model, _)| model.value.to_string()).collect::<Vec<_>>().join(" "),
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) | StepKind::Unclear(_) => {
            step.text().map(|text| text.value.clone()).unwrap_or_default()
        }
    }
}
