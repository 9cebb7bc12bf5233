//! A library with one thing taken out at a time: each caution, each condition set, each wait, each gate before a person, each limit, each `unsure`.
//! Every loss is noticed, or stands in a list with the reason why it need not be.

use std::collections::BTreeSet;

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};
use stepward::analyse::Verdict;
use stepward::finding::{Group, Severity};
use stepward::flow::graph::ways;
use stepward::model::procedure::Procedure;
use stepward::model::step::{Step, StepKind};
use stepward::text::folder::{Entry, Folder};
use stepward::text::place::Place;

use crate::mutants::{judge, sample, text, unsafe_steps};

/// One thing taken out of the library.
pub struct Mutant {
    pub kind: &'static str,
    pub name: String,
    pub procedure: String,
    pub folder: Folder,
}

/// How many of each kind there are at the very least, so that the bar cannot be passed by mutating nothing; and whether only a finding of the group
/// *safety* counts as noticing it.
const KINDS: [(&str, usize, bool); 7] = [
    ("caution", 80, true),
    ("sets", 12, true),
    ("wait", 4, true),
    ("person", 4, true),
    ("gate", 4, true),
    ("limit", 4, false),
    ("unsure", 40, false),
];

const STILL_COUNTS: &str =
    "an earlier caution for it still counts on every way here; it stands here to be fresh, and a test holds that it is needed somewhere";
const ENDING: &str = "only an ending comes after it, and none asks how the machine is left";
const READING: &str = "only a reading that shows it, or the whole time waited, leads on from here";

/// What may be taken out of the library unnoticed, and why.
const SURVIVORS: [(&str, &str); 28] = [
    ("caution dirt-on-the-back/slide-home bay-drive", STILL_COUNTS),
    ("caution dirt-on-the-back/slide-home bay-heat", STILL_COUNTS),
    ("caution dirt-on-the-back/slide-home toner-dust", STILL_COUNTS),
    ("caution toner-rubs-off/hook-spring hot-fuser", STILL_COUNTS),
    ("caution toner-rubs-off/hook-spring mains-inside", STILL_COUNTS),
    ("caution toner-rubs-off/hook-spring toner-dust", STILL_COUNTS),
    ("caution toner-rubs-off/replace-fuser hot-fuser", STILL_COUNTS),
    ("caution toner-rubs-off/replace-fuser mains-inside", STILL_COUNTS),
    ("caution toner-rubs-off/replace-fuser toner-dust", STILL_COUNTS),
    ("caution white-sheet/bias-path hv-bias", STILL_COUNTS),
    ("caution white-sheet/exchange toner-dust", STILL_COUNTS),
    ("caution white-sheet/renew-spring bay-drive", STILL_COUNTS),
    ("caution white-sheet/renew-spring bay-heat", STILL_COUNTS),
    ("caution white-sheet/replace-scanner hv-bias", STILL_COUNTS),
    ("caution white-sheet/replace-scanner laser", STILL_COUNTS),
    ("sets dirt-on-the-back/off-second-line at-rest", ENDING),
    ("sets repeating-marks/off-second-line at-rest", ENDING),
    ("sets repeating-marks/warmth cooled", "the whole cooling time was waited on every way here"),
    ("sets toner-rubs-off/off-second-line at-rest", ENDING),
    ("sets toner-rubs-off/off-supply at-rest", "the plug comes out next, and nobody touches what moves before that"),
    ("sets toner-rubs-off/warmth cooled", "the whole cooling time was waited on every way here"),
    ("sets white-sheet/leave-off at-rest", ENDING),
    ("sets white-sheet/off-second-line at-rest", ENDING),
    ("wait repeating-marks/air-out", "the catalogue has no condition for rollers that have aired"),
    ("wait repeating-marks/cool", READING),
    ("wait repeating-marks/cool-more", READING),
    ("wait toner-rubs-off/cool", READING),
    ("wait toner-rubs-off/cool-more", READING),
];

/// All of them, in the order of the files.
pub fn mutants() -> Vec<Mutant> {
    let whole = sample();
    let library = judge(&whole).library;
    let mut found = Vec::new();
    for procedure in &library.procedures {
        let path = library.sources.path(procedure.at.file);
        let before = text(&whole.entries[path]);
        let mut add = |kind: &'static str, what: String, cuts: &[Cut]| {
            let mut folder = whole.clone();
            folder.entries.insert(path.to_owned(), Entry::File(cut(&before, cuts).into_bytes()));
            let name = format!("{kind} {}/{what}", procedure.id);
            found.push(Mutant { kind, name, procedure: procedure.id.to_string(), folder });
        };
        for step in &procedure.steps {
            of_step(procedure, step, &mut add);
        }
    }
    found
}

