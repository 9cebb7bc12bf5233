//! Text to model. Never fails: what cannot be understood is a finding, and everything else is read all the same.

mod file;
pub mod lines;
mod plain;

pub mod yaml;
mod yaml_error;

mod document;
mod fields;
mod path;
mod scope;
mod value;

mod front_matter;

mod body;

mod measurement;
mod procedure;
mod step;
mod way;

mod catalogue;
mod equipment;
mod leaflet;
mod settings;

mod whole;

pub mod reader;
pub mod schema;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};

use crate::finding::rule::{DUPLICATE_KEY, DUPLICATE_PROCEDURE, KEY_MISSING};
use crate::finding::{Finding, Findings};
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::read::file::{File, Role};
use crate::read::procedure::Read;
use crate::read::scope::Scope;
use crate::read::whole::Known;
use crate::text::digest;
use crate::text::folder::{Entry, Folder};
use crate::text::id::Id;
use crate::text::place::{At, FileId, Place, Source, Sources};

pub use body::options as markdown_options;

/// Reads a whole library. All findings of the group *reading* come from here, in the order in which they are shown.
pub fn read(folder: &Folder) -> (Library, Findings) {
    read_by(folder, one_procedure)
}

fn read_by(folder: &Folder, one: impl Fn(&File, &Id, &Source) -> (Read, Findings) + Sync) -> (Library, Findings) {
    let mut findings = Findings::default();
    let mut sources = Sources::default();
    let mut pictures = BTreeSet::new();
    let mut picture_digests = BTreeMap::new();
    let mut files = Vec::new();
    for (path, entry) in &folder.entries {
        if file::role(path) == Role::Picture {
            pictures.insert(path.clone());
            if let Entry::File(bytes) = entry {
                picture_digests.insert(path.clone(), digest::of_bytes(bytes));
            }
        }
        files.extend(file::take_in(path, entry, &mut sources, &mut findings));
    }

    let mut library = Library { pictures, picture_digests, ..Library::default() };
    let mut known = Known { roles: false, without_kind: BTreeSet::new() };
    for file in &files {
        if let Some(source) = sources.get(file.id) {
            findings.extend(one_of_a_kind(file, source, &mut library, &mut known));
        }
    }
    procedures(&files, &sources, one, &mut library, &mut known, &mut findings);
    library.sources = sources;
    whole::check(&library, &known, &mut findings);
    findings.sort(&library.sources);
    (library, findings)
}

/// Reads a file that is not a procedure into its place in the library.
fn one_of_a_kind(file: &File, source: &Source, library: &mut Library, known: &mut Known) -> Findings {
    let mut scope = Scope::new(file.id, source);
    match (&file.role, file.readable) {
        (Role::Settings, true) => (library.settings, known.roles) = settings::settings(&mut scope),
        (Role::Safety, true) => library.catalogue = catalogue::catalogue(&mut scope),
        (Role::Safety, false) => {
            library.catalogue.at = Some(scope.top());
            library.catalogue.unreadable = true;
        }
        (Role::Equipment, true) => library.equipment = equipment::equipment(&mut scope),
        (Role::Equipment, false) => {
            library.equipment.at = Some(scope.top());
            library.equipment.unreadable = true;
        }
        (Role::Stages, true) => library.stages = equipment::stages(&mut scope),
        (Role::Approvals, true) => library.approvals = settings::approvals(&mut scope),
        (Role::StopCard, readable) => library.stop_card = Some(leaflet(&mut scope, &Id::new("stop"), readable)),
        (Role::Leaflet(id), readable) => {
            let page = leaflet(&mut scope, id, readable);
            // Two leaflets of one name would be one page of the site, and one of them lost.
            if let Some(first) = library.leaflets.iter().find(|other| other.id == page.id) {
                let message = format!("a second leaflet of the name {}", scope::quoted(id.as_str()));
                let finding = Finding::new(&DUPLICATE_KEY, page.at, message).subject(id.as_str()).also(first.at, "first here");
                scope.findings.push(finding.help("give one of the two another name"));
            }
            library.leaflets.push(page);
        }
        (Role::Settings | Role::Stages | Role::Approvals, false) | (Role::Procedure(_) | Role::Picture | Role::Stranger, _) => {}
    }
    scope.findings
}

fn leaflet(scope: &mut Scope<'_>, id: &Id, readable: bool) -> crate::model::library::Leaflet {
    if readable { leaflet::leaflet(scope, id.clone()) } else { leaflet::blank(scope, id.clone()) }
}

/// Reads the procedures, each for itself, and keeps the first of each id.
fn procedures(
    files: &[File],
    sources: &Sources,
    one: impl Fn(&File, &Id, &Source) -> (Read, Findings) + Sync,
    library: &mut Library,
    known: &mut Known,
    findings: &mut Findings,
) {
    let pages: Vec<(&File, &Id, &Source)> = files
        .iter()
        .filter_map(|file| match &file.role {
            Role::Procedure(id) => Some((file, id, sources.get(file.id)?)),
            _ => None,
        })
        .collect();
    if pages.is_empty() {
        let at = files.iter().find(|file| file.role == Role::Settings).map_or_else(Place::default, |file| Place::top(file.id));
        let finding = Finding::new(&KEY_MISSING, at, "the library has no procedure");
        findings.push(finding.help("write one as a Markdown file in the folder `procedures`"));
    }
    let read: Vec<(Read, Findings)> = pages.par_iter().map(|(file, id, source)| one(file, id, source)).collect();
    let mut kept: BTreeMap<Id, Arc<Procedure>> = BTreeMap::new();
    for (Read { procedure, kind_known }, found) in read {
        findings.extend(found);
        match kept.get(&procedure.id) {
            Some(first) => findings.push(twice(sources, &procedure, first.at.file)),
            None => {
                if !kind_known {
                    known.without_kind.insert(procedure.id.clone());
                }
                kept.insert(procedure.id.clone(), procedure);
            }
        }
    }
    library.procedures = kept.into_values().collect();
}

fn one_procedure(file: &File, id: &Id, source: &Source) -> (Read, Findings) {
    let mut scope = Scope::new(file.id, source);
    scope.procedure = Some(id.clone());
    scope.declared(&At::new(id.as_str().to_owned(), Place::top(file.id)));
    let read = if file.readable { procedure::procedure(&mut scope, id.clone()) } else { procedure::unknown(id.clone(), &scope) };
    (read, scope.findings)
}

fn twice(sources: &Sources, procedure: &Procedure, first: FileId) -> Finding {
    let message = format!("a second file of the procedure {}", scope::quoted(procedure.id.as_str()));
    Finding::new(&DUPLICATE_PROCEDURE, procedure.at, message)
        .procedure(&procedure.id)
        .subject(procedure.id.as_str())
        .help(format!("give one of the two another name; the other is `{}`", sources.path(first)))
        .also(Place::top(first), "first here")
}
