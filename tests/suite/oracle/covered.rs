//! Every cell of the coverage again, by the slow walk: cover, age, person, each condition and what set it, the number of ways, the worst way.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

use jiff::civil::Date;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use stepward::analyse::coverage::coverage;
use stepward::analyse::{Verdict, analyse};
use stepward::flow::coverage::{Cover, Coverage, Exposure};
use stepward::model::catalogue::Person;
use stepward::model::procedure::{Procedure, WaiverOf};
use stepward::read::read;
use stepward::text::folder::Folder;
use stepward::text::id::Id;

use crate::mutants::shipped;
use crate::oracle::generate::library;
use crate::oracle::walks::{Age, Ages, Origin, Standing};
use crate::oracle::world::World;
use crate::oracle::{graph, routes, search, walks};

pub const TODAY: &str = "2026-06-01";

/// What was compared.
#[derive(Default, Debug)]
struct Tally {
    libraries: usize,
    exposures: usize,
    skipped: usize,
    before: usize,
    out_of_date: usize,
    missing: usize,
    here: usize,
    unreachable: usize,
    conditions: usize,
    origins: usize,
    /// Origins named though no walk ends with them.
    spare: usize,
    ways: usize,
    apart: usize,
    wrong: Vec<String>,
}

pub fn judged(folder: &Folder) -> Verdict {
    let (library, reading) = read(folder);
    analyse(library, reading, TODAY.parse::<Date>().expect("a day"))
}

pub fn random(seed: u64) -> Folder {
    Folder::of(library(seed).0.iter().map(|(path, text)| (path.as_str(), text.as_str())))
}

/// Set by hand to look at more, or at one: `COVERED=n`, `COVERED_SEED=n`.
pub fn seeds(usual: u64) -> std::ops::Range<u64> {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    match number("COVERED_SEED") {
        Some(seed) => seed..seed + 1,
        None => 0..number("COVERED").unwrap_or(usual),
    }
}

#[test]
fn a_slow_walk_sees_the_same_coverage_in_random_libraries() {
    let tally = Mutex::new(Tally::default());
    seeds(3_000).into_par_iter().for_each(|seed| compare(&judged(&random(seed)), &format!("{seed}"), &tally));
    let tally = tally.into_inner().expect("no panic");
    report(&tally);
    assert!(tally.skipped * 50 < tally.exposures, "{} of {} exposures are too large", tally.skipped, tally.exposures);
    if seeds(3_000).end >= 3_000 && seeds(3_000).start == 0 {
        for (count, least) in [
            (tally.before, 500),
            (tally.out_of_date, 100),
            (tally.missing, 500),
            (tally.here, 500),
            (tally.unreachable, 50),
            (tally.conditions, 1_000),
            (tally.origins, 300),
            (tally.ways, 1_000),
            (tally.apart, 5),
        ] {
            assert!(count >= least, "the random libraries are too tame: {tally:?}");
        }
        assert!(tally.spare * 10 <= tally.origins, "{} of {} origins are spare", tally.spare, tally.origins);
    }
}

#[test]
fn a_slow_walk_sees_the_same_coverage_in_the_library_we_ship() {
    let tally = Mutex::new(Tally::default());
    compare(&judged(&shipped()), "shipped", &tally);
    let tally = tally.into_inner().expect("no panic");
    report(&tally);
    assert!(tally.exposures > 50, "{tally:?}");
    assert_eq!((tally.skipped, tally.spare), (0, 0), "every cell is walked");
}

fn report(tally: &Tally) {
    println!("{:?}", Tally { wrong: Vec::new(), ..clone(tally) });
    for wrong in tally.wrong.iter().take(20) {
        println!("{wrong}");
    }
    assert!(tally.wrong.is_empty(), "{} cells differ", tally.wrong.len());
}

fn clone(tally: &Tally) -> Tally {
    Tally { wrong: Vec::new(), ..*tally }
}

fn compare(verdict: &Verdict, name: &str, tally: &Mutex<Tally>) {
    let mut own = Tally { libraries: 1, ..Tally::default() };
    for coverage in coverage(verdict) {
        let procedure = verdict.library.procedure(&coverage.procedure).expect("known");
        procedure_of(verdict, procedure, &coverage, name, &mut own);
    }
    let mut all = tally.lock().expect("no panic");
    let Tally {
        libraries,
        exposures,
        skipped,
        before,
        out_of_date,
        missing,
        here,
        unreachable,
        conditions,
        origins,
        spare,
        ways,
        apart,
        wrong,
    } = own;
    all.libraries += libraries;
    all.exposures += exposures;
    all.skipped += skipped;
    all.before += before;
    all.out_of_date += out_of_date;
    all.missing += missing;
    all.here += here;
    all.unreachable += unreachable;
    all.conditions += conditions;
    all.origins += origins;
    all.spare += spare;
    all.ways += ways;
    all.apart += apart;
    all.wrong.extend(wrong);
}