/// A stretch of a file and what takes its place.
enum Cut {
    /// An item of a list between brackets, with a comma beside it.
    Item(Place),
    Value(Place, String),
}

fn of_step(procedure: &Procedure, step: &Step, add: &mut impl FnMut(&'static str, String, &[Cut])) {
    let gone = |place: Place| Cut::Value(place, String::new());
    for caution in &step.cautions {
        add("caution", format!("{} {}", step.id, caution.value), &[Cut::Item(caution.at)]);
    }
    if let (Some(limit), Some(otherwise)) = (&step.at_most, &step.otherwise) {
        add("limit", step.id.to_string(), &[gone(limit.at), gone(otherwise.at)]);
    }
    if let StepKind::Do(action) = &step.kind {
        for set in &action.effects.sets {
            add("sets", format!("{} {}", step.id, set.value), &[Cut::Item(set.at)]);
        }
        if let Some(place) = action.wait.as_ref().map(|wait| wait.at).or(action.wait_for.as_ref().map(|wait| wait.at)) {
            add("wait", step.id.to_string(), &[gone(place)]);
        }
    }
    for way in ways(step) {
        for set in way.effects.iter().flat_map(|effects| &effects.sets) {
            add("sets", format!("{} {}", step.id, set.value), &[Cut::Item(set.at)]);
        }
    }
    let unsure = match &step.kind {
        StepKind::Ask(question) => {
            for answer in &question.answers {
                let (Some(person), Some(then)) = (&answer.person, &answer.then) else { continue };
                add("person", step.id.to_string(), &[gone(person.at)]);
                // Whatever leads to the question leads past it.
                let around = procedure.steps.iter().flat_map(ways).filter_map(|way| way.then).filter(|then| then.value == step.id);
                let cuts: Vec<Cut> = around.map(|target| Cut::Value(target.at, then.value.to_string())).collect();
                add("gate", step.id.to_string(), &cuts);
            }
            &question.unsure
        }
        StepKind::Measure(measurement) => &measurement.unsure,
        _ => return,
    };
    if let Some(unsure) = unsure {
        add("unsure", step.id.to_string(), &[gone(unsure.at)]);
    }
}

fn cut(text: &str, cuts: &[Cut]) -> String {
    let mut stretches: Vec<(usize, usize, &str)> = cuts
        .iter()
        .map(|cut| match cut {
            Cut::Value(place, instead) => (place.start as usize, place.end as usize, instead.as_str()),
            Cut::Item(place) => {
                let (start, end) = (place.start as usize, place.end as usize);
                let (before, after) = (text[..start].trim_end(), text[end..].trim_start());
                assert!(
                    before.ends_with(['[', ',']) && after.starts_with([']', ',']),
                    "not an item between brackets: {}",
                    &text[start..end]
                );
                match after.strip_prefix(',') {
                    Some(rest) => (start, text.len() - rest.trim_start().len(), ""),
                    None => (before.trim_end_matches(',').len(), end, ""),
                }
            }
        })
        .collect();
    stretches.sort_by_key(|stretch| std::cmp::Reverse(stretch.0));
    let mut text = text.to_owned();
    for (start, end, instead) in stretches {
        text.replace_range(start..end, instead);
    }
    text
}

/// What is found, each once: rule, procedure, step, subject.
fn found(verdict: &Verdict, safety_only: bool) -> BTreeSet<String> {
    let counts = verdict.findings.iter().filter(|finding| !safety_only || finding.rule.group == Group::Safety);
    let named = |id: &Option<stepward::text::id::Id>| id.as_ref().map_or("-".to_owned(), ToString::to_string);
    counts
        .map(|finding| {
            format!(
                "{} {}/{} {}",
                finding.rule.name,
                named(&finding.procedure),
                named(&finding.step),
                finding.subject.as_deref().unwrap_or("-")
            )
        })
        .collect()
}

#[test]
fn every_loss_is_noticed_or_need_not_be() {
    let mutants = mutants();
    let (before, before_safety) = (found(&judge(&sample()), false), found(&judge(&sample()), true));
    let safety_only = |kind: &str| KINDS.iter().any(|(name, _, safety)| *name == kind && *safety);
    let noticed = |mutant: &Mutant| {
        let safety = safety_only(mutant.kind);
        let after = found(&judge(&mutant.folder), safety);
        after.difference(if safety { &before_safety } else { &before }).next().is_some()
    };
    let seen: Vec<bool> = mutants.par_iter().map(noticed).collect();
    for (kind, least, _) in KINDS {
        let of_kind: Vec<bool> = mutants.iter().zip(&seen).filter(|(mutant, _)| mutant.kind == kind).map(|(_, seen)| *seen).collect();
        println!("{kind:8} {} of {} noticed", of_kind.iter().filter(|seen| **seen).count(), of_kind.len());
        assert!(of_kind.len() >= least, "only {} mutants of the kind {kind}", of_kind.len());
    }
    let unnoticed: BTreeSet<&str> = mutants.iter().zip(&seen).filter(|(_, seen)| !**seen).map(|(mutant, _)| mutant.name.as_str()).collect();
    let listed: BTreeSet<&str> = SURVIVORS.iter().map(|(name, _)| *name).collect();
    assert!(SURVIVORS.iter().all(|(_, reason)| !reason.is_empty()));
    let (unlisted, mended) = (unnoticed.difference(&listed).collect::<Vec<_>>(), listed.difference(&unnoticed).collect::<Vec<_>>());
    assert!(unlisted.is_empty() && mended.is_empty(), "not noticed and not listed: {unlisted:#?}; listed and noticed: {mended:#?}");
}

/// A caution that may be missing at one step because another still counts may not be missing everywhere: then that very step has a finding.
#[test]
fn a_caution_that_may_go_is_needed_somewhere() {
    for (name, _) in SURVIVORS.iter().filter(|(name, _)| name.starts_with("caution ")) {
        let (_, place) = name.split_once(' ').expect("a kind");
        let (step, hazard) = place.rsplit_once(' ').expect("a hazard");
        let nowhere = without(&sample(), |one| {
            one.cautions.iter().filter(|caution| caution.value == hazard).map(|caution| Cut::Item(caution.at)).collect()
        });
        let found = found(&judge(&nowhere), true);
        assert!(found.contains(&format!("caution-missing {step} {hazard}")), "{name}: nothing depends on it");
    }
}

/// The law: whoever forgets every exposure gets no better report, whatever else is wrong with the library.
#[test]
fn without_any_exposure_the_report_is_no_better() {
    let whole = sample();
    let every_caution = without(&whole, |step| step.cautions.iter().map(|one| Cut::Item(one.at)).collect());
    let every_set = without(&whole, |step| match &step.kind {
        StepKind::Do(action) => action.effects.sets.iter().map(|one| Cut::Item(one.at)).collect(),
        _ => Vec::new(),
    });
    let every_wait = without(&whole, |step| match &step.kind {
        StepKind::Do(action) => action.wait_for.iter().map(|one| Cut::Value(one.at, String::new())).collect(),
        _ => Vec::new(),
    });
    let every_person = without(&whole, |step| match &step.kind {
        StepKind::Ask(question) => {
            question.answers.iter().filter_map(|answer| answer.person.as_ref()).map(|one| Cut::Value(one.at, String::new())).collect()
        }
        _ => Vec::new(),
    });
    let mut seen = Vec::new();
    for (what, weak) in
        [("nothing", whole), ("cautions", every_caution), ("sets", every_set), ("waits", every_wait), ("persons", every_person)]
    {
        let forgetful = without(&weak, |step| step.touches.iter().chain(&step.exposes).map(|one| Cut::Item(one.at)).collect());
        let (declared, forgotten) = (judge(&weak), judge(&forgetful));
        assert!(
            forgotten.library.procedures.iter().flat_map(|one| &one.steps).all(|step| step.touches.is_empty() && step.exposes.is_empty())
        );
        let (declared, forgotten) = (unsafe_steps(&declared), unsafe_steps(&forgotten));
        println!("without {what}: {} unsafe steps declared, {} once forgotten", declared.len(), forgotten.len());
        assert!(forgotten.len() >= declared.len(), "without {what}: hidden {:?}", declared.difference(&forgotten).collect::<Vec<_>>());
        seen.push(declared.len());
    }
    assert!(seen[0] == 0 && seen[1..].iter().all(|count| *count >= 5), "too little is unsafe for this to say anything: {seen:?}");
}

/// The library with something taken out of every step.
fn without(folder: &Folder, what: impl Fn(&Step) -> Vec<Cut>) -> Folder {
    let library = judge(folder).library;
    let mut changed = folder.clone();
    for procedure in &library.procedures {
        let path = library.sources.path(procedure.at.file);
        // From the last to the first, one at a time: neighbours in a list share their comma.
        let mut places: Vec<Cut> = procedure.steps.iter().flat_map(&what).collect();
        places.sort_by_key(|cut| match cut {
            Cut::Item(place) | Cut::Value(place, _) => std::cmp::Reverse(place.start),
        });
        let cut_one = |text: String, one: &Cut| cut(&text, std::slice::from_ref(one));
        let left = places.iter().fold(text(&changed.entries[path]), cut_one);
        changed.entries.insert(path.to_owned(), Entry::File(left.into_bytes()));
    }
    changed
}

/// Whether anything is wrong with a library beside what may be published all the same.
#[test]
fn the_library_has_no_error_to_begin_with() {
    assert_eq!(judge(&sample()).findings.iter().filter(|finding| finding.severity == Severity::Error).count(), 0);
}
