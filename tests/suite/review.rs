//! The safety review: its numbers recomputed by hand, its words, its pages; small libraries run through the program itself.

use std::collections::BTreeSet;

use serde_json::Value as Json;
use stepward::emit::review::{Tally, json, short, text};
use stepward::render;

use crate::support::command::{Place, Ran};
use crate::support::html::Page;
use crate::support::reviewed::{coverage, review, way_to_fuser};
use crate::support::small_library::library;

const TODAY: jiff::civil::Date = jiff::civil::date(2026, 11, 25);

/// Two hazards: toner is met with its caution at the step; the fuser needs the plug out and a skilled person.
const SAFETY: &str = "conditions:\n  isolated: { name: Plug out and tried }\nhazards:\n  toner-dust:\n    name: Toner dust\n    signal-word: caution\n    kind: dust\n    place: around the drum\n    sign: M016\n    \
    nature: Loose toner rises.\n    consequence: Irritated eyes.\n    avoid: Move slowly.\n    least: ordinary\n  hot-fuser:\n    name: Hot fuser\n    \
    signal-word: warning\n    kind: hot-surface\n    place: rear of the paper path\n    sign: W017\n    nature: It is hot.\n    consequence: Burns.\n    avoid: Let it cool.\n    requires: [isolated]\n    least: ordinary\n\
    parts:\n  fuser: { name: Fuser, hazards: [hot-fuser], words: [fuser] }\n";

/// `look` leads by two answers to `unplug`, which sets the condition; then the fuser is met, three steps after its caution.
fn procedure(extra: &str, caution: &str, sets: &str, waivers: &str) -> String {
    format!(
        "---\ntitle: Smears\nfor: ordinary\nstatus: draft\nrevision: 3\nowner: field service\nreview-by: 2026-12-05\n{waivers}steps:\n  look:\n    \
         ask: What do you see?\n    {caution}answers:\n      - {{ answer: A smear, then: unplug }}\n      - {{ answer: A spot, then: unplug }}\n    \
         unsure: book\n  unplug: {{ do: Pull the plug and try, then: open{sets} }}\n  open: {{ do: Open the door, then: wipe }}\n  wipe:\n    \
         do: Wipe the roll\n    exposes: [hot-fuser]\n    then: dust\n  dust:\n    do: Wipe up loose powder\n    exposes: [toner-dust]\n    \
         cautions: [toner-dust]\n    then: book\n{extra}  book: {{ do: Book a visit, outcome: handed-over }}\n---\n"
    )
}

fn place(procedure: &str) -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [field service, safety]\n");
    place.write("lib/safety.yaml", SAFETY);
    place.write("lib/stop.md", "# Stop\n\n## Smoke\n\nLeave the room.\n");
    place.write("lib/procedures/smears.md", procedure);
    place
}

fn sound() -> String {
    procedure("", "cautions: [hot-fuser]\n    ", ", sets: [isolated]", "")
}

fn run(place: &Place, more: &[&str]) -> Ran {
    let base = ["review", "lib", "--unreleased", "--today", "2026-11-25"];
    place.run(&base.iter().chain(more).copied().collect::<Vec<_>>())
}

fn json_of(ran: &Ran) -> Json {
    serde_json::from_str(&ran.out).unwrap_or_else(|error| panic!("{error}: {}{}", ran.out, ran.err))
}

