//! Pages as they are set: parsed by an HTML parser and looked through.

use std::collections::{BTreeMap, BTreeSet};

use stepward::model::procedure::Status;
use stepward::text::id::Id;

use crate::support::html::Page;
use crate::support::reviewed::site;
use crate::support::small_library::library;

const TODAY: jiff::civil::Date = jiff::civil::date(2026, 11, 24);

fn files() -> BTreeMap<String, Vec<u8>> {
    site(library(), false, TODAY)
}

fn pages() -> BTreeMap<String, Page> {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("pages are UTF-8");
    // The pages of the rules are many and alike: they are looked at in `rule_pages.rs`, here only their list and one of them.
    let alike = |path: &str| path.starts_with("rules/") && path != "rules/index.html" && path != "rules/caution-missing.html";
    let files = files();
    let kept = files.iter().filter(|(path, _)| path.ends_with(".html") && !alike(path));
    kept.map(|(path, bytes)| (path.clone(), Page::parse(&text(bytes)))).collect()
}

fn page(path: &str) -> Page {
    pages().remove(path).unwrap_or_else(|| panic!("no page `{path}`"))
}

#[test]
fn the_checks_below_can_fail() {
    let bad = Page::parse("<!doctype html><title>x</title><p id=a><table><p id=a>");
    assert!(!bad.errors.is_empty());
    assert!(!Page::parse("<title>no doctype</title>").errors.is_empty());
    assert!(Page::parse("<!doctype html><html lang=\"en\"><head><title>x</title></head><body><p>x</p></body></html>").errors.is_empty());
}

#[test]
fn every_page_is_there_and_parses_without_error() {
    let pages = pages();
    let expected = [
        "bench-sums.html",
        "changes.html",
        "find.html",
        "index.html",
        "leaflets/words.html",
        "posters/isolate.html",
        "posters/marks-repeat.html",
        "posters/nasty.html",
        "posters/open-rear.html",
        "procedures/isolate.html",
        "procedures/marks-repeat.html",
        "procedures/nasty.html",
        "procedures/old-way.html",
        "procedures/open-rear.html",
        "review/index.html",
        "review/isolate.html",
        "review/marks-repeat.html",
        "review/nasty.html",
        "review/open-rear.html",
        "rulers.html",
        "stages.html",
        "stop.html",
    ];
    assert_eq!(pages.keys().map(String::as_str).filter(|path| !path.starts_with("rules/")).collect::<Vec<_>>(), expected);
    for (path, page) in &pages {
        assert_eq!(page.errors, Vec::<String>::new(), "{path}");
        let count = |name: &str| page.elements().filter(|(_, node)| node.element() == name).count();
        assert_eq!((count("main"), count("h1")), (1, 1), "{path}");
        let html = page.elements().find(|(_, node)| node.element() == "html").map(|(_, node)| node.attribute("lang").map(str::to_owned));
        assert_eq!(html, Some(Some("en".to_owned())), "{path}");
    }
}

#[test]
fn ids_are_unique_and_everything_that_names_one_finds_it() {
    for (path, page) in &pages() {
        let mut ids = BTreeSet::new();
        for id in page.elements().filter_map(|(_, node)| node.attribute("id")) {
            assert!(ids.insert(id.to_owned()), "`{id}` twice in {path}");
            assert!(id.chars().all(|c| c.is_ascii_alphanumeric() || c == '-'), "`{id}` in {path}");
        }
        for (_, node) in page.elements() {
            for key in ["aria-labelledby", "aria-describedby", "for", "aria-controls"] {
                for id in node.attribute(key).unwrap_or_default().split_whitespace() {
                    assert!(ids.contains(id), "{key}=\"{id}\" leads nowhere in {path}");
                }
            }
        }
    }
}

