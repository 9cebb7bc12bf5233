//! `code-shared`: one panel code leads to two released procedures, so a reader of the code has to choose.

use std::collections::BTreeMap;

use crate::finding::{Finding, Findings, rule};
use crate::model::procedure::Status;
use crate::rules::Context;
use crate::rules::flow::scope::short;
use crate::text::id::Id;
use crate::text::place::Place;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    let mut first: BTreeMap<&str, (&Id, Place)> = BTreeMap::new();
    for procedure in context.library.procedures.iter().filter(|procedure| procedure.status == Status::Released) {
        for code in &procedure.codes {
            let (owner, place) = *first.entry(code.trim()).or_insert((&procedure.id, code.at));
            if *owner != procedure.id {
                let message = format!("the code `{}` also leads to another released procedure", short(code));
                let finding = Finding::new(&rule::CODE_SHARED, code.at, message).procedure(&procedure.id).subject(code.trim());
                let help = format!("list it here or in `{owner}`, not in both");
                findings.push(finding.also(place, "first here").help(help));
            }
        }
    }
}
