//! `denial-idle`: a part is denied that the words do not name.

use crate::finding::rule::DENIAL_IDLE;
use crate::finding::{Finding, Findings};
use crate::model::library::Library;
use crate::model::procedure::{Denial, Procedure};
use crate::model::step::Step;
use crate::rules::Context;
use crate::rules::safety::own_words;
use crate::rules::wording::named;
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::words::Phrases;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let parts = own_words::of_parts(context.library);
    for procedure in own_words::judged(context) {
        let introduction = procedure.body.introduction.blocks.iter().collect();
        judge(context.library, &parts, procedure, None, introduction, findings);
        for step in &procedure.steps {
            judge(context.library, &parts, procedure, Some(step), own_words::of_step(procedure, step), findings);
        }
    }
}

fn judge(
    library: &Library,
    parts: &Phrases<&Id>,
    procedure: &Procedure,
    step: Option<&Step>,
    texts: Vec<&At<String>>,
    findings: &mut Findings,
) {
    let denials = step.map_or(&procedure.not_touching, |step| &step.not_touching);
    if denials.is_empty() {
        return;
    }
    let named_parts = own_words::find(parts, texts);
    let idle = denials.iter().filter(|denial| can_be_named(library, &denial.of) && !named_parts.contains_key(&denial.of.value));
    for denial in idle {
        findings.push(finding(procedure, step, denial));
    }
}

/// An unknown part, and one with hazards and no words, is a finding already.
fn can_be_named(library: &Library, part: &Id) -> bool {
    library.catalogue.part(part).is_some_and(|part| !part.words.is_empty() || part.hazards.is_empty())
}

fn finding(procedure: &Procedure, step: Option<&Step>, denial: &Denial) -> Finding {
    let message = format!("{} is denied, and the words do not name it", named(denial.of.as_str()));
    let finding = Finding::new(&DENIAL_IDLE, denial.of.at, message).procedure(&procedure.id);
    let finding = finding.subject(denial.of.as_str()).help("take it out of `not-touching`");
    match step {
        Some(step) => finding.step(&step.id),
        None => finding,
    }
}
