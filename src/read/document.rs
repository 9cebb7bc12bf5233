//! One YAML document of a file: its problems and its doubled keys reported, its outermost mapping handed on.

use std::ops::Range;

use crate::finding::Finding;
use crate::finding::rule::{DUPLICATE_KEY, FRONT_MATTER_INVALID};
use crate::read::scope::{Scope, quoted};
use crate::read::value::kind_of;
use crate::read::yaml::{self, Duplicate, Mapping, Node, Value};
use crate::text::id::Id;
use crate::text::place::Place;

/// The document as a mapping; an empty document is an empty mapping. `None` if it cannot be understood, which is then a finding.
pub fn mapping(scope: &mut Scope<'_>, range: Range<usize>, what: &str) -> Option<Node> {
    let document = yaml::parse(scope.text, range, scope.file);
    let broken = !document.problems.is_empty();
    for problem in document.problems {
        scope.say(problem.rule, problem.at, problem.message, problem.help);
    }
    if broken {
        return None;
    }
    for duplicate in &document.duplicates {
        report_duplicate(scope, duplicate);
    }
    let empty = |at: Place| Node { at, value: Value::Map(Mapping::default()) };
    let Some(root) = document.root else {
        return Some(empty(scope.top()));
    };
    match &root.value {
        Value::Map(_) => Some(root),
        Value::Scalar(scalar) if scalar.plain && scalar.text.is_empty() => Some(empty(scope.top())),
        Value::Scalar(_) | Value::List(_) => {
            let message = format!("{what} is {} instead of a mapping", kind_of(&root));
            scope.say(&FRONT_MATTER_INVALID, root.at, message, "write `key: value` entries");
            None
        }
    }
}

/// The mappings whose keys are ids; the key is then the subject.
const ID_MAPS: [&str; 10] =
    ["readings", "figures", "repeats", "outcomes", "by-model", "when", "parts", "not-touching", "not-changing", "rules"];
const TOP_ID_MAPS: [&str; 7] = ["steps", "faults", "conditions", "hazards", "parts", "models", "rules"];

fn report_duplicate(scope: &mut Scope<'_>, duplicate: &Duplicate) {
    let path: Vec<&str> = duplicate.path.iter().map(String::as_str).collect();
    let message = format!("the key {} is there twice", quoted(&duplicate.key));
    let mut finding = Finding::new(&DUPLICATE_KEY, duplicate.second, message)
        .help(format!("keep one of them; the first is on line {}", duplicate.first.line))
        .also(duplicate.first, "first here");
    let ids = match path.as_slice() {
        [] => false,
        [only] => TOP_ID_MAPS.contains(only) || *only == "not-touching",
        [.., last] => ID_MAPS.contains(last),
    };
    if ids {
        finding = finding.subject(duplicate.key.as_str());
    }
    match path.as_slice() {
        ["steps"] => finding = finding.step(&Id::new(&duplicate.key)),
        ["steps", step, ..] => finding = finding.step(&Id::new(*step)),
        _ => {}
    }
    let inside_procedure = scope.procedure.is_some();
    if !inside_procedure {
        finding.step = None;
    }
    scope.report(finding);
}
