//! Certificates: one beside each page that can be followed, of that page's very flow. What they claim is judged by a program in another language,
//! `tests/outside/certificate.py`; here stands what that is run on.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

use jiff::civil::{Date, date};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use serde_json::{Value, json};
use stepward::analyse::{analyse, gate};
use stepward::flow::proof::Programs;
use stepward::model::procedure::Status;
use stepward::read::read;
use stepward::render;
use stepward::render::certificate::certificate;
use stepward::render::flow_data::flow_data;
use stepward::rules::example;
use stepward::rules::paths;
use stepward::text::folder::Folder;

use crate::mutants::{judge, sample};
use crate::mutation_bar::mutants;
use crate::oracle::generate;

/// What is proved along paths, and so shown by a certificate.
const PROVED: [&str; 9] = [
    "caution-missing",
    "caution-out-of-date",
    "hazard-uncontrolled",
    "condition-not-met",
    "wait-too-short",
    "not-tried-out",
    "left-behind",
    "fixed-unchecked",
    "beyond-competence",
];

/// Where `claim` says anything else than `data`, key by key; what `data` says beyond it is left aside.
fn differences(data: &Value, claim: &Value, place: &str, found: &mut Vec<String>) {
    match (data, claim) {
        (Value::Object(data), Value::Object(claim)) => {
            for (key, claim) in claim {
                differences(data.get(key).unwrap_or(&Value::Null), claim, &format!("{place}/{key}"), found);
            }
        }
        (Value::Array(data), Value::Array(claim)) if data.len() == claim.len() => {
            for (index, (data, claim)) in data.iter().zip(claim).enumerate() {
                differences(data, claim, &format!("{place}/{index}"), found);
            }
        }
        _ if data == claim => {}
        _ => found.push(place.to_owned()),
    }
}

#[test]
fn a_certificate_stands_beside_each_page_that_can_be_followed_and_tells_its_flow() {
    let verdict = judge(&sample());
    let cleared = gate::clear(&verdict, false).expect("the library is sound");
    let coverage = stepward::analyse::coverage::coverage(&verdict);
    let review = stepward::build::pipeline::reviewed(&verdict, &coverage, date(2026, 11, 24), false);
    let site = render::site::site(&cleared, &review, BTreeMap::new(), &stepward::render::drawings::Drawings::default());
    let mut keys = BTreeSet::new();
    for procedure in &cleared.library().procedures {
        let path = format!("procedures/{}.certificate.json", procedure.id);
        if procedure.status == Status::Withdrawn {
            assert!(!site.contains_key(&path), "{path}");
            continue;
        }
        let certificate: Value = serde_json::from_slice(site.get(&path).expect(&path)).expect("JSON");
        let data = flow_data(cleared.library(), procedure);
        let mut found = Vec::new();
        differences(&data, &certificate["flow"], "", &mut found);
        assert_eq!(found, Vec::<String>::new(), "{path}");
        // All that decides what is safe is in it, step by step.
        for (id, told) in data["procedures"].as_object().expect("procedures") {
            for (step, told) in told["steps"].as_object().expect("steps") {
                let claimed = &certificate["flow"]["procedures"][id]["steps"][step];
                for key in
                    ["cautions", "exposes", "requires", "least", "wait", "waitFor", "clears", "sets", "cures", "atMost", "seconds", "ways"]
                {
                    assert_eq!(claimed[key], told[key], "{path}: {id}/{step}: {key}");
                }
                keys.extend(told.as_object().expect("a step").keys().filter(|key| claimed.get(key.as_str()).is_none()).cloned());
            }
        }
        assert_eq!(certificate["edition"], data["edition"]);
        let page = String::from_utf8(site[&format!("procedures/{}.html", procedure.id)].clone()).expect("text");
        assert!(page.contains(&format!("\"edition\":{}", data["edition"])), "{path}: the page is of another edition");
    }
    assert_eq!(keys, BTreeSet::from(["text".to_owned(), "words".to_owned()]), "what of a step a certificate leaves out");
}

