//! What changed between two libraries in meaning: OLD and NEW, both read and judged, to a list of changes, safety first.
//!
//! [`pair`] finds what of OLD is what of NEW and [`rename`] puts OLD into NEW's names; then everything is compared by id: the catalogue, the
//! procedures, their steps and ways, what the proof knows of both ([`cover`], [`proven`]), and whether answers can tell them apart ([`behaviour`]).
//! Places, white space, comments, the order of keys and the wrapping of words mean nothing.

pub mod change;
pub mod kind;
pub mod pair;
pub mod refine;
pub mod rename;
pub mod said;

mod bands;
mod catalogue;
mod cover;
mod denials;
mod effects;
mod library;
mod procedure;
mod proven;
mod sees;
mod steps;
mod uses;
mod ways;

pub mod behaviour;

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::behaviour::{Behaviour, Flow, Verdict};
use crate::compare::change::{Change, Changes, Spot};
use crate::compare::kind::Area;
use crate::compare::rename::{Matched, Names};
use crate::compare::steps::Pair;
use crate::finding::Findings;
use crate::flow::deep::deeply;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::rules::paths;
use crate::text::id::Id;

/// A library and what was found about it.
#[derive(Clone, Copy)]
pub struct Judged<'a> {
    pub library: &'a Library,
    pub findings: &'a Findings,
    /// Procedures whose paths could not be judged.
    pub not_analysed: &'a [Id],
    /// A digest of each picture, by its path.
    pub pictures: &'a BTreeMap<String, String>,
}

/// All that is to be told.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Safety first; in each list what is weaker first; then what was written otherwise before what follows from it in the proof; then by
    /// procedure, those of no procedure first.
    pub changes: Vec<Change>,
    /// What was taken to be the same though its id is another.
    pub matched: Vec<Matched>,
    /// Procedures that both have, in the order of their ids.
    pub behaviours: Vec<Behaviour>,
    pub not_compared: Vec<NotCompared>,
}

/// Something that could not be held against its other side, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotCompared {
    pub procedure: Option<Id>,
    pub what: &'static str,
    pub why: String,
}

impl Comparison {
    /// Whether NEW means the same as OLD, as far as could be told.
    pub fn same(&self) -> bool {
        self.changes.is_empty() && self.behaviours.iter().all(|it| it.verdict == Verdict::Same)
    }

    pub fn of(&self, area: Area) -> impl Iterator<Item = &Change> {
        self.changes.iter().filter(move |change| change.kind.area == area)
    }
}

/// Compares two libraries.
pub fn compare(old: Judged<'_>, new: Judged<'_>) -> Comparison {
    deeply(move || on_this_stack(&old, &new))
}

fn on_this_stack(old: &Judged<'_>, new: &Judged<'_>) -> Comparison {
    let names = Names::new(old.library, new.library);
    let before = names.apply(old.library);
    let after = new.library;
    let mut out = Changes { list: Vec::new(), names: &names, old: &before.sources, new: &after.sources };
    let mut not_compared = Vec::new();
    renames(&names, &before, after, &mut out);
    if before.catalogue.unreadable || after.catalogue.unreadable {
        not_compared.push(NotCompared {
            procedure: None,
            what: "the safety catalogue",
            why: "`safety.yaml` cannot be understood".to_owned(),
        });
    } else {
        catalogue::compare(&before, after, &mut out);
    }
    library::compare(&before, after, (old, new), &mut out);
    let pairs: Vec<Pair<'_>> = after
        .procedures
        .iter()
        .filter_map(|new| before.procedure(&new.id).map(|old| Pair { libraries: (&before, after), old, new }))
        .collect();
    before.procedures.iter().filter(|it| after.procedure(&it.id).is_none()).for_each(|it| procedure::alone(it, false, &mut out));
    after.procedures.iter().filter(|it| before.procedure(&it.id).is_none()).for_each(|it| procedure::alone(it, true, &mut out));
    for pair in &pairs {
        procedure::compare(*pair, &mut out);
        steps::compare(*pair, &mut out);
    }
    let judged = judged(&pairs, old, new, &names, &mut not_compared);
    proofs(&judged, &before, (old, new), &mut out);
    proven::findings(old, new, &mut out);
    let behaviours = behaviours(&judged);
    callers(after, &mut out);
    let mut changes = out.list;
    changes.sort_by(|a, b| {
        let place = |it: &Change| it.new.as_ref().or(it.old.as_ref()).map(|side| (side.file.clone(), side.line, side.column));
        let key = |it: &Change| (it.kind.area, it.kind.turn, it.kind.follows(), it.procedure.clone(), it.kind.rank);
        key(a).cmp(&key(b)).then_with(|| place(a).cmp(&place(b))).then_with(|| a.message.cmp(&b.message))
    });
    Comparison { changes, matched: names.matched.clone(), behaviours, not_compared }
}

