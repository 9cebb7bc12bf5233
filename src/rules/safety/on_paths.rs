//! The safety rules that are proved on every path: `caution-missing`, `caution-out-of-date`, `hazard-uncontrolled`, `condition-not-met`,
//! `wait-too-short`, `not-tried-out`, `left-behind`, `fixed-unchecked`, `beyond-competence`.

use crate::finding::{Findings, Rule, rule};
use crate::flow::carry::Fault;
use crate::flow::proof::{Proof, SeenFault};
use crate::model::catalogue::{Catalogue, Takes};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::rules::paths::at_step;
use crate::text::quantity::duration_text;

pub fn report(library: &Library, procedure: &Procedure, proof: &Proof, findings: &mut Findings) {
    for seen in &proof.faults {
        let said = said(&library.catalogue, procedure, seen);
        let finding = at_step(said.rule, procedure, &seen.seen, said.message, said.help);
        findings.push_some(finding.map(|finding| match said.subject {
            Some(subject) => finding.subject(subject),
            None => finding,
        }));
    }
}

struct Said {
    rule: &'static Rule,
    subject: Option<String>,
    message: String,
    help: String,
}

fn said(catalogue: &Catalogue, procedure: &Procedure, seen: &SeenFault) -> Said {
    let hazard = |number: usize| catalogue.hazards.get(number).map_or("", |hazard| hazard.id.as_str());
    let condition = |number: usize| catalogue.conditions.get(number).map_or("", |condition| condition.id.as_str());
    let named = |rule, subject: &str, message: String, help: String| Said { rule, subject: Some(subject.to_owned()), message, help };
    match seen.fault {
        Fault::CautionMissing(number) => {
            let id = hazard(number);
            let message = format!("`{id}` is met here and its caution is not shown on every way");
            named(&rule::CAUTION_MISSING, id, message, format!("show it at this step (`cautions: [{id}]`) or on every way that leads here"))
        }
        Fault::CautionOutOfDate(number) => {
            let id = hazard(number);
            let within = catalogue.caution_within;
            let span = format!("{} steps or {}", within.steps, duration_text(within.seconds));
            let message = format!("the caution for `{id}` was last shown more than {span} ago");
            named(&rule::CAUTION_OUT_OF_DATE, id, message, format!("show it again at this step (`cautions: [{id}]`) or shortly before it"))
        }
        Fault::Uncontrolled(number) => {
            let id = hazard(number);
            let missing: Vec<String> = seen.missing.iter().map(|number| format!("`{}`", condition(*number))).collect();
            let message = format!("`{id}` is met here without {} holding", missing.join(" and "));
            named(&rule::HAZARD_UNCONTROLLED, id, message, "let every way that leads here bring that about and keep it".to_owned())
        }
        Fault::NotMet(number) => {
            let id = condition(number);
            let message = format!("`{id}` is needed here and does not hold on every way here");
            named(&rule::CONDITION_NOT_MET, id, message, format!("let every way that leads here set `{id}` and keep it"))
        }
        Fault::TooShort(number) => {
            let id = condition(number);
            let message = format!("`{id}` is set here, and nothing shows that its time has passed");
            named(&rule::WAIT_TOO_SHORT, id, message, too_short_help(catalogue, number))
        }
        Fault::NotTriedOut(number) => {
            let id = condition(number);
            let message = format!("`{id}` is set by an action, and somebody must have tried it");
            named(&rule::NOT_TRIED_OUT, id, message, "ask whether it was tried, and set it on the answer that says so".to_owned())
        }
        Fault::LeftBehind(number) => {
            let id = condition(number);
            let message = format!("`{id}` may still hold when the flow ends here");
            named(&rule::LEFT_BEHIND, id, message, format!("clear `{id}` on every way that leads here"))
        }
        Fault::FixedUnchecked => fixed_unchecked(procedure, seen),
        Fault::BeyondHazard(number) => {
            let id = hazard(number);
            let least = catalogue.hazards.get(number).and_then(|hazard| hazard.least.as_ref()).map_or("", |least| least.as_str());
            let message = format!("`{id}` is for {least} persons, and not every way here has one");
            named(&rule::BEYOND_COMPETENCE, id, message, person_help(least))
        }
        Fault::BeyondPerson(person) => {
            let message = format!("this asks for a person who is {}, and not every way here has one", person.as_str());
            named(&rule::BEYOND_COMPETENCE, person.as_str(), message, person_help(person.as_str()))
        }
    }
}

fn person_help(person: &str) -> String {
    format!("ask before it who is at the machine, with `person: {person}` on the answer, or end in a hand-over")
}

fn too_short_help(catalogue: &Catalogue, number: usize) -> String {
    let Some(condition) = catalogue.conditions.get(number) else { return String::new() };
    let takes = match condition.takes.as_ref().map(|takes| &takes.value) {
        Some(Takes::Seconds(seconds)) => duration_text(*seconds),
        Some(Takes::Figure(figure)) => format!("the figure `{figure}`"),
        None => "its time".to_owned(),
    };
    let by_reading = if condition.shown_by.is_some() { ", or measure: a band wholly inside its `shown-by` may set it" } else { "" };
    format!("use `wait-for: {}` or a `wait` of {takes}{by_reading}", condition.id)
}

fn fixed_unchecked(procedure: &Procedure, seen: &SeenFault) -> Said {
    let outcome = procedure.steps.get(seen.seen.node).and_then(|step| step.outcome()).map_or("", |outcome| outcome.as_str());
    let message = if outcome == "no-fault" {
        "the flow ends with `no-fault` after a cure that nobody checked"
    } else {
        "the flow ends with `fixed`, and on some way here nobody checked the cure"
    };
    let help = "lead through a question one of whose answers has `when: [fixed]`";
    Said { rule: &rule::FIXED_UNCHECKED, subject: None, message: message.to_owned(), help: help.to_owned() }
}
