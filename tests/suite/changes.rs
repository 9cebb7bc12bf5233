//! What changed, as a page and as a feed: one entry for each approved revision, the same ids on every day. Counts and elements: RFC 4287, sections 4.1.1 and
//! 4.1.2; dates: RFC 3339; ids: RFC 9562.

use std::collections::BTreeSet;

use crate::support::command::Place;
use crate::support::html::Page;

const OLD: &str = "0000000000000000000000000000000000000000000000000000000000000000 steps:00000000 words:11111111 hazard/gone:22222222";

fn library(title: &str, site: &str) -> Place {
    let place = Place::new();
    let words = |title: &str, revision: u32, more: &str| {
        format!(
            "---\ntitle: {title}\nstatus: released\nrevision: {revision}\nowner: field service\nreview-by: 2027-06-30\n{more}steps:\n  look: {{ do: Look at the sheet, then: book }}\n  \
             book: {{ do: Book a visit, outcome: handed-over }}\n---\n\nTake a sheet from the tray.\n"
        )
    };
    place.write("lib/library.yaml", &format!("title: {title}\nroles: [field service, safety]\n{site}"));
    place.write("lib/procedures/lines.md", &words("Lines & \"<stripes>\"", 2, "symptoms: [dark lines]\n"));
    place.write("lib/procedures/marks.md", &words("Marks", 1, "symptoms: [dark marks]\n"));
    let gone = words("Shake it", 3, "withdrawn-because: It raised <dust>.\nreplaced-by: nothing\n").replace("released", "withdrawn");
    place.write("lib/procedures/shake.md", &gone);
    place.sign("lib");
    // Signing keeps one approval of each procedure; a team may keep those of older revisions above it.
    let signed = place.read("lib/approvals.yaml").expect("approvals");
    let (head, rest) = signed.split_once("approvals:\n").expect("a list");
    let old = format!("  - procedure: lines\n    revision: 1\n    digest: \"{OLD}\"\n    by: safety\n    on: 2026-03-01\n");
    place.write("lib/approvals.yaml", &format!("{head}approvals:\n{old}{rest}"));
    place
}

fn publish(place: &Place, day: &str) -> (Page, String) {
    let ran = place.run(&["publish", "lib", "--to", "site", "--format", "short", "--today", day]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    (Page::parse(&place.read("site/changes.html").expect("a page")), place.read("site/changes.xml").expect("a feed"))
}

fn all<'a>(feed: &'a str, element: &str) -> Vec<&'a str> {
    feed.split(&format!("<{element}>")).skip(1).filter_map(|rest| rest.split(&format!("</{element}>")).next()).collect()
}

#[test]
fn each_approved_revision_is_an_entry_and_what_differs_is_named() {
    let place = library("Print rooms", "");
    let (page, feed) = publish(&place, "2026-12-01");
    let entries = all(&feed, "entry");
    let title = |entry: &str| all(entry, "title")[0].replace('\u{a0}', " ");
    let titles: Vec<String> = entries.iter().map(|entry| title(entry)).collect();
    let lines = |n: u32| format!("Lines &amp; &quot;&lt;stripes&gt;&quot;, revision {n}");
    assert_eq!(titles, ["Withdrawn, do not use: Shake it".to_owned(), lines(2), "Marks, revision 1".to_owned(), lines(1)]);
    let days: Vec<&str> = entries.iter().map(|entry| all(entry, "updated")[0]).collect();
    assert_eq!(days, ["2026-12-01T00:00:00Z", "2026-11-02T00:00:00Z", "2026-11-02T00:00:00Z", "2026-03-01T00:00:00Z"]);
    assert_eq!(all(&feed, "updated")[0], "2026-12-01T00:00:00Z");
    assert!(entries[0].contains("<summary>It raised &lt;dust&gt;.</summary>"), "{}", entries[0]);
    let since = all(entries[1], "summary")[0];
    assert!(
        since.starts_with("Approved by safety. Different from revision 1: steps, words, card,") && since.ends_with("hazard gone."),
        "{since}"
    );
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    let text = place.read("site/changes.html").expect("a page");
    for link in ["procedures/lines.html", "procedures/marks.html", "procedures/shake.html", "changes.xml"] {
        assert!(text.contains(&format!("href=\"{link}\"")), "{link}");
    }
    let order = ["2026-12-01</time>", "It raised &lt;dust&gt;.", "2026-11-02</time>", "2026-03-01</time>"]
        .map(|words| text.find(words).unwrap_or_else(|| panic!("no {words}")));
    assert!(order.is_sorted(), "{order:?}");
    assert!(place.read("site/index.html").expect("a page").contains("href=\"changes.html\""));
    assert!(place.read("site/procedures/lines.html").expect("a page").contains("type=\"application/atom+xml\" href=\"../changes.xml\""));
}

#[test]
fn ids_are_the_same_on_every_day_and_no_two_are_alike() {
    let place = library("Print rooms", "");
    let feeds = ["2026-12-01", "2026-12-02"].map(|day| publish(&place, day).1);
    let ids = all(&feeds[0], "id");
    assert_eq!(ids, all(&feeds[1], "id"));
    assert_eq!((ids.len(), ids.iter().collect::<BTreeSet<_>>().len()), (5, 5));
    for id in ids {
        let hex = id.strip_prefix("urn:uuid:").expect("a UUID");
        let lengths: Vec<usize> = hex.split('-').map(str::len).collect();
        assert_eq!(lengths, [8, 4, 4, 4, 12]);
        assert!(hex.as_bytes()[14] == b'8' && matches!(hex.as_bytes()[19], b'8' | b'9' | b'a' | b'b'), "{hex}");
    }
    // Of what was not withdrawn nothing is news the next day.
    let kept = |feed: &str| all(feed, "entry")[1..].iter().map(|entry| (*entry).to_owned()).collect::<Vec<_>>();
    assert_eq!(kept(&feeds[0]), kept(&feeds[1]));
}

#[test]
fn addresses_are_whole_where_the_site_has_one() {
    let (_, feed) = publish(&library("Print rooms", "site: https://print.example/manuals/\n"), "2026-12-01");
    assert!(
        feed.contains("<link rel=\"self\" type=\"application/atom+xml\" href=\"https://print.example/manuals/changes.xml\"/>"),
        "{feed}"
    );
    assert!(feed.contains("href=\"https://print.example/manuals/procedures/lines.html\""));
    let (_, without) = publish(&library("Print rooms", ""), "2026-12-01");
    assert!(!without.contains("rel=\"self\"") && without.contains("href=\"procedures/lines.html\""));
}

#[test]
fn a_site_that_is_not_for_use_has_no_feed() {
    let place = library("Print rooms", "");
    assert_eq!(place.run(&["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-12-01"]).status, 0);
    assert_eq!(place.read("site/changes.xml"), None);
    assert!(place.read("site/changes.html").is_some_and(|page| !page.contains("changes.xml")));
}
