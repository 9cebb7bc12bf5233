//! A comparison as JSON, in the stable form that other programs read.
//!
//! ```json
//! { "schema": "stepward/compare/1", "old": "HEAD~1:", "new": "content", "same": false,
//!   "changes": [
//!     { "area": "safety", "turn": "weaker", "kind": "caution-lost", "procedure": "repeating-marks", "step": "drum", "subject": "toner-dust",
//!       "message": "...", "steps": [], "used-by": [],
//!       "old": { "procedure": "repeating-marks", "step": "drum", "file": "procedures/repeating-marks.md", "line": 52, "column": 16, "words": null },
//!       "new": null, "marks": [], "witness": null } ],
//!   "behaviour": [
//!     { "procedure": "repeating-marks", "models": [], "verdict": "differs", "uncounted": false,
//!       "answers": [ { "step": "look", "says": "asks \"...\"", "answer": "No" } ], "old": "asks \"...\"", "new": "ends with ..." } ],
//!   "matched": [ { "sort": "step", "procedure": "repeating-marks", "old": "a", "new": "b", "by": "text", "likeness": 1000 } ],
//!   "not-compared": [ { "procedure": "x", "what": "...", "why": "..." } ],
//!   "counts": { "safety": 1, "weaker": 1, "ways": 0, "steps": 0, "details": 0 } }
//! ```
//!
//! `area` is `safety`, `ways`, `steps` or `details`; `turn` says whether NEW protects less by this change (`weaker`), otherwise (`changed`) or more
//! (`stronger`). `kind` is a name of `compare/kind.rs` and never changes. `procedure` and `step` are NEW's ids, those in `old` are OLD's. `marks` is
//! the difference of the words of both sides, in order: `is` is `same`, `gone` or `come`. `witness` has the form of `stepward/findings/1`.
//! `verdict` is `same`, `words` (only words differ) or `differs`; `old` and `new` are what is shown after the answers, `null` for `same`.
//! `by` is `text` or `likeness`; `likeness` is in thousandths. Lists are ordered; two runs print the same bytes.

use serde::Serialize;

use crate::compare::behaviour::{Apart, Behaviour, Verdict};
use crate::compare::change::{Change, Side};
use crate::compare::kind::{Area, Turn};
use crate::compare::pair::By;
use crate::compare::rename::Matched;
use crate::compare::said::{Mark, marks};
use crate::emit::comparison::Told;
use crate::finding::WitnessEntry;

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Document<'a> {
    schema: &'static str,
    old: &'a str,
    new: &'a str,
    same: bool,
    changes: Vec<Entry<'a>>,
    behaviour: Vec<Behaves<'a>>,
    matched: Vec<Match<'a>>,
    not_compared: Vec<Left<'a>>,
    counts: Counts,
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Entry<'a> {
    area: &'static str,
    turn: &'static str,
    kind: &'static str,
    procedure: Option<&'a str>,
    step: Option<&'a str>,
    subject: Option<&'a str>,
    message: &'a str,
    steps: Vec<&'a str>,
    used_by: Vec<&'a str>,
    old: Option<Place<'a>>,
    new: Option<Place<'a>>,
    marks: Vec<Piece>,
    witness: Option<Vec<Point<'a>>>,
}

#[derive(Serialize)]
struct Place<'a> {
    procedure: Option<&'a str>,
    step: Option<&'a str>,
    file: &'a str,
    line: u32,
    column: u32,
    words: Option<&'a str>,
}

#[derive(Serialize)]
struct Piece {
    is: &'static str,
    text: String,
}

#[derive(Serialize)]
struct Point<'a> {
    procedure: &'a str,
    step: &'a str,
    way: Option<&'static str>,
    answer: Option<&'a str>,
}

#[derive(Serialize)]
struct Behaves<'a> {
    procedure: &'a str,
    models: Vec<&'a str>,
    verdict: &'static str,
    uncounted: bool,
    answers: Vec<Given<'a>>,
    old: Option<&'a str>,
    new: Option<&'a str>,
}

#[derive(Serialize)]
struct Given<'a> {
    step: &'a str,
    says: &'a str,
    answer: &'a str,
}

#[derive(Serialize)]
struct Match<'a> {
    sort: &'static str,
    procedure: Option<&'a str>,
    old: &'a str,
    new: &'a str,
    by: &'static str,
    likeness: u32,
}

