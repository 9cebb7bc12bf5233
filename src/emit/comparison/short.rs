//! One line a change, for editors and for `grep`.

use std::fmt::Write as _;

use crate::emit::clean;
use crate::emit::comparison::{Told, apart_words, behaviour_words};

/// `file:line:column: area[kind] turn: message`, one line each; the place is NEW's, or OLD's where NEW has none (`old:` stands before it then).
pub fn short(told: &Told<'_>) -> String {
    let mut out = String::new();
    for change in &told.comparison.changes {
        let place = match (&change.new, &change.old) {
            (Some(side), _) => format!("{}:{}:{}: ", clean::line(&side.file), side.line, side.column),
            (None, Some(side)) => format!("old:{}:{}:{}: ", clean::line(&side.file), side.line, side.column),
            (None, None) => String::new(),
        };
        let (area, kind, turn) = (change.kind.area.as_str(), change.kind.name, change.kind.turn.as_str());
        // Writing to a `String` cannot fail.
        let _ = writeln!(out, "{place}{area}[{kind}] {turn}: {}", clean::line(&change.message));
    }
    for behaviour in &told.comparison.behaviours {
        let (words, apart) = behaviour_words(behaviour);
        if let Some(apart) = apart {
            let _ = writeln!(out, "behaviour: {}; {}", clean::line(&words), apart_words(apart));
        }
    }
    for left in &told.comparison.not_compared {
        let procedure = left.procedure.as_ref().map(|id| format!("`{id}`, ")).unwrap_or_default();
        let _ = writeln!(out, "not compared: {procedure}{}: {}", left.what, clean::line(&left.why));
    }
    out
}
