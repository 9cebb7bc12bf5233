//! A procedure is withdrawn: what its page says, where it is gone from, and what cannot be published while something still points to it.

use crate::support::command::{Place, Ran};
use crate::support::html::Page;

const DAY: [&str; 2] = ["--today", "2026-12-01"];

/// A released procedure; `extra` is more front matter, `last` the ending, `words` the introduction.
fn released(extra: &str, last: &str, words: &str) -> String {
    format!(
        "---\ntitle: Lines along the feed\nstatus: released\nrevision: 1\nowner: field service\nreview-by: 2027-06-30\n{extra}steps:\n  look: {{ do: Look \
         at the sheet, then: book }}\n  book: {{ {last} }}\n---\n\n{words}\n"
    )
}

fn sound() -> String {
    released("symptoms: [dark lines]\n", "do: Book a visit, outcome: handed-over", "Take a sheet from the tray.")
}

/// The procedure that is withdrawn. It still has its steps and words in the file.
fn withdrawn(successor: &str) -> String {
    format!(
        "---\ntitle: Shake the cartridge\nstatus: withdrawn\nrevision: 3\nowner: safety\nreview-by: 2026-06-30\nreplaced-by: {successor}\nwithdrawn-because: It \
         raised <dust> & more.\nsymptoms: [pale stripe]\ncodes: [\"4711\"]\nstages: [developing]\nsteps:\n  shake: {{ do: Shake it over the sink, then: end }}\n  \
         end: {{ do: Close the call, outcome: no-fault }}\n---\n\nHold it with both hands.\n\n## Shake {{#shake}}\n\nFive times.\n"
    )
}

fn library(files: &[(&str, String)]) -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [field service, safety]\n");
    place.write("lib/stages.yaml", "stages:\n  - { id: developing, name: Developing, does: Toner goes onto the drum. }\n");
    place.write("lib/procedures/lines.md", &sound());
    for (path, text) in files {
        place.write(&format!("lib/{path}"), text);
    }
    place
}

/// Publishes the library once everything released in it is approved.
fn publish(place: &Place) -> Ran {
    place.sign("lib");
    place.run(&["publish", "lib", "--to", "site", "--format", "short", DAY[0], DAY[1]])
}

fn page(place: &Place, path: &str) -> Page {
    let page = Page::parse(&place.read(path).unwrap_or_else(|| panic!("no {path}")));
    assert!(page.errors.is_empty(), "{path}: {:?}", page.errors);
    page
}

fn links(page: &Page) -> Vec<&str> {
    page.elements().filter_map(|(_, node)| node.attribute("href")).collect()
}

#[test]
fn the_page_says_stop_why_and_what_instead_and_shows_no_step() {
    let place = library(&[("procedures/shake.md", withdrawn("lines"))]);
    let ran = publish(&place);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let page = page(&place, "site/procedures/shake.html");
    let main = page.text(page.by_id("main").expect("the page"));
    for words in
        ["Shake the cartridge", "It raised <dust> & more.", "2026-12-01", "Lines along the feed", "at its first step", "safety", "3"]
    {
        assert!(main.contains(words), "`{words}` in: {main}");
    }
    assert!(page.text(0).contains("Stop. This procedure is withdrawn."));
    assert!(links(&page).contains(&"lines.html"));
    for gone in ["Shake it over the sink", "Five times", "both hands", "Close the call", "due for review"] {
        assert!(!page.text(0).contains(gone), "`{gone}` is still there");
    }
    assert!(page.by_id("follower").is_none() && page.by_id("flow-data").is_none() && page.by_id("steps").is_none());
    assert!(page.elements().all(|(_, node)| node.element() != "svg"));
    let scripts: Vec<&str> = page.elements().filter_map(|(_, node)| node.attribute("src")).collect();
    assert!(!scripts.is_empty() && scripts.iter().all(|path| !path.contains("procedure-")), "only what every page runs: {scripts:?}");
}

#[test]
fn nothing_instead_is_said_in_so_many_words() {
    let place = library(&[("procedures/shake.md", withdrawn("nothing"))]);
    assert_eq!(publish(&place).status, 0);
    let text = page(&place, "site/procedures/shake.html").text(0);
    assert!(text.contains("None. Nothing replaces it.") && text.contains("ask the owner, safety,"), "{text}");
    // A successor that is not released has no page yet, and is not said to be nothing.
    let draft = sound().replace("status: released", "status: draft");
    let place = library(&[("procedures/shake.md", withdrawn("later")), ("procedures/later.md", draft)]);
    assert_eq!(publish(&place).status, 0);
    let shake = page(&place, "site/procedures/shake.html");
    assert!(shake.text(0).contains("not released") && !links(&shake).contains(&"later.html"));
}

