//! What the search of a site holds: released procedures alone, the same bytes each time.

use std::fs;

use crate::support::command::Place;
use crate::support::html::Page;
use crate::support::reviewed::site;
use crate::support::small_library::library;

fn procedure(title: &str, status: &str, symptom: &str, code: &str) -> String {
    let withdrawn = if status == "withdrawn" { "replaced-by: nothing\nwithdrawn-because: It raised dust.\n" } else { "" };
    format!(
        "---\ntitle: {title}\nstatus: {status}\nrevision: 1\nowner: field service\nreview-by: 2027-06-30\n{withdrawn}symptoms: [{symptom}]\ncodes: [\"{code}\"]\n\
         steps:\n  look: {{ do: Look at the sheet, then: book }}\n  book: {{ do: Book a visit, outcome: handed-over }}\n---\n\nTake a sheet from the tray.\n"
    )
}

/// A library with a procedure of each status, published for the eyes of reviewers, as drafts are in no other site; its index.
fn index(options: &[&str], statuses: &[&str]) -> String {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [field service, safety]\n");
    for (status, number) in statuses.iter().zip(1..) {
        let symptom = format!("{}mark on </script> sheets", status.replace('-', ""));
        place.write(
            &format!("lib/procedures/{status}.md"),
            &procedure(&format!("Case {status}"), status, &symptom, &format!("X-{number}1")),
        );
    }
    place.sign("lib");
    let mut arguments = vec!["publish", "lib", "--to", "site", "--format", "short", "--today", "2026-12-01"];
    arguments.extend(options);
    let ran = place.run(&arguments);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let assets = fs::read_dir(place.path("site/assets")).unwrap().filter_map(Result::ok);
    let names: Vec<String> = assets.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    let found: Vec<&String> = names.iter().filter(|name| name.starts_with("search-index")).collect();
    assert_eq!(found.len(), 1, "{names:?}");
    let page = place.read("site/procedures/released.html").unwrap();
    assert!(page.contains(&format!("data-index=\"../assets/{}\"", found[0])), "each page names the index");
    assert!(place.read("site/offline.js").unwrap().contains(found[0].as_str()), "it is kept on the device");
    place.read(&format!("site/assets/{}", found[0])).unwrap()
}

#[test]
fn withdrawn_procedures_are_never_found_and_the_bytes_are_the_same_twice() {
    let index_of = || index(&[], &["released", "withdrawn"]);
    let first = index_of();
    assert!(first.contains("procedures/released.html") && first.contains("releasedmark") && first.contains("x11"), "{first}");
    for gone in ["procedures/withdrawn.html", "withdrawnmark", "Case withdrawn", "x21"] {
        assert!(!first.contains(gone), "{gone} in {first}");
    }
    assert_eq!(first, index_of());
}

#[test]
fn a_task_that_demands_something_is_not_offered() {
    let mut library = library();
    let touches = library.procedures.iter().flat_map(|one| &one.steps).find(|step| !step.touches.is_empty()).unwrap().touches.clone();
    let inner = library.procedures.iter_mut().find(|one| one.id.as_str() == "open-rear").unwrap();
    inner.steps[0].touches = touches;
    let files = site(library, false, jiff::civil::date(2026, 11, 24));
    let text = |start: &str| {
        let (_, bytes) = files.iter().find(|(path, _)| path.starts_with(start)).unwrap();
        String::from_utf8(bytes.clone()).unwrap()
    };
    let (index, find) = (text("assets/search-index"), text("find.html"));
    for offered in ["procedures/marks-repeat.html", "procedures/isolate.html"] {
        assert!(index.contains(offered), "{offered} in {index}");
    }
    // `open-rear` asks for a safe machine, `old-way` is withdrawn.
    for not in ["procedures/open-rear.html", "procedures/old-way.html"] {
        assert!(!index.contains(not) && !find.contains(not), "{not}");
    }
    let page = Page::parse(&find);
    for section in ["parts", "hazards"] {
        let section = page.by_id(section).expect("a section");
        let links = page.below(section).into_iter().filter(|handle| page.nodes[*handle].attribute("href").is_some()).count();
        assert!(links > 0, "{}", page.text(section));
    }
    assert!(find.contains("<span>Open the rear door</span>"), "named, as what touches its parts");
}

#[test]
fn what_is_not_released_is_not_found_even_where_it_is_shown() {
    let index = index(&["--unreleased"], &["released", "draft", "in-review"]);
    assert!(index.contains("procedures/released.html"));
    for gone in ["procedures/draft.html", "draftmark", "procedures/in-review.html", "inreviewmark", "x21", "x31"] {
        assert!(!index.contains(gone), "{gone} in {index}");
    }
}