#[test]
fn every_address_is_relative_and_leads_to_something_in_the_site() {
    let files = files();
    let pages = pages();
    let pictures: BTreeSet<String> = library().pictures;
    assert_eq!(pictures.iter().map(String::as_str).collect::<Vec<_>>(), ["pictures/drum ends.png"]);
    let mut seen = 0;
    for (path, page) in &pages {
        for (_, node) in page.elements() {
            for address in [node.attribute("href"), node.attribute("src")].into_iter().flatten() {
                assert!(!address.contains(':') && !address.starts_with('/'), "`{address}` in {path} is not relative");
                let (file, fragment) = address.split_once('#').unwrap_or((address, ""));
                let target = if file.is_empty() { path.clone() } else { resolve(path, &file.replace("%20", " ")) };
                assert!(files.contains_key(&target) || pictures.contains(&target), "`{address}` in {path} leads to no file");
                if !fragment.is_empty() {
                    assert!(pages[&target].by_id(fragment).is_some(), "`{address}` in {path} leads to no place");
                }
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "only {seen} addresses looked at");
}

#[test]
fn a_link_to_a_heading_of_a_leaflet_or_the_stop_card_leads_to_that_heading() {
    let addresses =
        |path: &str| page(path).elements().filter_map(|(_, node)| node.attribute("href").map(str::to_owned)).collect::<BTreeSet<_>>();
    assert!(addresses("procedures/marks-repeat.html").contains("../leaflets/words.html#words-nip"));
    assert!(addresses("leaflets/words.html").contains("../stop.html#words-smoke"));
}

fn resolve(page: &str, target: &str) -> String {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for piece in target.split('/') {
        match piece {
            ".." => {
                assert!(parts.pop().is_some(), "`{target}` leaves the site");
            }
            name => parts.push(name),
        }
    }
    parts.join("/")
}

#[test]
fn nothing_is_styled_or_run_inline_and_the_policy_allows_the_site_alone() {
    for (path, page) in &pages() {
        for (_, node) in page.elements() {
            for (key, _) in &node.attributes {
                assert!(key != "style" && !key.starts_with("on"), "`{key}` in {path}");
            }
            assert!(node.element() != "style" && node.element() != "base" && node.element() != "iframe", "{path}");
            if node.element() == "script" {
                assert!(node.attribute("src").is_some() || node.attribute("type") == Some("application/json"), "{path}");
                assert_ne!(node.attribute("type"), Some("module"), "{path}");
            }
        }
        let policy = page.elements().find(|(_, node)| node.attribute("http-equiv") == Some("Content-Security-Policy"));
        let policy = policy.and_then(|(_, node)| node.attribute("content")).unwrap_or_else(|| panic!("{path} has no policy"));
        assert!(policy.starts_with("default-src 'none';"));
        for never in ["unsafe", "http", "*", "frame-ancestors", "report-uri", "sandbox"] {
            assert!(!policy.contains(never), "{policy}");
        }
    }
}

#[test]
fn the_stop_card_is_one_link_away_from_every_page() {
    for (path, page) in &pages() {
        let header = page.elements().find(|(_, node)| node.element() == "header").map(|(handle, _)| handle).expect("a header");
        let links = page.below(header).into_iter().filter_map(|handle| page.nodes[handle].attribute("href").map(str::to_owned));
        assert!(links.map(|link| resolve(path, &link)).any(|link| link == "stop.html"), "{path}");
    }
}

/// Where something stands in a page: its place in the order of the document.
fn position(order: &[usize], handle: usize) -> usize {
    order.iter().position(|one| *one == handle).expect("it is in the page")
}

#[test]
fn every_caution_of_a_step_stands_in_its_section_before_its_words() {
    let library = library();
    let mut looked_at = 0;
    for procedure in library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn) {
        let page = page(&format!("procedures/{}.html", procedure.id));
        let order = page.walk();
        for step in &procedure.steps {
            let section = page.by_id(&format!("step-{}", step.id)).expect("every step has a section");
            let inside = page.below(section);
            let sentence = inside.iter().find(|handle| page.nodes[**handle].has_class("step__sentence")).expect("a sentence");
            let container = page.nodes[*sentence].parent;
            let shown: Vec<&str> = inside
                .iter()
                .filter(|handle| page.nodes[**handle].has_class("caution"))
                .inspect(|handle| {
                    assert!(position(&order, **handle) < position(&order, *sentence), "a caution after the words of {}", step.id);
                    assert_eq!(page.nodes[**handle].parent, container);
                })
                .filter_map(|handle| page.nodes[*handle].attribute("data-hazard"))
                .collect();
            let wanted: BTreeSet<&str> = step.cautions.iter().map(|id| id.as_str()).collect();
            assert_eq!(shown.iter().copied().collect::<BTreeSet<_>>(), wanted, "{}", step.id);
            assert_eq!(shown.len(), wanted.len());
            let severity = |id: &&str| library.catalogue.hazard(&Id::from(*id)).and_then(|hazard| hazard.signal());
            assert!(shown.is_sorted_by_key(severity), "{shown:?}");
            looked_at += shown.len();
        }
    }
    assert_eq!(looked_at, 6);
}

#[test]
fn a_step_that_meets_a_hazard_again_says_so_by_itself() {
    let page = page("procedures/marks-repeat.html");
    let section = page.by_id("step-check-fuser").expect("the step");
    let reminder = page.below(section).into_iter().find(|handle| page.nodes[*handle].has_class("reminder")).expect("a reminder");
    let text = page.text(reminder);
    for part in ["WARNING", "Hot fuser", "rear of the paper path", "let the fuser cool before you reach in"] {
        assert!(text.contains(part), "{text}");
    }
    let first = page.by_id("step-replace-fuser").expect("the step");
    assert!(!page.below(first).into_iter().any(|handle| page.nodes[handle].has_class("reminder")), "its cautions stand there in full");
}

#[test]
fn the_safety_summary_holds_the_hazards_of_what_is_carried_out_too() {
    let mut library = library();
    for step in &mut library.procedures.iter_mut().find(|one| one.id == "marks-repeat").expect("the procedure").steps {
        step.cautions.retain(|id| id.value != "mains-inlet");
        step.exposes.clear();
    }
    let files = site(library, false, TODAY);
    let page = Page::parse(&String::from_utf8_lossy(&files["procedures/marks-repeat.html"]));
    let summary = page.by_id("safety").expect("a summary");
    let shown: Vec<&str> = page.below(summary).into_iter().filter_map(|handle| page.nodes[handle].attribute("data-hazard")).collect();
    assert_eq!(shown, ["mains-inlet", "hot-fuser", "toner-dust", "drum-surface"]);
    let signs: Vec<&str> = page
        .below(summary)
        .into_iter()
        .filter(|handle| page.nodes[*handle].has_class("sign"))
        .filter_map(|handle| page.nodes[handle].attribute("aria-label"))
        .collect();
    assert_eq!(signs, ["W012: Electricity", "W017: Hot surface", "M016: Wear a mask", "P010: Do not touch"]);
}

#[test]
fn notice_has_no_alert_symbol_and_the_others_have_one() {
    let page = page("procedures/marks-repeat.html");
    for (handle, node) in page.elements().filter(|(_, node)| node.has_class("caution")) {
        let alert = page.below(handle).into_iter().any(|below| page.nodes[below].has_class("caution__alert"));
        assert_eq!(alert, !node.has_class("caution--notice"), "{}", page.text(handle));
    }
}

#[test]
fn headings_skip_no_level() {
    for (path, page) in &pages() {
        let mut last = 0;
        for (handle, node) in page.elements() {
            if let Some(level) = node.element().strip_prefix('h').and_then(|level| level.parse::<u32>().ok()) {
                assert!(level <= last + 1, "h{level} after h{last} in {path}: {}", page.text(handle));
                last = level;
            }
        }
    }
}

#[test]
fn every_way_is_a_link_to_its_step_with_its_number_and_words() {
    let page = page("procedures/marks-repeat.html");
    let ways = |step: &str| -> Vec<(String, String)> {
        let section = page.by_id(&format!("step-{step}")).expect("the step");
        let links = page.below(section).into_iter().filter(|handle| page.nodes[*handle].has_class("way__go"));
        links.map(|handle| (page.nodes[handle].attribute("href").unwrap_or_default().to_owned(), page.text(handle))).collect()
    };
    let pair = |address: &str, text: &str| (address.to_owned(), text.to_owned());
    assert_eq!(
        ways("gap"),
        [
            pair("#step-technician", "From 5 to below 65 mm Go to step 5: Is a trained technician at the machine now?"),
            pair("#step-drum", "From 65 up to 400 mm Go to step 11: Replace the drum"),
            pair("#step-hand-over", "I cannot tell Go to step 15: Keep the test pages and book a field visit"),
        ]
    );
    assert_eq!(ways("temperature")[1].1, "Above 48 up to 300 °C Go to step 8: Wait until the heat has gone");
    assert_eq!(ways("look")[0].1, "First: if you did this step 2 times already Go to step 15: Keep the test pages and book a field visit");
    assert_eq!(ways("which")[0].1, "Alder 20, desk-side mono Go to step 3: Distance between one mark and the next");
    assert_eq!(ways("make-safe")[0].1, "Done Go to step 7: Temperature at the fuser cover");
    assert!(ways("close").is_empty());
}

#[test]
fn hostile_words_stay_words() {
    let page = page("procedures/nasty.html");
    let title = page.elements().find(|(_, node)| node.element() == "h1").map(|(handle, _)| page.text(handle));
    assert_eq!(title.as_deref(), Some("A \"title\" </title><script> & 'more' 😀"));
    let end = page.by_id("step-end").expect("the ending");
    assert!(page.text(end).contains("</script><!-- \u{2028} & done"));
    let about = page.by_id("about").expect("the introduction");
    assert!(page.text(about).contains("<script>alert(1)</script>"));
    let scripts = page.elements().filter(|(_, node)| node.element() == "script" && node.attribute("src").is_none()).count();
    assert_eq!(scripts, 3, "the flow data, the chart's data and the words of the interface");
    let marks = self::page("procedures/marks-repeat.html");
    let gap = marks.text(marks.by_id("step-gap").expect("the step"));
    assert!(gap.contains("<b onclick=\"x()\">Raw</b>"), "{gap}");
}

#[test]
fn a_withdrawn_procedure_is_a_page_that_says_stop() {
    let page = page("procedures/old-way.html");
    let text = page.text(0);
    assert!(text.contains("It told people to work on a live machine.") && text.contains("Stop."));
    let links: Vec<&str> = page.elements().filter_map(|(_, node)| node.attribute("href")).collect();
    assert!(links.contains(&"marks-repeat.html"));
    assert!(page.by_id("steps").is_none() && page.by_id("follower").is_none());
}

#[test]
fn the_start_page_offers_no_task_that_demands_something() {
    let page = page("index.html");
    let links: BTreeSet<&str> = page.elements().filter_map(|(_, node)| node.attribute("href")).collect();
    assert!(links.contains("procedures/marks-repeat.html") && links.contains("procedures/isolate.html"));
    assert!(!links.contains("procedures/open-rear.html"));
    let tasks = page.by_id("tasks").expect("tasks");
    assert!(page.text(tasks).contains("Open the rear door"));
    let symptoms = page.by_id("symptoms").expect("symptoms");
    assert!(page.text(symptoms).contains("Repeating marks") && !page.text(symptoms).contains("Make the machine safe"));
}

#[test]
fn a_site_with_unreleased_procedures_says_on_every_page_that_it_is_not_for_use() {
    let banner = |unreleased: bool| {
        let files = site(library(), unreleased, TODAY);
        let html = files.iter().filter(|(path, _)| path.ends_with(".html"));
        html.filter(|(_, bytes)| String::from_utf8_lossy(bytes).contains("Not for use. This site")).count()
    };
    assert_eq!((banner(true), banner(false)), (files().keys().filter(|path| path.ends_with(".html")).count(), 0));
}

#[test]
fn a_procedure_past_its_review_says_so_from_the_day_after() {
    let shown = |today| {
        let files = site(library(), false, today);
        String::from_utf8_lossy(&files["procedures/marks-repeat.html"]).contains("due for review by 2027-06-30")
    };
    assert!(!shown(jiff::civil::date(2027, 6, 30)));
    assert!(shown(jiff::civil::date(2027, 7, 1)));
}

#[test]
fn two_runs_give_the_same_bytes() {
    assert_eq!(files(), files());
}

#[test]
fn every_word_that_the_code_asks_for_is_in_the_file() {
    let words = stepward::theme::words().expect("the words parse");
    let mut asked = BTreeSet::new();
    for entry in walkdir::WalkDir::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src/render")).into_iter().flatten() {
        let Ok(code) = std::fs::read_to_string(entry.path()) else { continue };
        for call in ["desk.word(\"", "desk.fill(\""] {
            asked.extend(code.split(call).skip(1).filter_map(|rest| Some(("review".to_owned(), rest.split('"').next()?.to_owned()))));
        }
        for call in [".word(\"", ".say(\"", ".fill(\""] {
            for rest in code.split(call).skip(1) {
                let mut pieces = rest.split('"');
                if let (Some(group), Some(", "), Some(key)) = (pieces.next(), pieces.next(), pieces.next()) {
                    asked.insert((group.to_owned(), key.to_owned()));
                }
            }
        }
    }
    assert!(asked.len() > 40, "only {} found", asked.len());
    let missing: Vec<_> = asked.iter().filter(|(group, key)| words.find(group, key).is_none()).collect();
    assert!(missing.is_empty(), "{missing:?}");
    // Words asked for by a key that is worked out: a missing one would show its key, which is in small letters.
    for (path, page) in &pages() {
        let labels =
            ["step__kind", "ways__title", "reminder__title", "ending__outcome", "caution__word", "signal", "card__kind", "leaf__name"];
        for (handle, node) in page.elements() {
            if node.element() == "dt" || node.attribute("scope") == Some("col") || labels.iter().any(|label| node.has_class(label)) {
                let text = page.text(handle);
                assert!(text.chars().next().is_some_and(|first| !first.is_lowercase()) || text.contains(' '), "`{text}` in {path}");
            }
        }
    }
}
