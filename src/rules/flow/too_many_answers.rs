//! `too-many-answers`: more answers than somebody can hold in mind at the machine.

use crate::finding::{Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{on_step, questions};

/// Common practice, no source.
const MOST: usize = 6;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step, question) in questions(context.library) {
        let count = question.answers.len();
        if count > MOST {
            let message = format!("the question has {count} answers, more than {MOST}");
            let help = "ask in two steps: first for the kind, then for the case";
            findings.push(on_step(&rule::TOO_MANY_ANSWERS, procedure, step, step.at, message).help(help));
        }
    }
}
