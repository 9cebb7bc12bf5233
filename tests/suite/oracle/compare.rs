//! The two proofs against each other.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use stepward::analyse::{Verdict, analyse};
use stepward::finding::{Finding, Group};
use stepward::read::read;
use stepward::text::folder::Folder;
use stepward::text::id::Id;

use crate::oracle::generate::{Files, library};
use crate::oracle::search;
use crate::oracle::verdict::{self, Found, Key};
use crate::oracle::world::World;

const TODAY: &str = "2026-06-01";

/// The rules that are compared, and in how many libraries of ten thousand each fires at the very least.
const RULES: [(&str, usize); 15] = [
    ("caution-missing", 1500),
    ("caution-out-of-date", 500),
    ("hazard-uncontrolled", 1500),
    ("condition-not-met", 1500),
    ("wait-too-short", 1500),
    ("not-tried-out", 300),
    ("left-behind", 1500),
    ("fixed-unchecked", 1500),
    ("beyond-competence", 1500),
    ("step-unreachable", 1500),
    ("no-way-out", 300),
    ("loop-unbounded", 1500),
    ("limit-idle", 1500),
    ("outcome-unmapped", 100),
    ("outcome-impossible", 300),
];

/// Rules whose presence means that a random library is not what it should be.
const NEVER: [&str; 6] =
    ["step-kind-unclear", "branch-without-action", "bands-not-ascending", "procedure-circle", "unsure-missing", "otherwise-missing"];

#[derive(Default)]
struct Tally {
    libraries: usize,
    skipped: usize,
    not_analysed: usize,
    witnesses: usize,
    /// Libraries in which a rule fired, and findings.
    rules: BTreeMap<String, (usize, usize)>,
    /// Libraries that are judged differently, and how.
    wrong: Vec<(u64, String)>,
}

#[test]
fn a_second_proof_finds_the_same_in_random_libraries() {
    let count: u64 = std::env::var("ORACLE").ok().and_then(|text| text.parse().ok()).unwrap_or(if std::env::var("SLOW").is_ok() {
        100_000
    } else {
        10_000
    });
    let tally = Mutex::new(Tally::default());
    // `ORACLE_SEED=n` looks at one library only.
    let only: Option<u64> = std::env::var("ORACLE_SEED").ok().and_then(|text| text.parse().ok());
    let seeds = only.map_or(0..count, |seed| seed..seed + 1);
    seeds.into_par_iter().for_each(|seed| one(seed, &tally));
    let mut tally = tally.into_inner().expect("no panic");
    tally.wrong.sort();
    println!(
        "{} libraries, {} skipped, {} procedures not analysed, {} witnesses",
        tally.libraries, tally.skipped, tally.not_analysed, tally.witnesses
    );
    for (rule, (libraries, findings)) in &tally.rules {
        println!("{rule:22} {libraries:7} libraries {findings:8} findings");
    }
    for (seed, text) in tally.wrong.iter().skip(1).take(40) {
        println!("{seed}: {}", text.lines().take_while(|line| !line.starts_with("===")).collect::<Vec<_>>().join("\n    "));
    }
    if let Some((seed, text)) = tally.wrong.first() {
        panic!("{} of {count} libraries are judged differently; the first is {seed}:\n{text}", tally.wrong.len());
    }
    assert!(tally.skipped * 100 <= tally.libraries, "too many libraries are too large");
    for (rule, least) in RULES {
        let fired = tally.rules.get(rule).map_or(0, |(libraries, _)| *libraries);
        let needed = usize::try_from(count).expect("a count") * least / 10_000;
        assert!(fired >= needed, "`{rule}` fired in {fired} libraries of {count}, expected {needed}");
    }
}

fn one(seed: u64, tally: &Mutex<Tally>) {
    let files = library(seed);
    let compiled = compiled(&files);
    let Some(own) = verdict::judge(&compiled.library, TODAY) else {
        tally.lock().expect("no panic").skipped += 1;
        return;
    };
    // A limit in no loop is told without paths, so also where these are not judged; this proof has nothing to say there.
    let unjudged = |finding: &Finding| {
        finding.rule.name == "limit-idle" && finding.procedure.as_ref().is_some_and(|procedure| compiled.not_analysed.contains(procedure))
    };
    let proved = |finding: &&Finding| RULES.iter().any(|(rule, _)| *rule == finding.rule.name) && !unjudged(finding);
    let theirs: Vec<&Finding> = compiled.findings.iter().filter(proved).collect();
    let mut wrong = invalid(&compiled);
    wrong.extend(differences(&compiled, &own.found, &theirs));
    let not_analysed: BTreeSet<Id> = compiled.not_analysed.iter().cloned().collect();
    if not_analysed != own.not_analysed {
        wrong.push(format!("not analysed {not_analysed:?}, should be {:?}", own.not_analysed));
    }
    let mut witnesses = 0;
    for finding in &theirs {
        if let Some(fault) = witness(&compiled, &own.found, finding, &mut witnesses) {
            wrong.push(format!("witness of {}: {fault}\n    {:?}", shown(&key(finding)), finding.witness));
        }
    }
    let mut tally = tally.lock().expect("no panic");
    tally.libraries += 1;
    tally.not_analysed += not_analysed.len();
    tally.witnesses += witnesses;
    let mut fired: BTreeMap<&str, usize> = BTreeMap::new();
    for finding in &theirs {
        *fired.entry(finding.rule.name).or_default() += 1;
    }
    for (rule, findings) in fired {
        let counts = tally.rules.entry(rule.to_owned()).or_default();
        counts.0 += 1;
        counts.1 += findings;
    }
    if !wrong.is_empty() {
        tally.wrong.push((seed, format!("{}\n{}", wrong.join("\n"), files.shown())));
    }
}

