//! `too-few-answers`: a question with one answer decides nothing.

use crate::finding::{Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{Amiss, on_step, questions};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut found = Findings::default();
    let amiss = Amiss::of(findings);
    for (procedure, step, question) in questions(context.library) {
        let message = match question.answers.len() {
            0 => "the question has no answer",
            1 => "the question has one answer only",
            _ => continue,
        };
        // Answers that the reader refused are not missing.
        if !amiss.in_step(procedure, step) {
            let help = "give at least two answers besides `unsure`, or make it an action";
            found.push(on_step(&rule::TOO_FEW_ANSWERS, procedure, step, step.at, message).help(help));
        }
    }
    findings.extend(found);
}
