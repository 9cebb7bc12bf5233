//! `denial-refused`: a step that cures something says that it does not touch a part.

use crate::finding::rule::DENIAL_REFUSED;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::safety::own_words;
use crate::rules::wording::named;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in own_words::judged(context) {
        for step in procedure.steps.iter().filter(|step| !step.cures.is_empty()) {
            let known = step.not_touching.iter().filter(|denial| context.library.catalogue.part(&denial.of).is_some());
            for denial in known {
                let message = format!("a step that cures denies touching {}", named(denial.of.as_str()));
                let help = format!("write `touches: [{}]`, or leave the part out of the step's words", *denial.of);
                let finding = Finding::new(&DENIAL_REFUSED, denial.of.at, message).procedure(&procedure.id).step(&step.id);
                findings.push(finding.subject(denial.of.as_str()).help(help));
            }
        }
    }
}
