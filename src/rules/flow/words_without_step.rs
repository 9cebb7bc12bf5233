//! `words-without-step`: a section whose id is no step would never be shown at its step.

use crate::finding::{Finding, Findings, rule};
use crate::rules::Context;
use crate::rules::flow::scope::{Hints, judged, short, step_ids, unreadable};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut hints = Hints::new();
    for procedure in judged(context.library).filter(|procedure| !unreadable(context, procedure)) {
        let steps = step_ids(procedure);
        for id in procedure.body.sections.iter().filter_map(|section| section.id.as_ref()) {
            if steps.contains(&id.value) {
                continue;
            }
            let message = format!("the section `{}` belongs to no step", short(id.as_str()));
            let advice = "give the section the id of its step, or leave the id out";
            let finding = Finding::new(&rule::WORDS_WITHOUT_STEP, id.at, message).procedure(&procedure.id).subject(id.as_str());
            findings.push(finding.help(hints.hint(id, steps.iter().copied(), advice)));
        }
    }
}
