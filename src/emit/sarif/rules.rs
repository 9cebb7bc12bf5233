//! The rules as SARIF describes them: all of them, in the order of the handbook, whatever was found.

use crate::emit::sarif::shape::{Configuration, Descriptor, Message, Tags};
use crate::finding::{Rule, rule};
use crate::rules::handbook;

pub fn descriptors() -> Vec<Descriptor> {
    rule::ALL.iter().map(|rule| descriptor(rule)).collect()
}

/// The index of a rule among [`descriptors`].
pub fn index(wanted: &Rule) -> usize {
    rule::ALL.iter().position(|rule| rule.name == wanted.name).expect("every rule is in the list of all rules")
}

fn descriptor(rule: &'static Rule) -> Descriptor {
    let page = handbook::page(rule).unwrap_or("");
    let more = format!("\n`stepward rules {}` shows wrong and right examples.", rule.name);
    Descriptor {
        id: rule.name,
        short_description: Message::of(handbook::summary(rule).unwrap_or(rule.name)),
        help: Some(Message::of(&format!("{}{more}", what_it_checks(page)))),
        default_configuration: Configuration { level: rule.severity.as_str() },
        properties: Some(Tags { tags: [rule.group.as_str()] }),
    }
}

/// The words under the page's first heading.
fn what_it_checks(page: &str) -> String {
    let lines = page.lines().skip_while(|line| !line.starts_with("## ")).skip(1).take_while(|line| !line.starts_with("## "));
    lines.map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
}
