//! `approve`: records the digest of what was reviewed.

use clap::Args;

use crate::analyse::Verdict;
use crate::analyse::approving::{Refusal, errors};
use crate::build::approve::{self, Approved, Signed};
use crate::build::failure::Failure;
use crate::cli::options::Options;
use crate::cli::output::Output;
use crate::cli::{Outcome, library, verify};
use crate::emit::{Report, counted};
use crate::finding::Finding;
use crate::model::procedure::{Procedure, Status};
use crate::rules::approval::{by_owner, ledger};
use crate::text::id::Id;

/// Record that procedures were reviewed: their digests go into `approvals.yaml`, all of them or none
#[derive(Args)]
pub struct Arguments {
    /// The procedures, in any order; what is carried out is approved before what carries it out
    #[arg(value_name = "PROCEDURE", required = true)]
    procedures: Vec<String>,
    /// Who reviewed them: one of the `roles` in `library.yaml`, not the owner
    #[arg(long, value_name = "ROLE", required = true)]
    by: String,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder = library::find(&disk, None, options)?;
    let ids: Vec<Id> = asked.procedures.iter().map(Id::new).collect();
    match approve::approve(&disk, &folder, &ids, asked.by.trim())? {
        Approved::Written(all) => {
            all.iter().for_each(|signed| tell(signed, output));
            output.note(&format!("wrote `{}`", folder.join(ledger::NAME).display()));
            Ok(Outcome::Done)
        }
        Approved::Refused(verdict, refused) => {
            report(&verdict, &ids, options, output)?;
            for (id, refusal) in &refused {
                output.note(&format!("`{id}` is not approved: {}", because(refusal, asked.by.trim())));
            }
            output.note("nothing was written");
            Ok(Outcome::Errors)
        }
    }
}

fn tell(signed: &Signed, output: &Output) {
    let entry = &signed.entry;
    let short: String = entry.digest.chars().take(12).collect();
    output.note(&format!("approved `{}`, revision {}, by {} on {}: digest {short}", entry.procedure, entry.revision, entry.by, entry.on));
    output.note(&format!("  it covers {}", signed.covers));
    if signed.status != Status::Released {
        output.note(&format!("  it is `{}`; `status: released` publishes it, and the approval holds for that too", signed.status.as_str()));
    }
}

/// Prints the errors that stand in the way, as `verify` would.
fn report(verdict: &Verdict, ids: &[Id], options: &Options, output: &Output) -> Result<(), Failure> {
    let asked: Vec<&Procedure> = ids.iter().filter_map(|id| verdict.library.procedure(id)).collect();
    let in_the_way: Vec<&Finding> = ids.iter().flat_map(|id| errors(verdict, id, &asked)).collect();
    let findings = verdict.findings.iter().filter(|finding| in_the_way.iter().any(|other| std::ptr::eq(*other, *finding)));
    let not_analysed = verdict.not_analysed.iter().filter(|id| ids.contains(id));
    let report =
        Report { library: &verdict.library, findings: findings.collect(), not_analysed: not_analysed.collect(), procedures: asked.len() };
    verify::print(&report, options.format, output)
}

fn because(refusal: &Refusal, by: &str) -> String {
    match refusal {
        Refusal::Errors(number) => format!("{} must be mended first", counted(*number, "error")),
        Refusal::NotAnalysed => "what it carries out is broken, so its ways were not judged".to_owned(),
        Refusal::Withdrawn => "it is withdrawn".to_owned(),
        Refusal::Lacks(keys) => {
            format!("it has no `{}`; whoever approves it says when it is reviewed again and in which revision", keys.join("`, no `"))
        }
        Refusal::ByOwner => by_owner(by),
        Refusal::Callee(callee) => format!("it carries out `{callee}`, which is not approved as it is; approve that first, or name both"),
    }
}
