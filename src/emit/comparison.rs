//! A comparison of two libraries as text, as one line a change, and as JSON.

pub mod json;
pub mod short;
pub mod text;

use crate::compare::Comparison;
use crate::compare::behaviour::{Apart, Behaviour, Verdict};
use crate::compare::change::Change;
use crate::compare::kind::{Area, Turn};
use crate::emit::{clean, counted};
use crate::model::library::Library;

/// A comparison, and what its two sides were called.
#[derive(Clone, Copy)]
pub struct Told<'a> {
    pub comparison: &'a Comparison,
    pub old: &'a str,
    pub new: &'a str,
    /// OLD and NEW themselves: what a witness names.
    pub libraries: (&'a Library, &'a Library),
}

impl<'a> Told<'a> {
    /// The library that a change's witness leads through.
    pub fn library_of(&self, change: &Change) -> &'a Library {
        if change.new.is_none() { self.libraries.0 } else { self.libraries.1 }
    }

    /// How much changed, on one line.
    pub fn summary(&self) -> String {
        let all = self.comparison;
        if all.same() && all.not_compared.is_empty() {
            return "no change in meaning".to_owned();
        }
        if all.same() {
            return "no change in meaning, as far as could be compared".to_owned();
        }
        let safety: Vec<&Change> = all.of(Area::Safety).collect();
        let weaker = safety.iter().filter(|change| change.kind.turn == Turn::Weaker).count();
        format!(
            "{}: {} about safety ({weaker} weaker), {} in ways, {} in steps, {} in details",
            counted(all.changes.len(), "change"),
            safety.len(),
            all.of(Area::Ways).count(),
            all.of(Area::Steps).count(),
            all.of(Area::Details).count()
        )
    }
}

/// What there is to say about the behaviour of one procedure: a sentence, and the answers that show it.
pub fn behaviour_words(behaviour: &Behaviour) -> (String, Option<&Apart>) {
    let on = if behaviour.models.is_empty() {
        String::new()
    } else {
        format!(" on {}", behaviour.models.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", "))
    };
    let uncounted = if behaviour.uncounted { " (limits were too many to be counted)" } else { "" };
    let (words, apart) = match &behaviour.verdict {
        Verdict::Same => ("no answers tell them apart", None),
        Verdict::Words(apart) => ("the same answers lead to the same steps, of which some have other words", Some(apart)),
        Verdict::Differs(apart) => ("the same answers show something else", Some(apart)),
    };
    (format!("`{}`{on}: {words}{uncounted}", behaviour.procedure), apart)
}

/// `answer "No" at "Is it hot?", then ...: OLD asks X, NEW ends with Y`.
pub fn apart_words(apart: &Apart) -> String {
    let answer = |given: &crate::compare::behaviour::Given| format!("\"{}\" where OLD {}", given.answer, given.says);
    let given: Vec<String> = apart.answers.iter().map(answer).collect();
    let ways = if given.is_empty() { "at the start".to_owned() } else { format!("after {}", given.join(", then ")) };
    clean::line(&format!("{ways}: OLD {}; NEW {}", apart.old, apart.new)).into_owned()
}
