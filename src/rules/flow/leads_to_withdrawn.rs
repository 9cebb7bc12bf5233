//! `leads-to-withdrawn`: nobody is sent to a procedure that must no longer be followed, by a flow or by a link.

use crate::finding::{Finding, Findings, rule};
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::rules::Context;
use crate::rules::flow::leads::leads;
use crate::rules::flow::scope::short;
use crate::rules::pages::{Lead, Page, Pages, Stretch, stretches};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for procedure in &context.library.procedures {
        for lead in leads(procedure) {
            let Some(target) = context.library.procedure(lead.to).filter(|target| target.status == Status::Withdrawn) else { continue };
            let message = format!("it {} `{}`, which is withdrawn", lead.kind.words(), short(lead.to.as_str()));
            let help = match successor(context.library, target) {
                Some(successor) => format!("lead to `{}`, which replaces it", successor.id),
                None => "nothing replaces it: lead elsewhere".to_owned(),
            };
            let mut finding = Finding::new(&rule::LEADS_TO_WITHDRAWN, lead.to.at, message).procedure(&procedure.id);
            finding.step = lead.step.map(|step| step.id.clone());
            findings.push(finding.subject(lead.to.as_str()).also(target.at, "withdrawn here").help(help));
        }
    }
    links(context.library, findings);
}

/// Links in introductions, leaflets and on the stop card. One in a step's words leaves the flow whatever is at its end, and is that finding.
fn links(library: &Library, findings: &mut Findings) {
    let pages = Pages::of(library);
    // What a withdrawn procedure says is not shown.
    let shown = |stretch: &Stretch<'_>| stretch.step.is_none() && !stretch.procedure.is_some_and(Procedure::is_withdrawn);
    for stretch in stretches(library).into_iter().filter(shown) {
        for link in &stretch.section.links {
            let Lead::Page(Page::Procedure(target), _) = pages.lead(stretch.file, &link.target) else { continue };
            if !target.is_withdrawn() {
                continue;
            }
            let message = format!("a link leads to `{}`, which is withdrawn", short(target.id.as_str()));
            let help = match successor(library, target) {
                Some(successor) => format!("link to `{}`, which replaces it", successor.id),
                None => "nothing replaces it: take the link out".to_owned(),
            };
            let finding = stretch.place(Finding::new(&rule::LEADS_TO_WITHDRAWN, link.at, message));
            findings.push(finding.subject(target.id.as_str()).also(target.at, "withdrawn here").help(help));
        }
    }
}

/// What replaces a withdrawn procedure and is not withdrawn itself. Replacements that go round end nowhere.
fn successor<'a>(library: &'a Library, withdrawn: &'a Procedure) -> Option<&'a Procedure> {
    let mut here = withdrawn;
    for _ in 0..library.procedures.len() {
        here = library.procedure(here.replaced_by.as_ref()?)?;
        if here.status != Status::Withdrawn {
            return Some(here);
        }
    }
    None
}
