//! A procedure: its front matter, its steps, its words. What only serves finding and sorting (symptoms, codes, weights, who owns it and how far it
//! has come) is no part of what was reviewed.

use super::{id, ids, number, some, step, texts, words};
use crate::model::procedure::{Denial, Fault, Kind, Procedure, Waiver};
use crate::rules::approval::markdown;
use crate::text::digest::Value;

/// The front matter but for waivers and steps.
pub fn card(procedure: &Procedure) -> Value {
    let Procedure {
        id: name,
        at: _,
        title,
        summary,
        symptoms: _,
        codes: _,
        stages,
        tools,
        supplies,
        kind,
        equipment,
        person,
        status: _,
        revision,
        owner: _,
        review_by,
        replaced_by,
        withdrawn_because,
        requires,
        outcomes: _,
        not_touching,
        faults,
        waivers: _,
        start: _,
        steps: _,
        body: _,
    } = procedure;
    let (kind, outcomes) = match kind {
        Kind::FaultFinding => ("fault-finding", Value::Nothing),
        Kind::Task => ("task", Value::list(procedure.outcome_names().iter().map(|name| Value::text(name.as_str())))),
    };
    Value::map([
        ("id", Value::text(name.as_str())),
        ("title", words(title.as_ref())),
        ("summary", words(summary.as_ref())),
        ("stages", ids(stages)),
        ("tools", texts(tools)),
        ("supplies", texts(supplies)),
        ("kind", Value::text(kind)),
        // None and all by name may come to the same models today and not tomorrow.
        ("equipment", equipment.as_deref().map(ids).unwrap_or_default()),
        ("for", Value::text(person.as_str())),
        ("revision", number(revision.as_ref())),
        ("review-by", review_by.as_ref().map(|day| Value::text(day.value.to_string())).unwrap_or_default()),
        ("replaced-by", id(replaced_by.as_ref())),
        ("withdrawn-because", words(withdrawn_because.as_ref())),
        ("requires", ids(requires)),
        ("outcomes", outcomes),
        ("not-touching", denials(not_touching)),
        ("faults", Value::map(faults.iter().map(fault))),
    ])
}

fn fault(fault: &Fault) -> (String, Value) {
    let Fault { id: name_of, at: _, name, weight: _, comes_to } = fault;
    (name_of.to_string(), Value::list([words(name.as_ref()), id(comes_to.as_ref())]))
}

/// What is denied, and why.
pub fn denials(denials: &[Denial]) -> Value {
    if denials.is_empty() {
        return Value::Nothing;
    }
    Value::map(denials.iter().map(|Denial { of, reason }| (of.to_string(), Value::words(reason))))
}

pub fn waivers(procedure: &Procedure) -> Value {
    some(procedure.waivers.iter().map(|waiver| {
        let Waiver { at: _, step, hazard, of, reason, by, until } = waiver;
        Value::map([
            ("step", id(step.as_ref())),
            ("hazard", id(hazard.as_ref())),
            ("of", of.as_ref().map(|of| Value::text(of.as_str())).unwrap_or_default()),
            ("reason", words(reason.as_ref())),
            ("by", words(by.as_ref())),
            ("until", until.as_ref().map(|day| Value::text(day.value.to_string())).unwrap_or_default()),
        ])
    }))
}

/// The steps by id, and which of them is the first. Their order in the file is that of keys and says no more than that.
pub fn steps(procedure: &Procedure) -> Value {
    let start = procedure.start_step().map(|step| Value::text(step.id.as_str())).unwrap_or_default();
    let steps = procedure.steps.iter().map(|step| (step.id.as_str(), step::step(step)));
    Value::list([start, Value::map(steps)])
}

/// The words below the front matter.
pub fn body(procedure: &Procedure) -> Value {
    markdown::seen(&procedure.body.markdown)
}
