//! Cautions that nothing depends on, against a walk of every concrete visit: from each moment at which a caution is shown, moment by moment, until its
//! hazard is met, it is shown again, void, or out of date. Callers are entered from their own starts, with the calls that are open.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Mutex;

use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use stepward::analyse::analyse;
use stepward::finding::WayKind;
use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::read::read;
use stepward::text::folder::Folder;
use stepward::text::id::Id;

use crate::oracle::generate::library;
use crate::oracle::graph;
use crate::oracle::ways::Moment;
use crate::oracle::world::World;

const TODAY: &str = "2026-06-01";

/// More moments than this are not followed; such libraries are counted and left out.
const MOST: usize = 40_000;

/// Procedure, step, hazard.
type Caution = (Id, Id, String);

/// Every moment of the visits that begin in one procedure on one model, with the moments each leads to (and whether by `otherwise`).
struct Visits<'w> {
    world: &'w World<'w>,
    moments: Vec<Moment>,
    onward: Vec<Vec<(bool, usize)>>,
    /// By procedure and step.
    at: HashMap<(Id, Id), Vec<usize>>,
}

impl<'w> Visits<'w> {
    fn of(world: &'w World<'w>, procedure: &Procedure) -> Option<Self> {
        let first = Moment {
            calls: Vec::new(),
            procedure: procedure.id.clone(),
            step: graph::start(procedure).clone(),
            facts: world.start(procedure),
        };
        let mut known: HashMap<Moment, usize> = HashMap::from([(first.clone(), 0)]);
        let mut visits = Self { world, moments: vec![first], onward: Vec::new(), at: HashMap::new() };
        while visits.onward.len() < visits.moments.len() {
            let number = visits.onward.len();
            let moment = visits.moments[number].clone();
            visits.at.entry((moment.procedure.clone(), moment.step.clone())).or_default().push(number);
            let mut onward = Vec::new();
            for way in world.pass(&moment).1 {
                let next = *known.entry(way.to.clone()).or_insert_with(|| {
                    visits.moments.push(way.to.clone());
                    visits.moments.len() - 1
                });
                onward.push((way.entry.way == Some(WayKind::Otherwise), next));
            }
            visits.onward.push(onward);
            if visits.moments.len() > MOST {
                return None;
            }
        }
        Some(visits)
    }

    fn exposes(&self, moment: &Moment, hazard: usize) -> bool {
        let step = self.world.procedure(&moment.procedure).step(&moment.step).expect("a known step");
        self.world.exposed(step).contains(&hazard)
    }

    fn shows(&self, moment: &Moment, hazard: usize) -> bool {
        let step = self.world.procedure(&moment.procedure).step(&moment.step).expect("a known step");
        step.cautions.iter().any(|id| self.world.hazard(&id.value) == hazard)
    }

    /// Whether somebody to whom the caution was shown at that step meets its hazard while it counts.
    fn use_it(&self, (procedure, step, hazard): &Caution) -> bool {
        let hazard = self.world.hazard(&Id::new(hazard));
        let begin = self.at.get(&(procedure.clone(), step.clone())).into_iter().flatten().copied();
        let mut seen: BTreeSet<usize> = BTreeSet::new();
        let mut open: Vec<usize> = Vec::new();
        for number in begin {
            if self.exposes(&self.moments[number], hazard) {
                return true;
            }
            open.extend(self.onward[number].iter().filter(|(otherwise, _)| !otherwise).map(|(_, next)| *next));
        }
        while let Some(number) = open.pop() {
            let moment = &self.moments[number];
            let counts =
                moment.facts.ages[hazard].is_some_and(|(steps, seconds)| steps <= self.world.steps && seconds <= self.world.seconds);
            if !counts || !seen.insert(number) {
                continue;
            }
            let again = self.shows(moment, hazard);
            if self.exposes(moment, hazard) && !again {
                return true;
            }
            open.extend(self.onward[number].iter().filter(|(otherwise, _)| *otherwise || !again).map(|(_, next)| *next));
        }
        false
    }
}