#[derive(Serialize)]
struct Left<'a> {
    procedure: Option<&'a str>,
    what: &'static str,
    why: &'a str,
}

#[derive(Serialize)]
struct Counts {
    safety: usize,
    weaker: usize,
    ways: usize,
    steps: usize,
    details: usize,
}

/// The whole document, indented, with a line break at its end.
pub fn json(told: &Told<'_>) -> String {
    let all = told.comparison;
    let document = Document {
        schema: "stepward/compare/1",
        old: told.old,
        new: told.new,
        same: all.same(),
        changes: all.changes.iter().map(entry).collect(),
        behaviour: all.behaviours.iter().map(behaves).collect(),
        matched: all.matched.iter().map(matched).collect(),
        not_compared: all
            .not_compared
            .iter()
            .map(|left| Left { procedure: left.procedure.as_ref().map(|id| id.as_str()), what: left.what, why: &left.why })
            .collect(),
        counts: Counts {
            safety: all.of(Area::Safety).count(),
            weaker: all.of(Area::Safety).filter(|change| change.kind.turn == Turn::Weaker).count(),
            ways: all.of(Area::Ways).count(),
            steps: all.of(Area::Steps).count(),
            details: all.of(Area::Details).count(),
        },
    };
    let mut text = serde_json::to_string_pretty(&document).expect("texts, numbers and lists always have a JSON form");
    text.push('\n');
    text
}

fn entry(change: &Change) -> Entry<'_> {
    let words = |side: &Option<Side>| side.as_ref().and_then(|side| side.words.clone());
    let pieces = match (words(&change.old), words(&change.new)) {
        (Some(old), Some(new)) => marks(&old, &new).into_iter().map(piece).collect(),
        _ => Vec::new(),
    };
    Entry {
        area: change.kind.area.as_str(),
        turn: change.kind.turn.as_str(),
        kind: change.kind.name,
        procedure: change.procedure.as_ref().map(|id| id.as_str()),
        step: change.step.as_ref().map(|id| id.as_str()),
        subject: change.subject.as_deref(),
        message: &change.message,
        steps: change.steps.iter().map(|id| id.as_str()).collect(),
        used_by: change.used_by.iter().map(|id| id.as_str()).collect(),
        old: change.old.as_ref().map(place),
        new: change.new.as_ref().map(place),
        marks: pieces,
        witness: change.witness.as_ref().map(|witness| witness.iter().map(point).collect()),
    }
}

fn piece((mark, text): (Mark, String)) -> Piece {
    let is = match mark {
        Mark::Same => "same",
        Mark::Gone => "gone",
        Mark::Come => "come",
    };
    Piece { is, text }
}

fn place(side: &Side) -> Place<'_> {
    Place {
        procedure: side.procedure.as_ref().map(|id| id.as_str()),
        step: side.step.as_ref().map(|id| id.as_str()),
        file: &side.file,
        line: side.line,
        column: side.column,
        words: side.words.as_deref(),
    }
}

fn point(entry: &WitnessEntry) -> Point<'_> {
    let way = entry.way.map(|way| way.as_str());
    Point { procedure: entry.procedure.as_str(), step: entry.step.as_str(), way, answer: entry.answer.as_deref() }
}

fn behaves(behaviour: &Behaviour) -> Behaves<'_> {
    let (verdict, apart): (&'static str, Option<&Apart>) = match &behaviour.verdict {
        Verdict::Same => ("same", None),
        Verdict::Words(apart) => ("words", Some(apart)),
        Verdict::Differs(apart) => ("differs", Some(apart)),
    };
    let answers = apart.into_iter().flat_map(|apart| &apart.answers);
    Behaves {
        procedure: behaviour.procedure.as_str(),
        models: behaviour.models.iter().map(|id| id.as_str()).collect(),
        verdict,
        uncounted: behaviour.uncounted,
        answers: answers.map(|it| Given { step: it.step.as_str(), says: &it.says, answer: &it.answer }).collect(),
        old: apart.map(|apart| apart.old.as_str()),
        new: apart.map(|apart| apart.new.as_str()),
    }
}

fn matched(it: &Matched) -> Match<'_> {
    Match {
        sort: it.sort,
        procedure: it.procedure.as_ref().map(|id| id.as_str()),
        old: it.old.as_str(),
        new: it.new.as_str(),
        by: if matches!(it.by, By::Likeness(_)) { "likeness" } else { "text" },
        likeness: it.likeness,
    }
}