/// One model of a procedure, walked.
struct Walked<'a> {
    world: World<'a>,
    model: Option<&'a Id>,
    ages: BTreeMap<usize, Ages>,
    standing: BTreeMap<Id, Standing>,
    routes: Option<BTreeMap<Id, usize>>,
}

fn procedure_of(verdict: &Verdict, procedure: &Procedure, coverage: &Coverage, name: &str, tally: &mut Tally) {
    let library = &verdict.library;
    let mut cells = BTreeSet::new();
    for step in &procedure.steps {
        cells.extend(library.catalogue.exposed(step).into_iter().map(|hazard| (step.id.clone(), hazard.id.clone())));
    }
    let told: BTreeSet<(Id, Id)> = coverage.exposures.iter().map(|one| (one.step.clone(), one.hazard.clone())).collect();
    if cells != told || told.len() != coverage.exposures.len() {
        tally.wrong.push(format!("{name} {}: exposures {told:?}, should be {cells:?}", procedure.id));
    }
    let hazards: BTreeSet<&Id> = cells.iter().map(|(_, hazard)| hazard).collect();
    let mut walked = Vec::new();
    for model in graph::models(library, procedure) {
        let world = World::new(library, model.and_then(|id| library.equipment.model(id)), TODAY);
        let ages: Option<BTreeMap<usize, Ages>> = hazards
            .iter()
            .map(|hazard| {
                let number = world.hazard(hazard);
                walks::ages(&world, procedure, number).map(|ages| (number, ages))
            })
            .collect();
        let (Some(ages), Some(standing)) = (ages, walks::standing(&world, procedure)) else {
            tally.exposures += coverage.exposures.len();
            tally.skipped += coverage.exposures.len();
            return;
        };
        walked.push(Walked { ages, standing, routes: routes::count(library, procedure, model), world, model });
    }
    for exposure in &coverage.exposures {
        tally.exposures += 1;
        for wrong in cell(procedure, exposure, &walked, tally) {
            tally.wrong.push(format!("{name} {}/{} {}: {wrong}", procedure.id, exposure.step, exposure.hazard));
        }
    }
}

fn cell(procedure: &Procedure, exposure: &Exposure, walked: &[Walked<'_>], tally: &mut Tally) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut same = |what: &str, told: String, found: String| {
        if told != found {
            wrong.push(format!("{what} {told}, should be {found}"));
        }
    };
    let reached: Vec<&Walked<'_>> = walked.iter().filter(|one| one.standing.contains_key(&exposure.step)).collect();
    same("reachable", exposure.reachable.to_string(), (!reached.is_empty()).to_string());
    let Some(first) = reached.first() else {
        tally.unreachable += 1;
        same("proven", exposure.proven.to_string(), "false".to_owned());
        same("ways", exposure.ways.clone(), "0".to_owned());
        return wrong;
    };
    let on: Vec<Id> =
        if reached.len() == walked.len() { Vec::new() } else { reached.iter().filter_map(|one| one.model.cloned()).collect() };
    same("models", format!("{:?}", exposure.models), format!("{on:?}"));
    let world = &first.world;
    let hazard = world.hazard(&exposure.hazard);
    let ages: BTreeMap<Age, usize> =
        reached.iter().flat_map(|one| &one.ages[&hazard][&exposure.step]).fold(BTreeMap::new(), |mut all, (age, depth)| {
            let known = all.entry(*age).or_insert(*depth);
            *known = (*known).min(*depth);
            all
        });
    let cover = cover(world, procedure, exposure, &ages, tally);
    same("cover", told(&exposure.cover), cover.clone());
    let person = reached.iter().filter_map(|one| one.standing[&exposure.step].person).min().expect("somebody");
    same("person", format!("{:?}", exposure.person), format!("{person:?}"));
    let least = world.hazards[hazard].least.unwrap_or(Person::Ordinary);
    same("least", format!("{:?}", exposure.least), format!("{least:?}"));
    let step = procedure.step(&exposure.step).expect("known");
    let waived = |of| world.waived(procedure, step, hazard, of);
    same("least waived", exposure.least_waived.to_string(), waived(WaiverOf::Least).to_string());
    same("requires waived", exposure.requires_waived.to_string(), waived(WaiverOf::Requires).to_string());
    let required: Vec<&str> = world.hazards[hazard].requires.iter().map(|one| world.conditions[*one].name.as_str()).collect();
    let listed: Vec<&str> = exposure.conditions.iter().map(|held| held.condition.as_str()).collect();
    same("conditions", format!("{listed:?}"), format!("{required:?}"));
    let mut all_hold = true;
    for (held, condition) in exposure.conditions.iter().zip(&world.hazards[hazard].requires) {
        tally.conditions += 1;
        let holds = reached.iter().all(|one| one.standing[&exposure.step].holds[*condition]);
        all_hold &= holds;
        same(&format!("{} holds", held.condition), held.holds.to_string(), holds.to_string());
        let found: BTreeSet<Origin> = reached.iter().flat_map(|one| one.standing[&exposure.step].origins[*condition].clone()).collect();
        let set_by = held.set_by.iter().map(|setter| Some((setter.procedure.clone(), setter.step.clone(), setter.way.clone())));
        let told: BTreeSet<Origin> = set_by.chain(held.from_start.then_some(None)).collect();
        tally.origins += found.len();
        tally.spare += told.difference(&found).count();
        let lacking: Vec<&Origin> = found.difference(&told).collect();
        same(&format!("{} lacks origins", held.condition), format!("{lacking:?}"), "[]".to_owned());
    }
    let safe = (cover == "here" || cover.starts_with("before"))
        && (all_hold || exposure.requires_waived)
        && (person >= least || exposure.least_waived);
    same("proven", exposure.proven.to_string(), safe.to_string());
    if let Some(counts) = reached.iter().map(|one| one.routes.as_ref()).collect::<Option<Vec<_>>>() {
        tally.ways += 1;
        let most = counts.iter().filter_map(|counts| counts.get(&exposure.step)).max().expect("a way");
        same("ways", exposure.ways.clone(), most.to_string());
    }
    if let Some(fault) = worst(procedure, exposure, &reached, &ages, tally) {
        wrong.push(format!("worst: {fault}"));
    }
    wrong
}

