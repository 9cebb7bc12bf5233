//! "What if this caution were gone" against libraries from which it really was taken.

use std::collections::BTreeSet;
use std::sync::Mutex;

use rayon::prelude::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};
use stepward::analyse::Verdict;
use stepward::analyse::coverage::coverage;
use stepward::text::folder::{Entry, Folder};
use stepward::text::id::Id;

use crate::mutants::sample;
use crate::oracle::covered::{TODAY, judged, random, seeds};
use crate::oracle::search;
use crate::oracle::world::World;

/// Rule, procedure, step, hazard.
type Found = BTreeSet<(&'static str, Id, Id, String)>;

fn found(verdict: &Verdict) -> Found {
    let about_cautions = verdict.findings.iter().filter(|finding| matches!(finding.rule.name, "caution-missing" | "caution-out-of-date"));
    let keys = about_cautions.map(|one| Some((one.rule.name, one.procedure.clone()?, one.step.clone()?, one.subject.clone()?)));
    keys.collect::<Option<Found>>().expect("each has a step")
}

/// The library with the name at these bytes of a file taken out of its list.
fn without(folder: &Folder, path: &str, start: usize, end: usize) -> Folder {
    let mut folder = folder.clone();
    let Some(Entry::File(bytes)) = folder.entries.get_mut(path) else { panic!("no file {path}") };
    let mut text = String::from_utf8(std::mem::take(bytes)).expect("text");
    let after = text[end..].find(|c| c != ' ').map(|more| end + more).expect("a list ends");
    let before = text[..start].trim_end().len();
    if text[after..].starts_with(',') {
        text.replace_range(start..=after, "");
    } else if text[..before].ends_with(',') {
        text.replace_range(before - 1..end, "");
    } else {
        text.replace_range(start..end, "");
    }
    *bytes = text.into_bytes();
    folder
}

/// Cautions tried, exposures that they uncover, and what differs.
fn compare(folder: &Folder, name: &str) -> (usize, usize, usize, Vec<String>) {
    let verdict = judged(folder);
    let before = found(&verdict);
    let told = coverage(&verdict);
    let cautions: Vec<_> = told.iter().flat_map(|coverage| coverage.shown.iter().map(move |shown| (&coverage.procedure, shown))).collect();
    let results: Vec<(usize, usize, Vec<String>)> = cautions
        .par_iter()
        .map(|(id, shown)| {
            let procedure = verdict.library.procedure(id).expect("known");
            let step = procedure.step(&shown.step).expect("known");
            let place = step.cautions.iter().find(|caution| caution.value == shown.hazard).expect("shown").at;
            let path = verdict.library.sources.path(place.file);
            let gone = judged(&without(folder, path, place.start as usize, place.end as usize));
            let changed = gone.library.procedure(id).and_then(|procedure| procedure.step(&shown.step)).expect("known");
            assert_eq!(changed.cautions.len() + 1, step.cautions.len(), "{name} {id}/{}: {}", shown.step, shown.hazard);
            assert_eq!(gone.not_analysed, verdict.not_analysed, "{name} {id}/{}", shown.step);
            let new: BTreeSet<(Id, Id, String)> = found(&gone)
                .difference(&before)
                .map(|(_, procedure, step, hazard)| (procedure.clone(), step.clone(), hazard.clone()))
                .collect();
            let said: Vec<(Id, Id, String)> =
                shown.uncovers.iter().map(|(procedure, step, _)| (procedure.clone(), step.clone(), shown.hazard.to_string())).collect();
            let mut wrong = Vec::new();
            if said.iter().cloned().collect::<BTreeSet<_>>() != new || said.len() != new.len() {
                wrong.push(format!("{name} {id}/{} {}: uncovers {said:?}, should be {new:?}", shown.step, shown.hazard));
            }
            for (procedure, step, witness) in &shown.uncovers {
                // The very finding of the changed library has this witness, and the slow walk follows it.
                let there = gone.findings.iter().find(|finding| {
                    finding.procedure.as_ref() == Some(procedure)
                        && finding.step.as_ref() == Some(step)
                        && finding.subject.as_deref() == Some(shown.hazard.as_str())
                        && matches!(finding.rule.name, "caution-missing" | "caution-out-of-date")
                });
                let theirs = there.and_then(|finding| finding.witness.as_ref()).map(Vec::len);
                if theirs != Some(witness.len()) {
                    wrong.push(format!("{name} {id}/{} {}: a way of {}, should be {theirs:?}", shown.step, shown.hazard, witness.len()));
                }
                if !shows(&gone, procedure, witness, &shown.hazard) {
                    wrong.push(format!("{name} {id}/{} {}: {witness:?} shows nothing", shown.step, shown.hazard));
                }
            }
            (new.len(), usize::from(new.iter().any(|(procedure, ..)| procedure != *id)), wrong)
        })
        .collect();
    let sum = |of: fn(&(usize, usize, Vec<String>)) -> usize| results.iter().map(of).sum();
    (cautions.len(), sum(|one| one.0), sum(|one| one.1), results.iter().flat_map(|one| one.2.clone()).collect())
}

fn shows(verdict: &Verdict, procedure: &Id, witness: &[stepward::finding::WitnessEntry], hazard: &Id) -> bool {
    let library = &verdict.library;
    let procedure = library.procedure(procedure).expect("known");
    let models = library.models_of(procedure);
    let models: Vec<Option<&Id>> = if models.is_empty() { vec![None] } else { models.into_iter().map(Some).collect() };
    models.into_iter().any(|model| {
        let world = World::new(library, model.and_then(|id| library.equipment.model(id)), TODAY);
        let failures = search::replay(&world, procedure, witness);
        failures.is_ok_and(|failures| {
            failures.iter().any(|(rule, subject)| rule.starts_with("caution-") && subject.as_deref() == Some(hazard.as_str()))
        })
    })
}

#[test]
fn taking_a_caution_out_of_a_library_uncovers_what_was_said() {
    let (cautions, uncovered, elsewhere, wrong) = compare(&sample(), "sample");
    println!("{cautions} cautions, {uncovered} exposures uncovered, {elsewhere} cautions with one in a caller");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(cautions > 40 && uncovered > 40, "{cautions} cautions uncover {uncovered} exposures");
}

#[test]
fn taking_a_caution_out_of_random_libraries_uncovers_what_was_said() {
    let sums = Mutex::new((0, 0, 0, Vec::new()));
    seeds(200).into_par_iter().for_each(|seed| {
        let (cautions, uncovered, elsewhere, wrong) = compare(&random(seed), &seed.to_string());
        let mut sums = sums.lock().expect("no panic");
        sums.0 += cautions;
        sums.1 += uncovered;
        sums.2 += elsewhere;
        sums.3.extend(wrong);
    });
    let (cautions, uncovered, elsewhere, wrong) = sums.into_inner().expect("no panic");
    println!("{cautions} cautions, {uncovered} exposures uncovered, {elsewhere} cautions with one in a caller");
    assert!(wrong.is_empty(), "{} differ, the first:\n{}", wrong.len(), wrong[..wrong.len().min(10)].join("\n"));
    assert!(
        seeds(200).end < 200 || seeds(200).start > 0 || (uncovered > 300 && elsewhere > 0),
        "too tame: {cautions} {uncovered} {elsewhere}"
    );
}
