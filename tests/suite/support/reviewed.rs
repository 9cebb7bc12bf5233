//! A review of the small library with coverage written by hand: every state an exposure can be in, so that pages and texts can be looked at
//! without the proof that makes them.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use stepward::emit::Report;
use stepward::emit::review::Review;
use stepward::finding::{Finding, WayKind, Witness, WitnessEntry};
use stepward::flow::coverage::{Cover, Coverage, Exposure, Held, Mend, Setter, Shown};
use stepward::model::catalogue::Person;
use stepward::model::library::Library;
use stepward::render;
use stepward::text::id::Id;

use crate::support::small_library::cleared;

pub fn entry(procedure: &str, step: &str, way: Option<(WayKind, Option<&str>)>) -> WitnessEntry {
    WitnessEntry {
        procedure: Id::from(procedure),
        step: Id::from(step),
        way: way.map(|(kind, _)| kind),
        answer: way.and_then(|(_, answer)| answer.map(str::to_owned)),
    }
}

/// Through the task that isolates, to the fuser.
pub fn way_to_fuser() -> Witness {
    vec![
        entry("marks-repeat", "look", Some((WayKind::Answer, Some("Yes")))),
        entry("marks-repeat", "which", Some((WayKind::Model, Some("mono-desk")))),
        entry("marks-repeat", "gap", Some((WayKind::Band, Some("below 65 mm")))),
        entry("marks-repeat", "technician", Some((WayKind::Answer, Some("Yes")))),
        entry("marks-repeat", "make-safe", Some((WayKind::Outcome, Some("done")))),
        entry("isolate", "unplug", Some((WayKind::Next, None))),
        entry("isolate", "try", Some((WayKind::Answer, Some("Nothing stirs")))),
        entry("isolate", "gone", None),
        entry("marks-repeat", "temperature", Some((WayKind::Band, Some("up to 48 °C")))),
        entry("marks-repeat", "replace-fuser", None),
    ]
}

fn isolated() -> Held {
    let way = Some((WayKind::Answer, Some("Nothing stirs".to_owned())));
    let setter = Setter { procedure: Id::from("isolate"), step: Id::from("try"), way };
    Held { condition: Id::from("isolated"), holds: true, set_by: vec![setter], from_start: false }
}

fn exposure(step: &str, hazard: &str, cover: Cover) -> Exposure {
    Exposure {
        step: Id::from(step),
        hazard: Id::from(hazard),
        parts: Vec::new(),
        declared: true,
        models: Vec::new(),
        reachable: true,
        cover,
        person: Person::Skilled,
        least: Person::Skilled,
        least_waived: false,
        conditions: Vec::new(),
        requires_waived: false,
        proven: true,
        ways: "1".to_owned(),
        loops: false,
        worst: None,
    }
}

/// Of `marks-repeat`: two proven (one by a waiver), one uncovered, one that no way leads to.
pub fn coverage() -> Vec<Coverage> {
    let cooled = Held { condition: Id::from("cooled"), holds: false, set_by: Vec::new(), from_start: true };
    let before = Cover::Before { steps: 3, seconds: 240, at: (Id::from("isolate"), Id::from("unplug")) };
    let exposures = vec![
        Exposure {
            conditions: vec![isolated()],
            ways: "18446744073709551617".to_owned(),
            loops: true,
            worst: Some(way_to_fuser()),
            ..exposure("replace-fuser", "mains-inlet", before)
        },
        Exposure {
            parts: vec![Id::from("fuser")],
            declared: false,
            models: vec![Id::from("mono-desk")],
            conditions: vec![isolated(), cooled],
            proven: false,
            worst: Some(way_to_fuser()),
            ..exposure("replace-fuser", "hot-fuser", Cover::OutOfDate { at: Some((Id::from("marks-repeat"), Id::from("look"))) })
        },
        Exposure {
            parts: vec![Id::from("drum")],
            person: Person::Ordinary,
            least_waived: true,
            ..exposure("drum", "toner-dust", Cover::Here)
        },
        Exposure { reachable: false, proven: false, ways: "0".to_owned(), ..exposure("drum", "drum-surface", Cover::Missing) },
    ];
    let uncovers = vec![(Id::from("marks-repeat"), Id::from("replace-fuser"), way_to_fuser())];
    let shown = vec![
        Shown { step: Id::from("replace-fuser"), hazard: Id::from("mains-inlet"), uncovers },
        Shown { step: Id::from("drum"), hazard: Id::from("toner-dust"), uncovers: Vec::new() },
    ];
    let mends = vec![Mend { hazard: Id::from("hot-fuser"), steps: vec![Id::from("temperature")], smallest: true }];
    let bare =
        |id: &str| Coverage { procedure: Id::from(id), exposures: Vec::new(), shown: Vec::new(), mends: Vec::new(), elsewhere: Vec::new() };
    vec![
        bare("isolate"),
        Coverage { exposures, shown, mends, ..bare("marks-repeat") },
        Coverage { elsewhere: vec![(Id::from("mains-inlet"), Id::from("marks-repeat"))], ..bare("nasty") },
    ]
}

/// All of the library under review, `open-rear` as a procedure that could not be judged.
pub fn review<'a>(library: &'a Library, coverage: &'a [Coverage], findings: Vec<&'a Finding>, today: Date) -> Review<'a> {
    let broken = library.procedures.iter().map(|procedure| &procedure.id).filter(|id| id.as_str() == "open-rear").collect();
    let report = Report { library, findings, not_analysed: broken, procedures: library.procedures.len() };
    let known: BTreeSet<Id> = library.procedures.iter().map(|procedure| procedure.id.clone()).collect();
    Review::new(report, |id| known.contains(id), coverage, today, false)
}

/// The published site of a library, with its review pages.
pub fn site(library: Library, unreleased: bool, today: Date) -> BTreeMap<String, Vec<u8>> {
    let cleared = cleared(library.clone(), unreleased);
    let coverage = coverage();
    render::site::site(
        &cleared,
        &review(&library, &coverage, Vec::new(), today),
        BTreeMap::new(),
        &stepward::render::drawings::Drawings::default(),
    )
}
