//! `review-overdue`: the day by which a released procedure was to be reviewed has passed.

use crate::finding::rule::REVIEW_OVERDUE;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::approval::judged;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in judged(context) {
        if let Some(day) = procedure.review_by.as_ref().filter(|day| day.value < context.today) {
            let message = format!("the review was due by {}, and today is {}", day.value, context.today);
            let help = "review the procedure, give it a new `review-by` and revision, and have it approved again";
            findings.push(Finding::new(&REVIEW_OVERDUE, day.at, message).procedure(&procedure.id).help(help));
        }
    }
}
