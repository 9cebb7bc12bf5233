//! `rules`: lists the rules, or explains one.

mod page;

use std::fmt::Write as _;

use clap::Args;

use crate::build::failure::Failure;
use crate::cli::Outcome;
use crate::cli::output::Output;
use crate::finding::{Group, Rule, rule};
use crate::rules::handbook;
use crate::text::nearest::nearest;

/// List the rules, or explain one with a wrong and a right example
#[derive(Args)]
pub struct Arguments {
    /// The rule to explain
    #[arg(value_name = "RULE")]
    name: Option<String>,
}

pub fn run(asked: &Arguments, output: &Output) -> Result<Outcome, Failure> {
    let text = match &asked.name {
        None => list(),
        Some(name) => explain(rule::by_name(name).ok_or_else(|| unknown(name))?, output.styled()),
    };
    output.print(&text)?;
    Ok(Outcome::Done)
}

fn list() -> String {
    let width = rule::ALL.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
    let mut out = String::new();
    for (index, group) in Group::ALL.into_iter().enumerate() {
        // Writing to a `String` cannot fail.
        let _ = writeln!(out, "{}{}", if index == 0 { "" } else { "\n" }, group.as_str());
        for rule in rule::ALL.iter().filter(|rule| rule.group == group) {
            let summary = handbook::summary(rule).unwrap_or("");
            let line = format!("  {:<7}  {:<width$}  {summary}", rule.severity.as_str(), rule.name);
            let _ = writeln!(out, "{}", line.trim_end());
        }
    }
    out
}

fn explain(rule: &Rule, styled: bool) -> String {
    let head = format!("{}: {}, group {}\n", rule.name, rule.severity.as_str(), rule.group.as_str());
    match handbook::page(rule) {
        Some(page) => format!("{head}\n{}", page::in_terminal(page, styled)),
        None => head,
    }
}

fn unknown(name: &str) -> Failure {
    let hint = match nearest(name, rule::ALL.iter().map(|rule| rule.name)) {
        Some(near) => format!("did you mean `{near}`? "),
        None => String::new(),
    };
    Failure::Other(format!("there is no rule `{name}`; {hint}`stepward rules` lists them all"))
}
