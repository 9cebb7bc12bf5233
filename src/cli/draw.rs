//! `draw`: the flowchart of a procedure alone, on standard output. It draws what stands in the files, proved or not, and says which.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::analyse::Verdict;
use crate::build::failure::Failure;
use crate::build::pipeline;
use crate::cli::options::Options;
use crate::cli::output::Output;
use crate::cli::{Outcome, library};
use crate::emit::counted;
use crate::finding::Severity;
use crate::model::procedure::{Procedure, Status};
use crate::render::chart_dot;
use crate::render::chart_svg::alone;
use crate::render::chart_svg::lens::{self, Lens};
use crate::text::id::Id;
use crate::text::nearest::nearest;

/// Draw the flowchart of a procedure alone, as SVG or as a graph in DOT
#[derive(Args)]
pub struct Arguments {
    /// The procedure's id
    #[arg(value_name = "PROCEDURE")]
    procedure: String,
    /// An SVG that opens anywhere by itself, or a graph for graph tools
    #[arg(long = "as", value_enum, default_value_t = Form::Svg, value_name = "FORM")]
    form: Form,
    /// Draw only the ways that this machine model can take
    #[arg(long, value_name = "MODEL")]
    model: Option<String>,
    /// Draw only this hazard's signs, and the steps without them pale
    #[arg(long, value_name = "HAZARD", conflicts_with = "model")]
    hazard: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Form {
    Svg,
    Dot,
}

pub fn run(asked: &Arguments, options: &Options, output: &Output) -> Result<Outcome, Failure> {
    let disk = options.disk()?;
    let folder: Option<&PathBuf> = None;
    let verdict = pipeline::verify(&disk, &library::find(&disk, folder, options)?)?;
    let library = &verdict.library;
    let all = library.procedures.iter().map(|procedure| procedure.id.as_str());
    let procedure = library.procedures.iter().find(|one| one.id == asked.procedure.as_str());
    let procedure = procedure.ok_or_else(|| unknown("procedure", &asked.procedure, all))?;
    let lens = lens(asked, &verdict, procedure)?;
    let warning = not_for_use(&verdict, procedure);
    let draw = match asked.form {
        Form::Svg => alone::svg,
        Form::Dot => chart_dot::dot,
    };
    output.print(&draw(library, procedure, lens.as_ref(), warning.as_deref()))?;
    if let Some(warning) = &warning {
        output.note(warning);
    }
    Ok(Outcome::Done)
}

/// What is left out, if anything.
fn lens(asked: &Arguments, verdict: &Verdict, procedure: &Procedure) -> Result<Option<Lens>, Failure> {
    let library = &verdict.library;
    if let Some(name) = &asked.model {
        let models = library.models_of(procedure);
        let id = models.iter().find(|id| id.as_str() == name);
        let id = id.ok_or_else(|| unknown("model of this procedure", name, models.iter().map(|id| id.as_str())))?;
        return Ok(Some(lens::model(library, procedure, id)));
    }
    let Some(name) = &asked.hazard else { return Ok(None) };
    let hazards = || library.catalogue.hazards.iter().map(|hazard| &hazard.id);
    let id: &Id = hazards().find(|id| id.as_str() == name).ok_or_else(|| unknown("hazard", name, hazards().map(Id::as_str)))?;
    Ok(Some(lens::hazard(library, procedure, id)))
}

fn unknown<'a>(what: &str, name: &str, known: impl Iterator<Item = &'a str>) -> Failure {
    let known: Vec<&str> = known.collect();
    let hint = match nearest(name, known.iter().copied()) {
        Some(near) => format!("; did you mean `{near}`?"),
        None if known.is_empty() => "; there is none at all".to_owned(),
        None => format!("; there are {}", known.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ")),
    };
    Failure::Other(format!("there is no {what} `{name}`{hint}"))
}

/// Why nobody may work by this procedure: its state, or what stands against it or against what it carries out.
fn not_for_use(verdict: &Verdict, procedure: &Procedure) -> Option<String> {
    let status = match procedure.status {
        Status::Released => None,
        Status::Draft | Status::InReview => Some("it is not released".to_owned()),
        Status::Withdrawn => Some("it is withdrawn".to_owned()),
    };
    let errors = verdict.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
    let errors = (errors > 0).then(|| format!("the library has {}", counted(errors, "error")));
    let reasons: Vec<String> = status.into_iter().chain(errors).collect();
    (!reasons.is_empty()).then(|| format!("Not for use: {}", reasons.join(", and ")))
}
