//! Approving: judges a library, and if nothing speaks against it writes who approved which procedures into `approvals.yaml`.

use std::path::Path;

use crate::analyse::Verdict;
use crate::analyse::approving::{Refusal, refusal};
use crate::build::failure::Failure;
use crate::build::pipeline;
use crate::build::world::World;
use crate::model::procedure::{Procedure, Status};
use crate::rules::approval::digest::{Digests, callees_first};
use crate::rules::approval::ledger;
use crate::text::folder::Entry;
use crate::text::id::Id;
use crate::text::nearest::nearest;

/// What became of a wish to approve.
pub enum Approved {
    /// In the order in which they were approved: what is carried out before what carries it out.
    Written(Vec<Signed>),
    /// Nothing was written.
    Refused(Verdict, Vec<(Id, Refusal)>),
}

/// What was approved.
pub struct Signed {
    pub entry: ledger::Entry,
    pub status: Status,
    pub covers: String,
}

/// Approves procedures as they stand in the library, all or none.
///
/// # Errors
/// A procedure or the role does not exist, or something cannot be read or written; then `approvals.yaml` is as it was.
pub fn approve(world: &dyn World, library: &Path, ids: &[Id], by: &str) -> Result<Approved, Failure> {
    let folder = world.library(library)?;
    let verdict = pipeline::judge(&folder, world.today());
    known(&verdict, ids)?;
    let order = callees_first(&verdict.library, ids);
    let asked: Vec<&Procedure> = order.into_iter().filter(|procedure| ids.contains(&procedure.id)).collect();
    let digests = Digests::of(&verdict.library, ids);
    let refused = |procedure: &&Procedure| Some((procedure.id.clone(), refusal(&verdict, &digests, procedure, &asked, by)?));
    let refused: Vec<(Id, Refusal)> = asked.iter().filter_map(refused).collect();
    if !refused.iter().any(|(_, refusal)| matches!(refusal, Refusal::Errors(_))) {
        is_role(&verdict, by)?;
    }
    if !refused.is_empty() {
        return Ok(Approved::Refused(verdict, refused));
    }
    let path = library.join(ledger::NAME);
    let mut text = match folder.entries.get(ledger::NAME) {
        Some(Entry::File(bytes)) => String::from_utf8_lossy(bytes).into_owned(),
        Some(Entry::TooLarge(_) | Entry::Outside) | None => String::new(),
    };
    let mut all = Vec::new();
    for procedure in &asked {
        let Some(signed) = signed(&digests, procedure, by, world.today()) else { continue };
        text = ledger::sign(&text, &signed.entry).ok_or_else(|| no_place(&path, &procedure.id))?;
        all.push(signed);
    }
    world.replace(&path, text.as_bytes())?;
    Ok(Approved::Written(all))
}

fn signed(digests: &Digests<'_>, procedure: &Procedure, by: &str, on: jiff::civil::Date) -> Option<Signed> {
    let digest = digests.get(&procedure.id)?;
    let revision = procedure.revision.as_ref()?.value;
    let entry = ledger::Entry { procedure: procedure.id.clone(), revision, digest: digest.to_string(), by: by.to_owned(), on };
    Some(Signed { entry, status: procedure.status, covers: digest.covers() })
}

fn known(verdict: &Verdict, ids: &[Id]) -> Result<(), Failure> {
    let Some(id) = ids.iter().find(|id| verdict.library.procedure(id).is_none()) else { return Ok(()) };
    let hint = match nearest(id.as_str(), verdict.library.procedures.iter().map(|procedure| procedure.id.as_str())) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "a procedure goes by the name of its file without `.md`".to_owned(),
    };
    Err(Failure::Other(format!("there is no procedure `{id}`; {hint}")))
}

fn is_role(verdict: &Verdict, by: &str) -> Result<(), Failure> {
    let roles = &verdict.library.settings.roles;
    if roles.iter().any(|role| role.value == by) {
        return Ok(());
    }
    let names: Vec<String> = roles.iter().map(|role| format!("`{}`", role.value)).collect();
    Err(Failure::Other(match names.as_slice() {
        [] => "`library.yaml` lists no `roles`, so nobody can approve; list who owns and who approves".to_owned(),
        names => format!("`{by}` is not a role of the library; its `roles` are {}", names.join(", ")),
    }))
}

fn no_place(path: &Path, id: &Id) -> Failure {
    let words = format!(
        "`{}` is written in a way in which the approval of `{id}` has no sure place; write `approvals:` as a list of entries, one key a line",
        path.display()
    );
    Failure::Other(words)
}