#[test]
fn a_proven_library_says_how_each_exposure_is_covered() {
    let ran = run(&place(&sound()), &["--format", "json"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let all = json_of(&ran);
    assert_eq!((&all["schema"], &all["today"], &all["unreleased"]), (&"stepward/review/1".into(), &"2026-11-25".into(), &true.into()));
    let counts = |of: &Json| ["exposures", "proven", "failed", "unreachable", "waived"].map(|key| of[key].as_u64().expect("a number"));
    assert_eq!(counts(&all["counts"]), [2, 2, 0, 0, 0]);
    assert_eq!(counts(&all["procedures"][0]["counts"]), [2, 2, 0, 0, 0]);
    let exposures = all["procedures"][0]["exposures"].as_array().expect("a list");
    let wipe = &exposures[0];
    assert_eq!((&wipe["step"], &wipe["hazard"], &wipe["proven"]), (&"wipe".into(), &"hot-fuser".into(), &true.into()));
    // Shown at `look`; `look`, `unplug` and `open` come between, of one minute each.
    assert_eq!(wipe["cover"], serde_json::json!({ "how": "before", "steps": 3, "seconds": 180, "procedure": "smears", "step": "look" }));
    assert_eq!(wipe["conditions"][0]["set-by"][0]["step"], "unplug");
    // Two answers lead to `unplug`.
    assert_eq!((&wipe["ways"], &wipe["loops-left-out"]), (&"2".into(), &false.into()));
    let steps: Vec<&str> = wipe["worst"].as_array().expect("a way").iter().filter_map(|entry| entry["step"].as_str()).collect();
    assert_eq!(steps, ["look", "unplug", "open", "wipe"]);
    assert_eq!(exposures[1]["cover"]["how"], "here");
    // From 25 November to 5 December.
    assert_eq!(all["due"][0], serde_json::json!({ "procedure": "smears", "review-by": "2026-12-05", "days-left": 10 }));
    // "It is hot. Burns. Let it cool.": 7 words, 0.4 s each.
    let fuser = &all["hazards"][1];
    assert_eq!((&fuser["words"], &fuser["spoken-seconds"], &fuser["longer-than-15-seconds"]), (&7.into(), &2.8.into(), &false.into()));
    assert_eq!(all["conditions"][0]["set-by"][0]["says"], "Pull the plug and try");
    assert_eq!(all["unproved"].as_array().map(Vec::len), Some(7));
}

#[test]
fn each_kind_of_failure_is_counted_and_ends_with_status_1() {
    let cases = [
        ("missing", procedure("", "", ", sets: [isolated]", "")),
        ("here", procedure("", "cautions: [hot-fuser]\n    ", "", "")),
        ("out-of-date", sound().replace("then: wipe }", "then: wipe, minutes: 15 }")),
    ];
    for (kind, text) in cases {
        let ran = run(&place(&text), &["--format", "json"]);
        assert_eq!(ran.status, 1, "{kind}: {}{}", ran.out, ran.err);
        let all = json_of(&ran);
        assert_eq!((&all["counts"]["proven"], &all["counts"]["failed"]), (&1.into(), &1.into()), "{kind}");
        let wipe = &all["procedures"][0]["exposures"][0];
        assert_eq!(wipe["proven"], false, "{kind}");
        match kind {
            "missing" => {
                assert_eq!(wipe["cover"]["how"], "missing");
                // The only exposing step: showing it there is the smallest mend, and the nearest.
                assert_eq!(
                    all["procedures"][0]["mends"],
                    serde_json::json!([{ "hazard": "hot-fuser", "steps": ["wipe"], "smallest": true }])
                );
            }
            "here" => assert_eq!(
                wipe["conditions"][0],
                serde_json::json!({ "condition": "isolated", "holds": false, "from-start": false, "set-by": [] })
            ),
            _ => assert_eq!(wipe["cover"]["how"], "out-of-date"),
        }
    }
}

#[test]
fn waivers_and_denials_stand_in_the_review_with_their_reasons() {
    let waiver = "waivers:\n  - step: wipe\n    hazard: hot-fuser\n    of: requires\n    reason: The roll is cold on this model\n    by: safety\n    until: 2026-11-26\n";
    let text = procedure("", "cautions: [hot-fuser]\n    ", "", waiver).replace(
        "  open: { do: Open the door, then: wipe }",
        "  open: { do: Open the fuser door, then: wipe, not-touching: { fuser: only its door } }",
    );
    let place = place(&text);
    let ran = run(&place, &["--format", "json"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let all = json_of(&ran);
    assert_eq!((&all["counts"]["proven"], &all["counts"]["waived"], &all["counts"]["waivers"]), (&2.into(), &1.into(), &1.into()));
    let own = &all["procedures"][0];
    assert_eq!((&own["waivers"][0]["days-left"], &own["waivers"][0]["of"]), (&1.into(), &"requires".into()));
    assert_eq!(own["denials"], serde_json::json!([{ "step": "open", "key": "not-touching", "of": "fuser", "reason": "only its door" }]));
    let words = run(&place, &[]).out;
    for said in [
        "waiver at `wipe` for `hot-fuser`, of `requires`, by safety, until 2026-11-26, 1 day left",
        "`open` says `not-touching` fuser: only its door",
    ] {
        assert!(words.contains(said), "`{said}` in:\n{words}");
    }
}

#[test]
fn the_review_judges_what_publishing_would() {
    let place = place(&procedure("", "", "", ""));
    let ran = place.run(&["review", "lib", "--today", "2026-11-25"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("no procedure is released"), "{}", ran.err);
    assert_eq!(place.run(&["review", "nowhere"]).status, 2);
}

#[test]
fn review_pages_alone_keep_off_sites_and_sites_off_them() {
    let place = place(&procedure("", "", ", sets: [isolated]", ""));
    assert_eq!(run(&place, &["--to", "pages"]).status, 1);
    let page = place.read("pages/review/smears.html").expect("a page");
    assert!(page.contains("Not for use.") && page.contains("chart__edge--taken") && page.contains("chart__node--fails"), "{page}");
    let wrote: BTreeSet<String> = place.below("pages").into_iter().map(|(path, _)| path).collect();
    assert!(
        wrote.contains("index.html") && wrote.iter().all(|path| !path.starts_with("procedures/") && !path.ends_with(".js")),
        "{wrote:?}"
    );
    // Again, over its own; never over a site, nor a site over it; and a stranger's file stays.
    place.write("pages/mine.txt", "mine");
    assert_eq!(run(&place, &["--to", "pages"]).status, 1);
    assert_eq!(place.read("pages/mine.txt").as_deref(), Some("mine"));
    place.write("lib/procedures/smears.md", &sound());
    let before = place.below("pages");
    let ran = place.run(&["publish", "lib", "--unreleased", "--to", "pages"]);
    assert_eq!((ran.status, ran.err.contains("holds review pages")), (2, true), "{}", ran.err);
    assert_eq!(place.below("pages"), before);
    assert_eq!(place.run(&["publish", "lib", "--unreleased", "--to", "site"]).status, 0);
    let ran = run(&place, &["--to", "site"]);
    assert_eq!((ran.status, ran.err.contains("holds a published site")), (2, true), "{}", ran.err);
}

#[test]
fn numbers_and_texts_of_a_hand_made_review_agree() {
    let (library, coverage) = (library(), coverage());
    let review = review(&library, &coverage, Vec::new(), TODAY);
    // Of four exposures one is on no way, one is uncovered, and one of the two that are proven needs a waiver.
    assert_eq!(review.total(), Tally { exposures: 4, proven: 2, failed: 1, unreachable: 1, waived: 1 });
    let words = text::text(&review, &["nothing is sure"], false);
    for said in [
        "2 of 3 exposures proven, 1 uncovered, 1 of them by a waiver; 1 more that no way leads to",
        "shown at most 3 steps and 4 min before, at `unplug` of `isolate`",
        "18446744073709551617 ways lead there, those round loops left out",
        "shown longer ago than 6 steps or 15 min, last at `look`",
        "`isolated` holds: set by `try` of `isolate`, \"Nothing stirs\"",
        "`cooled` does not hold on every way: demanded of its callers",
        "showing the caution for `hot-fuser` at `temperature` mends all its failures",
        "nothing depends on it",
        "not judged: something in it",
        "nothing is sure",
    ] {
        assert!(words.contains(said), "`{said}` in:\n{words}");
    }
    let lines = short::short(&review);
    assert_eq!(lines.lines().count(), 4);
    for state in ["proven[mains-inlet]", "uncovered[hot-fuser]", "waived[toner-dust]", "unreachable[drum-surface]"] {
        assert!(lines.contains(state), "{state} in {lines}");
    }
    let all: Json = serde_json::from_str(&json::json(&review, &[])).expect("JSON");
    let marks = all["procedures"].as_array().expect("a list").iter().find(|one| one["procedure"] == "marks-repeat").expect("it");
    assert_eq!(marks["exposures"][0]["worst"].as_array().map(Vec::len), Some(way_to_fuser().len()));
    assert_eq!(marks["cautions"][1]["uncovers"], serde_json::json!([]));
    assert_eq!(json::json(&review, &[]), json::json(&review, &[]));
}

fn page(files: &std::collections::BTreeMap<String, Vec<u8>>, path: &str) -> Page {
    Page::parse(&String::from_utf8(files[path].clone()).expect("UTF-8"))
}

#[test]
fn every_cell_of_the_matrix_says_its_state_and_leads_to_its_exposures() {
    let (library, coverage) = (library(), coverage());
    let files = render::review(&review(&library, &coverage, Vec::new(), TODAY));
    let index = page(&files, "index.html");
    let cells: Vec<(String, Option<String>)> = index
        .elements()
        .filter(|(_, node)| node.has_class("matrix__cell"))
        .map(|(handle, _)| {
            let link = index.below(handle).into_iter().find_map(|node| index.nodes[node].attribute("href").map(str::to_owned));
            (index.text(handle).split_whitespace().collect::<Vec<_>>().join(" "), link)
        })
        .collect();
    // Three procedures that were judged, four hazards met; the fourth procedure has one cell that says it was not judged.
    assert_eq!(cells.len(), 12);
    let said = |text: &str, to: &str| cells.iter().any(|(words, link)| words == text && link.as_deref() == Some(to));
    assert!(said("Mains voltage: 1 covered", "review/marks-repeat.html#hazard-mains-inlet"), "{cells:?}");
    assert!(said("Hot fuser: 1 of 1 uncovered", "review/marks-repeat.html#hazard-hot-fuser"), "{cells:?}");
    assert!(said("Toner dust: 1 waived", "review/marks-repeat.html#hazard-toner-dust"), "{cells:?}");
    assert!(said("Drum surface: 1 no way", "review/marks-repeat.html#hazard-drum-surface"), "{cells:?}");
    assert!(said("Mains voltage: in a task", "review/marks-repeat.html#hazard-mains-inlet"), "{cells:?}");
    assert_eq!(cells.iter().filter(|(words, link)| words.ends_with("not met") && link.is_none()).count(), 7);
    assert_eq!(index.elements().filter(|(_, node)| node.has_class("matrix__broken")).count(), 1);
}

#[test]
fn pages_that_stand_alone_are_whole_marked_and_lead_nowhere_else() {
    let (library, coverage) = (library(), coverage());
    let files = render::review(&review(&library, &coverage, Vec::new(), TODAY));
    let mut seen = 0;
    for path in files.keys().filter(|path| path.ends_with(".html")) {
        let page = page(&files, path);
        assert_eq!(page.errors, Vec::<String>::new(), "{path}");
        assert!(page.elements().any(|(handle, node)| node.has_class("banner") && page.text(handle).contains("Not for use")), "{path}");
        assert!(page.elements().all(|(_, node)| node.element() != "script" && node.attribute("id") != Some("follower")), "{path}");
        for (_, node) in page.elements() {
            let Some(address) = node.attribute("href") else { continue };
            let (file, fragment) = address.split_once('#').unwrap_or((address, ""));
            let target = match (file.strip_prefix("../"), path.starts_with("review/")) {
                _ if file.is_empty() => path.clone(),
                (Some(top), true) => top.to_owned(),
                (None, true) => format!("review/{file}"),
                (_, false) => file.to_owned(),
            };
            let other = files.get(&target).unwrap_or_else(|| panic!("`{address}` in {path} leads nowhere"));
            if !fragment.is_empty() {
                let other = Page::parse(&String::from_utf8_lossy(other));
                assert!(other.by_id(fragment).is_some(), "`{address}` in {path} leads to no place");
            }
            seen += 1;
        }
    }
    assert!(seen > 100, "only {seen} links");
}

#[test]
fn a_way_is_spelled_out_once_and_linked_after_that() {
    let (library, coverage) = (library(), coverage());
    let files = render::review(&review(&library, &coverage, Vec::new(), TODAY));
    let page = page(&files, "review/marks-repeat.html");
    let first = page.by_id("way-1").expect("the way is spelled out");
    let steps = page.below(first).into_iter().filter(|node| page.nodes[*node].element() == "li").count();
    assert_eq!(steps, way_to_fuser().len());
    assert!(page.by_id("way-2").is_none());
    // The second exposure and the caution that both hang on it.
    assert_eq!(page.elements().filter(|(_, node)| node.attribute("href") == Some("#way-1")).count(), 2);
    let exposure = page.by_id("at-replace-fuser--mains-inlet").expect("the exposure");
    assert!(page.text(exposure).contains("18446744073709551617"));
}
