//! The pages of the rules on the site: one for each, every failing example with what a real run says and its lines marked, no mark left in.

use std::collections::{BTreeMap, BTreeSet};

use stepward::analyse::analyse;
use stepward::finding::rule;
use stepward::read::read;
use stepward::rules::example::{Case, DAY, cases};
use stepward::rules::handbook;

use crate::support::html::Page;
use crate::support::reviewed::site;
use crate::support::small_library::library;

fn pages() -> BTreeMap<String, Page> {
    let files = site(library(), false, jiff::civil::date(2026, 11, 24));
    let rules = files.into_iter().filter(|(path, _)| path.starts_with("rules/"));
    rules.map(|(path, bytes)| (path, Page::parse(&String::from_utf8(bytes).expect("UTF-8")))).collect()
}

fn of_class<'p>(page: &'p Page, class: &str) -> Vec<usize> {
    page.elements().filter(|(_, node)| node.has_class(class)).map(|(handle, _)| handle).collect()
}

#[test]
fn there_is_a_page_for_every_rule_and_the_list_leads_to_each() {
    let pages = pages();
    let wanted: BTreeSet<String> =
        rule::ALL.iter().map(|rule| format!("rules/{}.html", rule.name)).chain(["rules/index.html".to_owned()]).collect();
    assert_eq!(pages.keys().cloned().collect::<BTreeSet<_>>(), wanted);
    let index = &pages["rules/index.html"];
    let links: BTreeSet<&str> = index.elements().filter_map(|(_, node)| node.attribute("href")).collect();
    for rule in rule::ALL {
        assert!(links.contains(format!("{}.html", rule.name).as_str()), "{}", rule.name);
        let page = &pages[&format!("rules/{}.html", rule.name)];
        assert!(page.errors.is_empty(), "{}: {:?}", rule.name, page.errors);
        let plain = |text: &str| text.replace('`', "");
        assert!(page.text(0).contains(&plain(handbook::summary(rule).expect("a sentence"))), "{}", rule.name);
    }
    for group in rule::ALL.iter().map(|rule| rule.group) {
        assert!(index.by_id(group.as_str()).is_some(), "{}", group.as_str());
    }
}

#[test]
fn every_failing_example_stands_there_with_what_a_run_says_and_without_its_marks() {
    let pages = pages();
    let mut run = 0;
    for rule in rule::ALL {
        let page = &pages[&format!("rules/{}.html", rule.name)];
        let text = page.text(0);
        assert!(!text.contains("expect:") && !text.contains("(none)"), "{}: a mark or an absent file is shown", rule.name);
        let all = cases(handbook::page(rule).expect("a page"));
        let examples = of_class(page, "example");
        assert_eq!(examples.len(), all.len(), "{}", rule.name);
        for (case, example) in all.iter().zip(examples) {
            run += usize::from(case.fails);
            shown(rule.name, case, page, example);
        }
    }
    assert!(run > 100, "only {run} failing examples");
}

fn shown(rule: &str, case: &Case, page: &Page, example: usize) {
    let text = page.text(example);
    let here: BTreeSet<usize> = page.below(example).into_iter().collect();
    let marked: Vec<String> = page
        .elements()
        .filter(|(handle, node)| here.contains(handle) && node.element() == "mark")
        .map(|(handle, _)| page.text(handle))
        .collect();
    let (library, reading) = read(&case.folder());
    let verdict = analyse(library, reading, DAY);
    for finding in verdict.findings.iter() {
        assert!(text.contains(&finding.message.replace('`', "")), "{rule} / {}: `{}` is not in {text}", case.name, finding.message);
    }
    let lines: BTreeSet<(&String, u32)> = case.expected.iter().map(|(path, line, _)| (path, *line)).collect();
    let expected: Vec<String> = lines
        .into_iter()
        .filter(|(path, _)| case.files.get(*path).is_some_and(|text| text.trim() != "(none)"))
        .filter_map(|(path, line)| case.files[path].lines().nth(line as usize - 1).map(str::to_owned))
        .collect();
    assert_eq!(marked, expected, "{rule} / {}", case.name);
    assert_eq!(verdict.findings.is_empty(), !case.fails, "{rule} / {}", case.name);
}

#[test]
fn every_page_of_a_site_leads_to_the_list() {
    let files = site(library(), false, jiff::civil::date(2026, 11, 24));
    for (path, bytes) in files.iter().filter(|(path, _)| path.ends_with(".html")) {
        let page = Page::parse(&String::from_utf8_lossy(bytes));
        let up = if path.contains('/') { "../" } else { "" };
        let to = format!("{up}rules/index.html");
        assert!(page.elements().any(|(_, node)| node.attribute("href") == Some(&to)), "{path}");
    }
}