#[test]
fn the_start_page_names_it_only_among_the_withdrawn() {
    let place = library(&[("procedures/shake.md", withdrawn("lines"))]);
    assert_eq!(publish(&place).status, 0);
    let start = page(&place, "site/index.html");
    let all = start.text(0);
    assert!(!all.contains("pale stripe") && !all.contains("Pale stripe") && !all.contains("4711"), "{all}");
    let to = "procedures/shake.html";
    assert_eq!(links(&start).iter().filter(|href| **href == to).count(), 1);
    let section = start.by_id("withdrawn").expect("the withdrawn");
    assert!(start.below(section).into_iter().any(|handle| start.nodes[handle].attribute("href") == Some(to)));
    for page_of_other in ["site/procedures/lines.html", "site/rules/index.html"] {
        assert!(!place.read(page_of_other).expect("a page").contains("shake"), "{page_of_other}");
    }
}

#[test]
fn without_reason_or_successor_nothing_is_published() {
    for key in ["replaced-by: lines\n", "withdrawn-because: It raised <dust> & more.\n"] {
        let text = withdrawn("lines");
        assert!(text.contains(key));
        let place = library(&[("procedures/shake.md", text.replace(key, ""))]);
        let ran = publish(&place);
        assert_eq!(ran.status, 1);
        assert!(ran.out.contains("key-missing"), "{}", ran.out);
        assert!(place.read("site/index.html").is_none());
    }
}

/// Publishes, then withdraws what something still points to: refused at that line, and the site stays as it was.
fn still_pointed_to(file: &str, text: &str, rule: &str) {
    let before = withdrawn("nothing").replace("status: withdrawn", "status: released").replace("2026-06-30", "2027-06-30");
    let as_task = |text: String| text.replace("title: Shake", "kind: task\ntitle: Shake").replace("outcome: no-fault", "outcome: done");
    let before = before.replace("replaced-by: nothing\nwithdrawn-because: It raised <dust> & more.\n", "");
    let task = text.contains("carry-out");
    let shake = |text: String| if task { as_task(text) } else { text };
    let place = library(&[(file, text.to_owned()), ("procedures/shake.md", shake(before))]);
    let ran = publish(&place);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let site = place.below("site");
    place.write("lib/procedures/shake.md", &shake(withdrawn("lines")));
    let ran = publish(&place);
    assert_eq!(ran.status, 1, "{text}\n{}{}", ran.out, ran.err);
    assert!(ran.out.contains(rule) && ran.out.contains(file), "{}", ran.out);
    assert_eq!(ran.out.lines().filter(|line| line.contains("error")).count(), 1, "{}", ran.out);
    assert!(place.below("site") == site, "the site has changed");
}

#[test]
fn whatever_still_points_to_it_keeps_the_gate_shut() {
    let other = "procedures/stripes.md";
    let rule = "leads-to-withdrawn";
    let refer = "do: Go on there, outcome: referred, refer-to: shake";
    let hand_over = "do: Book a visit, outcome: handed-over";
    still_pointed_to(other, &released("", refer, "Words."), rule);
    let call = released("", hand_over, "Words.").replace("  look:", "  shake: { carry-out: shake, outcomes: { done: look } }\n  look:");
    still_pointed_to(other, &call, rule);
    still_pointed_to(other, &released("", hand_over, "See [the other](shake.md)."), rule);
    still_pointed_to("leaflets/list.md", "# List\n\nSee [the other](../procedures/shake.md#shake).\n", rule);
    let gone =
        withdrawn("shake").replace("Shake the cartridge", "Rock the cartridge").replace("pale stripe", "pale edge").replace("4711", "4712");
    still_pointed_to("procedures/rock.md", &gone, rule);
}

#[test]
fn a_withdrawn_procedure_may_still_name_another_in_words_that_are_not_shown() {
    let old = withdrawn("lines").replace("Hold it with both hands.", "Before it there was [rocking](rock.md).");
    let older = withdrawn("nothing").replace("Shake the cartridge", "Rock the cartridge");
    let place = library(&[("procedures/shake.md", old), ("procedures/rock.md", older)]);
    let ran = publish(&place);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(!place.read("site/procedures/shake.html").expect("a page").contains("rock"));
}

#[test]
fn a_task_no_longer_lists_a_withdrawn_caller() {
    let task = sound()
        .replace("title:", "kind: task\ntitle:")
        .replace("outcome: handed-over", "outcome: done")
        .replace("symptoms: [dark lines]\n", "");
    let caller = withdrawn("nothing")
        .replace("  shake: { do: Shake it over the sink, then: end }", "  shake: { carry-out: cloth, outcomes: { done: end } }");
    let place = library(&[("procedures/shake.md", caller), ("procedures/cloth.md", task)]);
    assert_eq!(publish(&place).status, 0);
    assert!(page(&place, "site/procedures/cloth.html").by_id("callers").is_none());
}
