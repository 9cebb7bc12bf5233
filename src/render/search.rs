//! What can be found from every page: the released procedures by what is seen, said and coded; the stop card's cases, stages and leaflets behind them.
//!
//! A script, since pages opened from a folder can fetch nothing else (browsers forbid it for `file:`). Procedures that are withdrawn, or not yet
//! released, are no part of it.

mod index;

use serde_json::{Value as Json, json};

use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure, Status};
use crate::model::step::{Step, StepKind};
use crate::render::leaflet;
use crate::text::id::Id;
use crate::text::words::Sameness;
use crate::theme::words::Words;

use self::index::Field;

/// One thing that can be found.
struct Document {
    kind: &'static str,
    href: String,
    title: String,
    /// A sentence about it, shown where no symptom matched.
    about: String,
    symptoms: Vec<String>,
    /// As written.
    codes: Vec<String>,
    fields: Vec<Field>,
}

/// How much a word counts by where it stands. What callers say is in symptoms and titles; questions and actions name nearly everything.
const SYMPTOM: f64 = 8.0;
const TITLE: f64 = 8.0;
const SUMMARY: f64 = 4.0;
const FAULT: f64 = 3.0;
const PART: f64 = 2.0;
const STEP: f64 = 1.0;

/// The script that hands the index to whichever page asks for it.
pub fn script(library: &Library, words: &Words) -> String {
    let detail = detail(library, words);
    format!("document.dispatchEvent(new CustomEvent(\"stepward:index\", {{ detail: {detail} }}));\n")
}

fn detail(library: &Library, words: &Words) -> Json {
    let documents = documents(library, words);
    let sameness = Sameness::of_language(library.settings.language());
    let fields: Vec<&[Field]> = documents.iter().map(|document| document.fields.as_slice()).collect();
    let terms = index::terms(&fields, sameness);
    let codes: Vec<Json> = (0..)
        .zip(&documents)
        .flat_map(|(number, document): (usize, _)| document.codes.iter().map(move |code| json!([index::code(code), code, number])))
        .collect();
    let shown: Vec<Json> = documents.iter().map(|one| json!([one.kind, one.href, one.title, one.about, one.symptoms])).collect();
    json!({
        "words": words.groups().get("search"),
        "documents": shown,
        "codes": codes,
        "forms": terms.forms,
        "slots": terms.slots,
        "posts": terms.posts,
    })
}

/// Everything that can be found, in the order of paths in the site: procedures first.
fn documents(library: &Library, words: &Words) -> Vec<Document> {
    // A task that demands something of the machine is begun by other procedures alone, as on the start page.
    let begins = |procedure: &&Procedure| procedure.kind == Kind::FaultFinding || procedure.requires.is_empty();
    let released = library.procedures.iter().filter(|procedure| procedure.status == Status::Released).filter(begins);
    let mut all: Vec<Document> = released.map(|procedure| of_procedure(library, procedure)).collect();
    all.extend(stop_cases(library, words));
    all.extend(stages(library));
    all.extend(library.leaflets.iter().map(|one| page("page", format!("leaflets/{}.html", one.id), leaflet::title(one), "")));
    all.push(page("page", "find.html".to_owned(), words.say("find", "title"), words.say("find", "lead")));
    all.push(page("page", "changes.html".to_owned(), words.say("changes", "title"), words.say("changes", "lead")));
    all.push(page("page", "bench-sums.html".to_owned(), words.say("sums", "title"), words.say("sums", "lead")));
    all
}

fn page(kind: &'static str, href: String, title: &str, about: &str) -> Document {
    let fields = vec![Field::new(TITLE, title), Field::new(STEP, about)];
    Document { kind, href, title: title.to_owned(), about: about.to_owned(), symptoms: Vec::new(), codes: Vec::new(), fields }
}

/// Each case of the stop card by its heading, where the page has it.
fn stop_cases(library: &Library, words: &Words) -> Vec<Document> {
    let headings = library.stop_card.iter().flat_map(|card| std::iter::once(&card.body.introduction).chain(&card.body.sections));
    let cases = headings.flat_map(|section| &section.headings).filter(|heading| heading.level == 2);
    let stop = words.say("page", "stop");
    (1..).zip(cases).map(|(n, case): (usize, _)| page("stop", format!("stop.html#case-{n}"), &case.text, stop)).collect()
}

fn stages(library: &Library) -> Vec<Document> {
    let one = |stage: &crate::model::equipment::Stage| {
        let name = stage.name.as_ref().map_or(stage.id.as_str(), |name| name.value.as_str());
        let does = stage.does.as_ref().map_or("", |does| does.value.as_str());
        let mut document = page("page", format!("stages.html#stage-{}", stage.id), name, does);
        document.fields.extend(stage.faults.iter().map(|fault| Field::new(STEP, fault)));
        document
    };
    library.stages.iter().map(one).collect()
}

fn of_procedure(library: &Library, procedure: &Procedure) -> Document {
    let symptoms: Vec<String> = procedure.symptoms.iter().map(|symptom| symptom.value.clone()).collect();
    let about = procedure.summary.as_ref().map_or("", |summary| summary.value.as_str());
    let mut fields = vec![Field::new(TITLE, procedure.title()), Field::new(SUMMARY, about)];
    fields.extend(symptoms.iter().map(|symptom| Field::new(SYMPTOM, symptom)));
    fields.extend(procedure.faults.iter().filter_map(|fault| fault.name.as_ref()).map(|name| Field::new(FAULT, name)));
    fields.extend(procedure.supplies.iter().chain(&procedure.tools).map(|thing| Field::new(STEP, thing)));
    fields.extend(stage_names(library, procedure).map(|name| Field::new(PART, name)));
    fields.extend(part_names(library, procedure).into_iter().map(|name| Field::new(PART, name)));
    fields.extend(procedure.steps.iter().flat_map(step_words).map(|text| Field::new(STEP, text)));
    Document {
        kind: match procedure.kind {
            Kind::FaultFinding => "fault",
            Kind::Task => "task",
        },
        href: format!("procedures/{}.html", procedure.id),
        title: procedure.title().to_owned(),
        about: about.to_owned(),
        symptoms,
        codes: procedure.codes.iter().map(|code| code.value.clone()).collect(),
        fields,
    }
}

fn stage_names<'a>(library: &'a Library, procedure: &'a Procedure) -> impl Iterator<Item = &'a str> {
    let of = |id: &Id| library.stages.iter().find(|stage| stage.id == *id).and_then(|stage| stage.name.as_ref());
    procedure.stages.iter().filter_map(move |id| of(&id.value)).map(|name| name.value.as_str())
}

/// The parts that its steps touch, each once, by name and by the words that name them.
fn part_names<'a>(library: &'a Library, procedure: &Procedure) -> Vec<&'a str> {
    let touched = |id: &Id| procedure.steps.iter().flat_map(|step| &step.touches).any(|touched| touched.value == *id);
    let parts = library.catalogue.parts.iter().filter(|part| touched(&part.id));
    parts.flat_map(|part| part.name.iter().chain(&part.words)).map(|name| name.value.as_str()).collect()
}

/// What a step asks or says, and its answers.
fn step_words(step: &Step) -> Vec<&str> {
    let answers = match &step.kind {
        StepKind::Ask(question) => question.answers.as_slice(),
        StepKind::Measure(_) | StepKind::Do(_) | StepKind::CarryOut(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => &[],
    };
    let answers = answers.iter().filter_map(|answer| answer.text.as_ref());
    step.text().into_iter().chain(answers).map(|text| text.value.as_str()).collect()
}