fn compiled(files: &Files) -> Verdict {
    let folder = Folder::of(files.0.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    let (library, reading) = read(&folder);
    analyse(library, reading, TODAY.parse().expect("a day"))
}

/// What the generator should not have written.
fn invalid(compiled: &Verdict) -> Vec<String> {
    let bad = |name: &str, group| group == Group::Reading || NEVER.contains(&name) || name.starts_with("unknown-");
    let bad = compiled.findings.iter().filter(|finding| bad(finding.rule.name, finding.rule.group));
    bad.map(|finding| format!("the library is not valid: {}: {}", finding.rule.name, finding.message)).collect()
}

fn key(finding: &Finding) -> Key {
    let procedure = finding.procedure.clone().expect("a procedure");
    (finding.rule.name, procedure, finding.step.clone(), finding.subject.clone())
}

fn shown((rule, procedure, step, subject): &Key) -> String {
    let step = step.as_ref().map_or("-", |step| step.as_str());
    format!("{rule} {procedure}/{step} {}", subject.as_deref().unwrap_or("-"))
}

/// The findings of one side that the other has not, and those for other models.
fn differences(compiled: &Verdict, own: &Found, theirs: &[&Finding]) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut seen: BTreeSet<Key> = BTreeSet::new();
    for finding in theirs {
        let key = key(finding);
        match own.get(&key) {
            None if perhaps_left(compiled, &key, theirs) => {}
            None => wrong.push(format!("only the compiler finds {} {:?}", shown(&key), finding.models)),
            Some(models) => {
                let all = compiled.library.models_of(compiled.library.procedure(&key.1).expect("known")).len();
                let models: Vec<Id> = if models.len() >= all { Vec::new() } else { models.keys().flatten().cloned().collect() };
                if models.iter().collect::<BTreeSet<_>>() != finding.models.iter().collect() {
                    wrong.push(format!("{} on {:?}, should be {models:?}", shown(&key), finding.models));
                }
            }
        }
        if !seen.insert(key.clone()) {
            wrong.push(format!("twice: {}", shown(&key)));
        }
    }
    wrong.extend(own.keys().filter(|key| !seen.contains(key)).map(|key| format!("only the second proof finds {}", shown(key))));
    wrong
}

/// The one place where the compiler may find more. A condition X that clears C is set where the `after` of X holds on some paths and not on others
/// (itself a `condition-not-met`): on the others X is refused and clears nothing. The proof keeps one `may-hold` for each condition and forgets that
/// C held on the very paths on which X was set; so C may seem left behind. That is the safer side, and such a library has an error already.
fn perhaps_left(compiled: &Verdict, key: &Key, theirs: &[&Finding]) -> bool {
    let catalogue = &compiled.library.catalogue;
    let mut ended_with: BTreeSet<&str> = BTreeSet::new();
    let mut here = key.3.as_deref();
    while let Some(condition) = here {
        ended_with.insert(condition);
        here = catalogue.condition(&Id::new(condition)).and_then(|one| one.after.as_ref()).map(|after| after.value.as_str());
    }
    let refused =
        |after: &str| theirs.iter().any(|other| other.rule.name == "condition-not-met" && other.subject.as_deref() == Some(after));
    let clears = |one: &stepward::model::catalogue::Condition| one.clears.iter().any(|cleared| ended_with.contains(cleared.value.as_str()));
    let mut setters = catalogue.conditions.iter().filter(|one| clears(one));
    key.0 == "left-behind" && setters.any(|one| one.after.as_ref().is_some_and(|after| refused(after.value.as_str())))
}

/// What is wrong with the witness of a finding: it does not show it, it is not the shortest, or not the first of those.
fn witness(compiled: &Verdict, own: &Found, finding: &Finding, count: &mut usize) -> Option<String> {
    let key = key(finding);
    let models = own.get(&key)?;
    let best: Vec<_> = models.iter().filter_map(|(model, witness)| Some((model, witness.as_ref()?))).collect();
    let Some(witness) = &finding.witness else {
        return (!best.is_empty()).then(|| "there is none".to_owned());
    };
    if best.is_empty() {
        return None;
    }
    *count += 1;
    let procedure = compiled.library.procedure(&key.1)?;
    let shows = |model: &Option<Id>| {
        let model = model.as_ref().and_then(|id| compiled.library.equipment.model(id));
        let world = World::new(&compiled.library, model, TODAY);
        let failures = search::replay(&world, procedure, witness)?;
        if failures.contains(&(key.0, key.3.clone())) { Ok(()) } else { Err(format!("shows only {failures:?}")) }
    };
    let shown: Vec<Result<(), String>> = best.iter().map(|(model, _)| shows(model)).collect();
    if shown.iter().all(Result::is_err) {
        return shown.into_iter().find_map(Result::err);
    }
    let shortest = best.iter().map(|(_, witness)| witness.len()).min()?;
    if witness.len() != shortest {
        return Some(format!("{} steps, could be {shortest}", witness.len()));
    }
    let firsts: Vec<_> = best.iter().filter(|(_, witness)| witness.len() == shortest).map(|(_, witness)| *witness).collect();
    (!firsts.contains(&witness)).then(|| format!("not the first of the shortest, which is {:?}", firsts[0]))
}