fn cover(world: &World<'_>, procedure: &Procedure, exposure: &Exposure, ages: &BTreeMap<Age, usize>, tally: &mut Tally) -> String {
    let step = procedure.step(&exposure.step).expect("known");
    if step.cautions.iter().any(|caution| caution.value == exposure.hazard) {
        tally.here += 1;
        return "here".to_owned();
    }
    if ages.contains_key(&None) {
        tally.missing += 1;
        return "missing".to_owned();
    }
    let steps = ages.keys().flatten().map(|(steps, _)| *steps).max().expect("an age");
    let seconds = ages.keys().flatten().map(|(_, seconds)| *seconds).max().expect("an age");
    if steps > world.steps || seconds > world.seconds {
        tally.out_of_date += 1;
        return "out of date".to_owned();
    }
    tally.before += 1;
    format!("before {steps} {seconds}")
}

fn told(cover: &Cover) -> String {
    match cover {
        Cover::Here => "here".to_owned(),
        Cover::Before { steps, seconds, .. } => format!("before {steps} {seconds}"),
        Cover::OutOfDate { .. } => "out of date".to_owned(),
        Cover::Missing => "missing".to_owned(),
    }
}

/// What is wrong with the worst way: it does not end with that age, or a shorter one does.
fn worst(
    procedure: &Procedure,
    exposure: &Exposure,
    reached: &[&Walked<'_>],
    ages: &BTreeMap<Age, usize>,
    tally: &mut Tally,
) -> Option<String> {
    let Some(witness) = &exposure.worst else { return Some("there is none".to_owned()) };
    let world = &reached[0].world;
    let over = |age: &Age| age.is_some_and(|(steps, seconds)| steps > world.steps || seconds > world.seconds);
    let both =
        |age: &Age| matches!((age, &exposure.cover), (Some(age), Cover::Before { steps, seconds, .. }) if *age == (*steps, *seconds));
    let apart = matches!(exposure.cover, Cover::Before { .. }) && !ages.keys().any(both);
    tally.apart += usize::from(apart);
    let right = |age: &Age| match &exposure.cover {
        Cover::Here => true,
        Cover::Missing => age.is_none(),
        Cover::OutOfDate { .. } => over(age),
        Cover::Before { .. } if !apart => both(age),
        Cover::Before { steps, seconds, .. } => {
            let by_time = f64::from(*seconds) / f64::from(world.seconds) > f64::from(*steps) / f64::from(world.steps) + 1e-9;
            age.is_some_and(|age| if by_time { age.1 == *seconds } else { age.0 == *steps })
        }
    };
    let ends: Vec<Result<Age, String>> = reached
        .iter()
        .map(|one| search::follow(&one.world, procedure, witness).map(|moment| moment.facts.ages[one.world.hazard(&exposure.hazard)]))
        .collect();
    if !ends.iter().any(|end| end.as_ref().is_ok_and(&right)) {
        return Some(format!("ends with {ends:?}: {witness:?}"));
    }
    let shortest = ages.iter().filter(|(age, _)| right(age)).map(|(_, depth)| *depth).min()?;
    if witness.len() != shortest + 1 {
        return Some(format!("{} steps, could be {}", witness.len(), shortest + 1));
    }
    let (Cover::Before { at, .. } | Cover::OutOfDate { at: Some(at) }) = &exposure.cover else { return None };
    let there = world.library.procedure(&at.0).and_then(|procedure| procedure.step(&at.1));
    let shows = there.is_some_and(|step| step.cautions.iter().any(|caution| caution.value == exposure.hazard));
    let passed = witness.iter().any(|entry| (&entry.procedure, &entry.step) == (&at.0, &at.1));
    (!shows || !passed).then(|| format!("not shown at {at:?}"))
}
