//! `hazard-undeclared`: words name a part with hazards, or a hazard, that the step does not declare.

use crate::finding::rule::HAZARD_UNDECLARED;
use crate::finding::{Finding, Findings};
use crate::model::catalogue::Catalogue;
use crate::model::library::Library;
use crate::model::procedure::{Denial, Procedure};
use crate::model::step::{Step, StepKind};
use crate::rules::safety::exposure::is_unsure;
use crate::rules::safety::own_words::{self, Naming};
use crate::rules::wording::named;
use crate::text::id::Id;
use crate::text::words::Phrases;

/// What words can give away.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger<'a> {
    Part(&'a Id),
    Hazard(&'a Id),
}

pub fn of_procedure(library: &Library, dangers: &Phrases<Danger<'_>>, procedure: &Procedure, findings: &mut Findings) {
    for (danger, naming) in own_words::find(dangers, &procedure.body.introduction.blocks) {
        let denied = matches!(danger, Danger::Part(part) if is_denied(&library.catalogue, &procedure.not_touching, part));
        if !denied {
            findings.push(in_introduction(procedure, danger, naming));
        }
    }
    for step in &procedure.steps {
        let texts = own_words::of_step(procedure, step);
        for (danger, naming) in own_words::find(dangers, texts) {
            if !is_declared(&library.catalogue, step, danger) {
                findings.push(at_step(procedure, step, danger, naming));
            }
        }
    }
}

/// The words that name something dangerous.
pub fn dangers(library: &Library) -> Phrases<Danger<'_>> {
    let mut dangers = own_words::phrases(library);
    for part in library.catalogue.parts.iter().filter(|part| !part.hazards.is_empty()) {
        part.words.iter().for_each(|words| dangers.add(words, Danger::Part(&part.id)));
    }
    for hazard in &library.catalogue.hazards {
        hazard.words.iter().for_each(|words| dangers.add(words, Danger::Hazard(&hazard.id)));
    }
    dangers
}

/// Denied, or perhaps meant by a denial of a part that is unknown (a finding already).
fn is_denied(catalogue: &Catalogue, denials: &[Denial], part: &Id) -> bool {
    denials.iter().any(|denial| denial.of.value == *part || catalogue.part(&denial.of).is_none())
}

/// Declared, or undeclared only because a name the step does declare is unknown.
fn is_declared(catalogue: &Catalogue, step: &Step, danger: Danger<'_>) -> bool {
    match danger {
        Danger::Part(part) => {
            step.touches.iter().any(|touched| touched.value == *part || catalogue.part(touched).is_none())
                || is_denied(catalogue, &step.not_touching, part)
        }
        Danger::Hazard(hazard) => catalogue.exposed(step).iter().any(|exposed| exposed.id == *hazard) || is_unsure(catalogue, step),
    }
}

fn at_step(procedure: &Procedure, step: &Step, danger: Danger<'_>, naming: Naming<'_>) -> Finding {
    let (message, help) = match danger {
        Danger::Part(part) => {
            (format!("the words name {}, which is neither touched nor denied", named(part.as_str())), help_for_part(step, part))
        }
        Danger::Hazard(hazard) => {
            (format!("the words give away {}, which the step does not expose to", named(hazard.as_str())), help_for_hazard(step, hazard))
        }
    };
    let finding = Finding::new(&HAZARD_UNDECLARED, step.at, message).procedure(&procedure.id).step(&step.id);
    finding.subject(danger.id().as_str()).help(help).also(naming.at, format!("named here by `{}`", naming.phrase))
}

fn help_for_part(step: &Step, part: &Id) -> String {
    let denial = format!("`not-touching: {{ {part}: REASON }}` if the words only name it");
    match step.kind {
        StepKind::CarryOut(_) | StepKind::ByModel(_) => format!("leave it to a step that touches it, or write {denial}"),
        _ if step.cures.is_empty() => format!("write `touches: [{part}]` and show the cautions of its hazards, or {denial}"),
        _ => format!("write `touches: [{part}]` and show the cautions of its hazards, or leave the part out of the words"),
    }
}

fn help_for_hazard(step: &Step, hazard: &Id) -> String {
    match step.kind {
        StepKind::CarryOut(_) | StepKind::ByModel(_) => "leave these words to a step that exposes to it".to_owned(),
        _ => format!("write `exposes: [{hazard}]` and show its caution, or leave these words out"),
    }
}

fn in_introduction(procedure: &Procedure, danger: Danger<'_>, naming: Naming<'_>) -> Finding {
    let (message, help) = match danger {
        Danger::Part(part) => (
            format!("the introduction names {}, which has hazards", named(part.as_str())),
            format!("leave it to a step that touches it, or write `not-touching: {{ {part}: REASON }}` in the front matter"),
        ),
        Danger::Hazard(hazard) => (
            format!("the introduction gives away {}, before any caution", named(hazard.as_str())),
            "leave these words to a step that exposes to it".to_owned(),
        ),
    };
    let finding = Finding::new(&HAZARD_UNDECLARED, procedure.at, message).procedure(&procedure.id);
    finding.subject(danger.id().as_str()).help(help).also(naming.at, format!("named here by `{}`", naming.phrase))
}

impl<'a> Danger<'a> {
    fn id(self) -> &'a Id {
        match self {
            Danger::Part(id) | Danger::Hazard(id) => id,
        }
    }
}
