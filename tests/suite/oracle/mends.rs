//! The steps at which showing a caution mends everything, against every smaller set of steps, each really tried.

use std::sync::Mutex;

use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use stepward::analyse::coverage::coverage;
use stepward::analyse::{Verdict, analyse};
use stepward::finding::Findings;
use stepward::flow::coverage::Mend;
use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::model::step::StepKind;
use stepward::read::read;
use stepward::text::id::Id;
use stepward::text::place::At;

use crate::oracle::covered::{TODAY, random, seeds};

/// Steps of the procedures for which every smaller set is tried.
const MOST: usize = 11;

/// The steps of the procedure where the hazard's caution is missing or out of date.
fn failing(verdict: &Verdict, procedure: &Id, hazard: &Id) -> usize {
    let about = verdict.findings.iter().filter(|finding| matches!(finding.rule.name, "caution-missing" | "caution-out-of-date"));
    about.filter(|finding| finding.procedure.as_ref() == Some(procedure) && finding.subject.as_deref() == Some(hazard.as_str())).count()
}

fn with(library: &Library, reading: &Findings, procedure: &Id, hazard: &Id, steps: &[&Id]) -> Verdict {
    let mut library = library.clone();
    let own = library.procedures.iter_mut().find(|one| one.id == *procedure).expect("known");
    for step in own.steps.iter_mut().filter(|step| steps.contains(&&step.id)) {
        step.cautions.push(At { value: hazard.clone(), at: step.at });
    }
    analyse(library, reading.clone(), TODAY.parse().expect("a day"))
}

#[derive(Default, Debug)]
struct Tally {
    mends: usize,
    /// By number of steps, from none to three and more.
    sizes: [usize; 4],
    unproved: usize,
    tried: usize,
    wrong: Vec<String>,
}

fn one(library: &Library, reading: &Findings, procedure: &Procedure, mend: &Mend, tally: &mut Tally) {
    let steps: Vec<&Id> = mend.steps.iter().collect();
    tally.mends += 1;
    tally.sizes[steps.len().min(3)] += 1;
    tally.unproved += usize::from(!mend.smallest);
    let left = failing(&with(library, reading, &procedure.id, &mend.hazard, &steps), &procedure.id, &mend.hazard);
    if left > 0 {
        tally.wrong.push(format!("{}: {} at {steps:?} leaves {left}", procedure.id, mend.hazard));
    }
    let may = |kind: &StepKind| matches!(kind, StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_));
    let places: Vec<&Id> = procedure.steps.iter().filter(|step| may(&step.kind)).map(|step| &step.id).collect();
    if procedure.steps.len() > MOST || steps.len() > 4 {
        return;
    }
    for mask in 0_u32..1 << places.len() {
        if mask.count_ones() as usize >= steps.len() {
            continue;
        }
        let fewer: Vec<&Id> = places.iter().enumerate().filter(|(at, _)| mask & (1 << at) != 0).map(|(_, id)| *id).collect();
        tally.tried += 1;
        if failing(&with(library, reading, &procedure.id, &mend.hazard, &fewer), &procedure.id, &mend.hazard) == 0 {
            tally.wrong.push(format!("{}: {} at {fewer:?} is fewer than {steps:?}", procedure.id, mend.hazard));
            return;
        }
    }
}

#[test]
fn no_smaller_set_of_steps_mends_random_libraries() {
    let tally = Mutex::new(Tally::default());
    seeds(400).into_par_iter().for_each(|seed| {
        let (library, reading) = read(&random(seed));
        let verdict = analyse(library.clone(), reading.clone(), TODAY.parse().expect("a day"));
        let mut own = Tally::default();
        for coverage in coverage(&verdict) {
            let procedure = library.procedure(&coverage.procedure).expect("known");
            let failing_hazards = library.catalogue.hazards.iter().filter(|hazard| failing(&verdict, &procedure.id, &hazard.id) > 0);
            let told: Vec<&Id> = coverage.mends.iter().map(|mend| &mend.hazard).collect();
            if failing_hazards.map(|hazard| &hazard.id).collect::<Vec<_>>() != told {
                own.wrong.push(format!("{seed} {}: mends for {told:?}", procedure.id));
            }
            for mend in &coverage.mends {
                one(&library, &reading, procedure, mend, &mut own);
            }
        }
        let mut all = tally.lock().expect("no panic");
        all.mends += own.mends;
        all.unproved += own.unproved;
        all.tried += own.tried;
        all.sizes.iter_mut().zip(own.sizes).for_each(|(all, own)| *all += own);
        all.wrong.extend(own.wrong.into_iter().map(|wrong| format!("{seed}: {wrong}")));
    });
    let tally = tally.into_inner().expect("no panic");
    println!(
        "{} mends of sizes {:?}, {} smaller sets tried, {} not proved smallest",
        tally.mends, tally.sizes, tally.tried, tally.unproved
    );
    assert!(tally.wrong.is_empty(), "{} wrong, the first:\n{}", tally.wrong.len(), tally.wrong[..tally.wrong.len().min(10)].join("\n"));
    assert_eq!(tally.unproved, 0, "procedures as small as these are tried out");
    assert!(seeds(400).end < 400 || seeds(400).start > 0 || (tally.sizes[1] > 50 && tally.sizes[2] > 20), "too tame: {tally:?}");
}
