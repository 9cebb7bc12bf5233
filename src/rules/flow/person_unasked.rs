//! `person-unasked`: a question that makes everybody qualified, whatever they answer.

use crate::finding::{Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{on_step, questions};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step, question) in questions(context.library) {
        if !question.answers.is_empty() && question.answers.iter().all(|answer| answer.person.is_some()) {
            let message = "every answer sets `person`, so nobody is asked";
            let help = "set `person` only on the answer that says so, and give an answer for everybody else";
            findings.push(on_step(&rule::PERSON_UNASKED, procedure, step, step.at, message).help(help));
        }
    }
}
