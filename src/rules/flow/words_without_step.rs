//! `words-without-step`: a section whose id is no step would never be shown at its step.

use crate::finding::{Finding, Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{hint, judged, short, unreadable};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in judged(context.library).filter(|procedure| !unreadable(context, procedure)) {
        for id in procedure.body.sections.iter().filter_map(|section| section.id.as_ref()) {
            if procedure.step(id).is_some() {
                continue;
            }
            let message = format!("the section `{}` belongs to no step", short(id.as_str()));
            let known = procedure.steps.iter().map(|step| &step.id);
            let advice = "give the section the id of its step, or leave the id out";
            let finding = Finding::new(&rule::WORDS_WITHOUT_STEP, id.at, message).procedure(&procedure.id).subject(id.as_str());
            findings.push(finding.help(hint(id, known, advice)));
        }
    }
}