/// Ids that are new names, and ids that may mean something else.
fn renames(names: &Names, old: &Library, new: &Library, out: &mut Changes<'_>) {
    let place = |library: &Library, it: &Matched| match (it.sort, &it.procedure) {
        ("step", Some(procedure)) => library.procedure(procedure)?.step(&it.new).map(|step| step.at),
        ("procedure", _) => library.procedure(&it.new).map(|it| it.at),
        ("hazard", _) => library.catalogue.hazard(&it.new).map(|it| it.at),
        ("condition", _) => library.catalogue.condition(&it.new).map(|it| it.at),
        ("part", _) => library.catalogue.part(&it.new).map(|it| it.at),
        _ => library.equipment.model(&it.new).map(|it| it.at),
    };
    for it in &names.matched {
        let kind = match it.sort {
            "step" => &kind::STEP_RENAMED,
            "procedure" => &kind::PROCEDURE_RENAMED,
            _ => &kind::ENTRY_RENAMED,
        };
        let procedure = it.procedure.as_ref().or((it.sort == "procedure").then_some(&it.new));
        let step = (it.sort == "step").then_some(&it.new);
        let spot = Spot { procedure, step, old: place(old, it), new: place(new, it) };
        let change = out.add(kind, spot, format!("the {} `{}` is called `{}` now", it.sort, it.old, it.new));
        change.subject(it.new.as_str()).words(Some(it.old.to_string()), Some(it.new.to_string()));
    }
    for it in &names.reused {
        let procedure = it.procedure.as_ref().or((it.sort == "procedure").then_some(&it.new));
        let step = (it.sort == "step").then_some(&it.new);
        let spot = Spot { procedure, step, old: place(old, it), new: place(new, it) };
        let message = format!("the {} `{}` stands over another text now: is it still the same?", it.sort, it.new);
        out.add(&kind::ID_REUSED, spot, message).subject(it.new.as_str());
    }
}

/// The pairs whose paths were judged on both sides; of the others it is said that they were not.
fn judged<'a>(pairs: &[Pair<'a>], old: &Judged<'_>, new: &Judged<'_>, names: &Names, not_compared: &mut Vec<NotCompared>) -> Vec<Pair<'a>> {
    let before: BTreeSet<Id> = old.not_analysed.iter().map(|id| names.procedure(id)).collect();
    let after: BTreeSet<&Id> = new.not_analysed.iter().collect();
    let mut judged = Vec::new();
    for pair in pairs {
        let id = &pair.new.id;
        let sides = match (before.contains(id), after.contains(id)) {
            // A withdrawn procedure has no way that anybody follows.
            (false, false) if pair.old.is_withdrawn() || pair.new.is_withdrawn() => continue,
            (false, false) => {
                judged.push(*pair);
                continue;
            }
            (true, true) => "in OLD and in NEW",
            (true, false) => "in OLD",
            (false, true) => "in NEW",
        };
        let why = format!("something in it, or in what it carries out, is broken {sides}");
        not_compared.push(NotCompared { procedure: Some(id.clone()), what: "exposures, conditions and behaviour", why });
    }
    judged
}

fn proofs(pairs: &[Pair<'_>], before: &Library, (old, new): (&Judged<'_>, &Judged<'_>), out: &mut Changes<'_>) {
    let waived = (paths::waived(before, old.findings), paths::waived(new.library, new.findings));
    let programs = (cover::Programs::new(before, &waived.0), cover::Programs::new(new.library, &waived.1));
    for pair in pairs {
        let (was, is) = (programs.0.known(pair.old), programs.1.known(pair.new));
        proven::exposures(*pair, &was, &is, out);
        proven::conditions(*pair, &was, &is, out);
        proven::ends(*pair, &was, &is, &carried_out(new.library, &pair.new.id), out);
    }
}

/// The steps that carry a procedure out.
fn carried_out<'a>(library: &'a Library, id: &Id) -> Vec<(&'a Procedure, &'a Step)> {
    let all = library.procedures.iter().flat_map(|procedure| procedure.steps.iter().map(move |step| (procedure, step)));
    all.filter(|(_, step)| matches!(&step.kind, StepKind::CarryOut(it) if it.procedure.value == *id)).collect()
}

