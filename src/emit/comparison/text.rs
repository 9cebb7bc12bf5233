//! A comparison for people: safety first, each change with what was said and what is said now.

use std::fmt::Write as _;

use crate::compare::change::{Change, Side};
use crate::compare::kind::Area;
use crate::compare::pair::By;
use crate::emit::comparison::{Told, apart_words, behaviour_words};
use crate::emit::{clean, text};

/// The longest words of a side on the terminal; the page and the JSON have them whole.
const LONGEST: usize = 200;

/// All changes, then behaviour, matches and what could not be compared. Empty lists are left out.
pub fn text(told: &Told<'_>) -> String {
    let mut out = String::new();
    // Writing to a `String` cannot fail.
    for area in Area::ALL {
        let changes: Vec<&Change> = told.comparison.of(area).collect();
        if changes.is_empty() {
            continue;
        }
        let title = match area {
            Area::Safety => "Safety",
            Area::Ways => "Ways",
            Area::Steps => "Steps and procedures",
            Area::Details => "Words, times and figures",
        };
        let _ = writeln!(out, "{title}\n");
        for change in changes {
            one(change, told, &mut out);
        }
    }
    behaviour(told, &mut out);
    matches(told, &mut out);
    if !told.comparison.not_compared.is_empty() {
        out.push_str("Not compared\n\n");
        for left in &told.comparison.not_compared {
            let procedure = left.procedure.as_ref().map(|id| format!("`{id}`: ")).unwrap_or_default();
            let _ = writeln!(out, "  {procedure}{}, because {}", left.what, clean::line(&left.why));
        }
        out.push('\n');
    }
    if told.comparison.same() {
        let _ = writeln!(out, "{}", told.summary());
    }
    out
}

fn one(change: &Change, told: &Told<'_>, out: &mut String) {
    let procedure = change.procedure.as_ref().map(|id| format!("{id}: ")).unwrap_or_default();
    let (turn, kind) = (change.kind.turn.as_str(), change.kind.name);
    let _ = writeln!(out, "  {turn:8} {}{} [{kind}]", clean::line(&procedure), clean::line(&change.message));
    if change.steps.len() > 1 {
        let _ = writeln!(out, "           at {}", change.steps.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", "));
    }
    for (name, side) in [("OLD", &change.old), ("NEW", &change.new)] {
        if let Some(side) = side {
            let _ = writeln!(out, "           {name} {}", place(side));
        }
    }
    if !change.used_by.is_empty() {
        let _ = writeln!(out, "           used by {}", change.used_by.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", "));
    }
    if let Some(witness) = &change.witness {
        for line in text::witness_words(witness, told.library_of(change)).lines() {
            let _ = writeln!(out, "           {line}");
        }
    }
    out.push('\n');
}

fn place(side: &Side) -> String {
    let words = side.words.as_ref().filter(|words| !words.is_empty()).map(|words| {
        let line = clean::line(words).into_owned();
        let short: String = line.chars().take(LONGEST).collect();
        let cut = if short.len() < line.len() { " ..." } else { "" };
        format!("  \"{short}{cut}\"")
    });
    format!("{}:{}:{}{}", clean::line(&side.file), side.line, side.column, words.unwrap_or_default())
}

fn behaviour(told: &Told<'_>, out: &mut String) {
    let differing = told.comparison.behaviours.iter().filter(|it| behaviour_words(it).1.is_some()).count();
    if differing == 0 {
        return;
    }
    out.push_str("Behaviour\n\n");
    for behaviour in &told.comparison.behaviours {
        let (words, apart) = behaviour_words(behaviour);
        let Some(apart) = apart else { continue };
        let _ = writeln!(out, "  {}\n           {}\n", clean::line(&words), apart_words(apart));
    }
    let same = told.comparison.behaviours.len() - differing;
    if same > 0 {
        let _ = writeln!(out, "  of {same} others: no answers tell them apart\n");
    }
}

fn matches(told: &Told<'_>, out: &mut String) {
    if told.comparison.matched.is_empty() {
        return;
    }
    out.push_str("Taken for the same, by what they say\n\n");
    for it in &told.comparison.matched {
        let inside = it.procedure.as_ref().map(|id| format!("{id}: ")).unwrap_or_default();
        let how = match it.by {
            By::Id | By::Text => "the same text".to_owned(),
            By::Likeness(alike) => format!("texts alike to {} %", alike / 10),
        };
        let _ = writeln!(out, "  {inside}{} `{}` -> `{}`: {how}", it.sort, clean::line(it.old.as_str()), clean::line(it.new.as_str()));
    }
    out.push('\n');
}