#[test]
fn a_certificate_is_compact_with_its_keys_in_order_and_the_same_every_time() {
    let verdict = judge(&sample());
    let cleared = gate::clear(&verdict, false).expect("the library is sound");
    let all = || {
        let made = Mutex::new(BTreeMap::new());
        let put = |path, bytes| made.lock().map(|mut made| made.insert(path, bytes)).map(|before| assert_eq!(before, None)).map_err(drop);
        render::certificate::each(cleared.library(), &put).expect("each is taken");
        made.into_inner().expect("nobody failed")
    };
    let (one, other) = (all(), all());
    assert!(!one.is_empty());
    assert_eq!(one, other);
    for (path, bytes) in one {
        let text = String::from_utf8(bytes).expect("text");
        let sorted: BTreeMap<String, Value> = serde_json::from_str(&text).expect("JSON");
        assert_eq!(serde_json::to_string(&sorted).expect("JSON"), text, "{path}");
        assert_eq!(
            sorted.keys().map(String::as_str).collect::<Vec<_>>(),
            ["claims", "edition", "flow", "procedure", "referred", "revision", "schema"]
        );
        assert_eq!(sorted["schema"], "stepward/certificate/1");
    }
}

/// The certificates of a library, of whatever it is worth, each with what our proof found: step, rule, subject.
fn certificates(name: &str, folder: &Folder, today: Date, wanted: impl Fn(&str) -> bool) -> Vec<Value> {
    let (library, reading) = read(folder);
    let verdict = analyse(library, reading, today);
    let library = &verdict.library;
    // The data of a page name a waiver whether it holds or not; with one that does not hold nothing is published.
    if verdict.findings.iter().any(|finding| finding.rule.name.starts_with("waiver-")) {
        return Vec::new();
    }
    let waived = paths::waived(library, &verdict.findings);
    let proved = library.procedures.iter().filter(|one| !verdict.not_analysed.contains(&one.id) && one.status != Status::Withdrawn);
    let programs = Programs::new(library, &waived);
    let one = |procedure: &stepward::model::procedure::Procedure| {
        let own = verdict
            .findings
            .iter()
            .filter(|finding| finding.procedure.as_ref() == Some(&procedure.id) && PROVED.contains(&finding.rule.name));
        let own: BTreeSet<[String; 3]> = own
            .map(|finding| {
                let step = finding.step.as_ref().map_or_else(String::new, ToString::to_string);
                [step, finding.rule.name.to_owned(), finding.subject.clone().unwrap_or_default()]
            })
            .collect();
        json!({ "name": format!("{name} {}", procedure.id), "certificate": certificate(&programs, procedure), "own": own })
    };
    proved.filter(|procedure| wanted(procedure.id.as_str())).map(one).collect()
}

/// With `STEPWARD_CERTIFICATES` naming a file it writes there certificates of random libraries (those with waivers that do not hold aside), of nasty cases and of mutants of the library.
#[test]
fn what_is_claimed_can_be_judged_by_another_program() {
    let few = certificates("demo", &sample(), date(2026, 11, 24), |_| true);
    assert!(few.iter().all(|one| one["own"] == json!([])) && few.len() >= 10);
    let Some(file) = std::env::var_os("STEPWARD_CERTIFICATES") else { return };
    let random: Vec<Value> = (0..300_u64)
        .into_par_iter()
        .flat_map_iter(|seed| {
            let files = generate::library(seed).0;
            let folder = Folder::of(files.iter().map(|(path, text)| (path.as_str(), text.as_str())));
            certificates(&format!("random {seed}"), &folder, date(2026, 6, 1), |_| true)
        })
        .collect();
    let pages = ["attacks", "nasty", "own-effects"].map(|page| format!("{}/tests/cases/{page}.md", env!("CARGO_MANIFEST_DIR")));
    let cases: Vec<Value> = pages
        .iter()
        .flat_map(|page| example::cases(&std::fs::read_to_string(page).expect("a page")))
        .flat_map(|case| certificates(&format!("case {}", case.name), &case.folder(), example::DAY, |_| true))
        .collect();
    let damaged: Vec<Value> = mutants()
        .into_par_iter()
        .filter(|mutant| mutant.kind != "unsure")
        .flat_map_iter(|mutant| certificates(&mutant.name, &mutant.folder, date(2026, 11, 24), |id| id == mutant.procedure))
        .collect();
    let all = json!({ "demo": few, "random": random, "cases": cases, "mutants": damaged });
    std::fs::write(&file, serde_json::to_vec(&all).expect("JSON")).expect("the certificates can be written");
}