/// By model: the verdict, and whether limits were too many to be counted.
type Results = Vec<(Option<Id>, Verdict, bool)>;

/// The behaviour of each pair on each model, what is carried out first.
fn behaviours(pairs: &[Pair<'_>]) -> Vec<Behaviour> {
    let mut found: BTreeMap<Id, Results> = BTreeMap::new();
    for pair in pairs {
        behaviour_of(pair, pairs, &mut found);
    }
    let mut all = Vec::new();
    for (procedure, results) in found {
        let every = results.len();
        let mut groups: Vec<(Vec<Id>, Verdict, bool)> = Vec::new();
        for (model, verdict, uncounted) in results {
            match groups.iter_mut().find(|(_, known, counted)| *known == verdict && *counted == uncounted) {
                Some((models, _, _)) => models.extend(model),
                None => groups.push((model.into_iter().collect(), verdict, uncounted)),
            }
        }
        for (models, verdict, uncounted) in groups {
            let models = if models.len() == every { Vec::new() } else { models };
            all.push(Behaviour { procedure: procedure.clone(), models, verdict, uncounted });
        }
    }
    all
}

fn behaviour_of(pair: &Pair<'_>, pairs: &[Pair<'_>], found: &mut BTreeMap<Id, Results>) {
    if found.contains_key(&pair.new.id) {
        return;
    }
    found.insert(pair.new.id.clone(), Vec::new());
    for callee in pair.new.callees() {
        if let Some(below) = pairs.iter().find(|it| it.new.id == *callee) {
            behaviour_of(below, pairs, found);
        }
    }
    let (before, after) = pair.libraries;
    let (was, is) = (before.models_of(pair.old), after.models_of(pair.new));
    let both: Vec<Option<Id>> = is.iter().filter(|id| was.contains(id)).map(|id| Some((*id).clone())).collect();
    let models = if both.is_empty() { vec![None] } else { both };
    let mut results = Vec::new();
    for model in models {
        let differs = |(id, list): (&Id, &Results)| {
            let here = list.iter().any(|(on, verdict, _)| *verdict != Verdict::Same && (on.is_none() || model.is_none() || *on == model));
            here.then(|| id.clone())
        };
        let differing: BTreeSet<Id> = found.iter().filter_map(differs).collect();
        let (old_model, new_model) = match &model {
            Some(id) => (before.equipment.model(id), after.equipment.model(id)),
            None => (None, None),
        };
        let old = Flow { library: before, procedure: pair.old, model: old_model, side: "OLD" };
        let new = Flow { library: after, procedure: pair.new, model: new_model, side: "NEW" };
        let (verdict, uncounted) = behaviour::compare(old, new, &differing);
        results.push((model, verdict, uncounted));
    }
    found.insert(pair.new.id.clone(), results);
}

/// Whoever carries out what changed is told of, however many calls up.
fn callers(library: &Library, out: &mut Changes<'_>) {
    let mut changed: BTreeSet<Id> = out.list.iter().filter_map(|change| change.procedure.clone()).collect();
    let mut told: BTreeSet<(Id, Id)> = BTreeSet::new();
    let mut open: Vec<Id> = changed.iter().cloned().collect();
    while let Some(callee) = open.pop() {
        for (caller, step) in carried_out(library, &callee) {
            if told.insert((caller.id.clone(), step.id.clone())) {
                let spot = Spot { procedure: Some(&caller.id), step: Some(&step.id), old: None, new: Some(step.at) };
                out.add(&kind::CALLEE_CHANGED, spot, format!("`{}` carries out `{callee}`, which changed", step.id))
                    .subject(callee.as_str());
            }
            if changed.insert(caller.id.clone()) {
                open.push(caller.id.clone());
            }
        }
    }
}