/// The cautions of a library at steps that can be reached, and whether somebody uses each. `None`: too many moments.
fn walked(library: &Library, judged: &BTreeSet<&Id>) -> Option<BTreeMap<Caution, bool>> {
    let mut found: BTreeMap<Caution, bool> = BTreeMap::new();
    for procedure in library.procedures.iter().filter(|procedure| judged.contains(&procedure.id)) {
        for model in graph::models(library, procedure) {
            let world = World::new(library, model.and_then(|id| library.equipment.model(id)), TODAY);
            let visits = Visits::of(&world, procedure)?;
            for (other, step) in visits.at.keys() {
                let owner = library.procedure(other).expect("a known procedure");
                if !graph::models(library, owner).contains(&model) {
                    continue;
                }
                for hazard in &owner.step(step).expect("a known step").cautions {
                    let caution = (other.clone(), step.clone(), hazard.value.to_string());
                    let used = found.entry(caution.clone()).or_default();
                    *used = *used || visits.use_it(&caution);
                }
            }
        }
    }
    Some(found)
}

#[derive(Default)]
struct Tally {
    libraries: usize,
    skipped: usize,
    /// Cautions judged by both to the letter: idle, used.
    idle: usize,
    used: usize,
    /// Idle ones in tasks that something carries out.
    carried: usize,
    wrong: Vec<String>,
}

#[test]
fn a_walk_of_every_visit_finds_the_same_idle_cautions() {
    let count: u64 = if std::env::var("SLOW").is_ok() { 30_000 } else { 1_000 };
    let tally = Mutex::new(Tally::default());
    (500_000..500_000 + count).into_par_iter().for_each(|seed| one(seed, &tally));
    let tally = tally.into_inner().expect("no panic");
    println!(
        "{} libraries, {} skipped; {} idle ({} in tasks carried out), {} used",
        tally.libraries, tally.skipped, tally.idle, tally.carried, tally.used
    );
    assert!(tally.wrong.is_empty(), "{} of {count}; the first: {}", tally.wrong.len(), tally.wrong[0]);
    assert!(tally.skipped * 50 <= tally.libraries, "too many libraries are too large");
    let (idle, used, carried) = (tally.idle * 8, tally.used * 8, tally.carried * 60);
    assert!(idle > tally.libraries && used > tally.libraries && carried > tally.libraries, "too few to compare");
}

fn one(seed: u64, tally: &Mutex<Tally>) {
    let files = library(seed);
    let folder = Folder::of(files.0.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    let (library, reading) = read(&folder);
    let verdict = analyse(library, reading, TODAY.parse().expect("a day"));
    let library = &verdict.library;
    let idle: BTreeSet<Caution> = verdict
        .findings
        .iter()
        .filter(|finding| finding.rule.name == "caution-idle")
        .map(|finding| {
            let (procedure, step) = finding.procedure.clone().zip(finding.step.clone()).expect("a step");
            (procedure, step, finding.subject.clone().expect("a hazard"))
        })
        .collect();
    let judged: BTreeSet<&Id> =
        library.procedures.iter().map(|procedure| &procedure.id).filter(|id| !verdict.not_analysed.contains(id)).collect();
    let Some(walked) = walked(library, &judged) else {
        tally.lock().expect("no panic").skipped += 1;
        return;
    };
    // Where a condition is lacking, what is set may not come about: there the compiler only must not call idle what somebody uses.
    let lacking = verdict.findings.iter().any(|finding| finding.rule.name == "condition-not-met");
    let callers = callers(library);
    let mut tally = tally.lock().expect("no panic");
    tally.libraries += 1;
    for (caution, used) in &walked {
        let theirs = idle.contains(caution);
        let into_broken = callers.get(&caution.0).into_iter().flatten().any(|caller| !judged.contains(caller));
        let exact = !lacking && !into_broken;
        if theirs && *used || exact && !theirs && !used {
            tally
                .wrong
                .push(format!("seed {seed}: {caution:?}: idle by the compiler {theirs}, used by the walk {used}\n{}", files.shown()));
        } else if exact {
            tally.idle += usize::from(theirs);
            tally.used += usize::from(!theirs);
            tally.carried += usize::from(theirs && callers.contains_key(&caution.0));
        }
    }
    for caution in idle.iter().filter(|caution| !walked.contains_key(*caution)) {
        tally.wrong.push(format!("seed {seed}: {caution:?} is at a step that no visit comes to\n{}", files.shown()));
    }
}

/// All that carry a procedure out, perhaps by way of others.
fn callers(library: &Library) -> BTreeMap<Id, BTreeSet<&Id>> {
    let mut callers: BTreeMap<Id, BTreeSet<&Id>> = BTreeMap::new();
    for top in &library.procedures {
        let mut open: Vec<&Id> = top.callees().collect();
        while let Some(callee) = open.pop() {
            if callers.entry(callee.clone()).or_default().insert(&top.id) {
                open.extend(library.procedure(callee).into_iter().flat_map(Procedure::callees));
            }
        }
    }
    callers
}
