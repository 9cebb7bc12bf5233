//! The start page: by symptom, by panel code, by stage of imaging, by model; tasks apart.

use std::collections::{BTreeMap, BTreeSet};

use tera::Context;

use crate::model::procedure::{Kind as ProcedureKind, Procedure, Status};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::render::say::items;
use crate::theme::Kind;

pub fn page(frame: &Frame<'_>) -> (String, String) {
    let mut context = Context::new();
    let lists = [
        ("symptoms", symptoms(frame)),
        ("procedures", procedures(frame)),
        ("codes", codes(frame)),
        ("stages", stages(frame)),
        ("models", models(frame)),
        ("tasks", tasks(frame)),
        ("inner_tasks", inner_tasks(frame)),
        ("withdrawn", withdrawn(frame)),
    ];
    for (name, markup) in lists {
        context.insert_value(name, escape::safe(&markup));
    }
    frame.set(Sheet {
        path: "index.html".to_owned(),
        title: frame.library.settings.title().to_owned(),
        kind: Kind::Start,
        template: "pages/start.html",
        banners: Vec::new(),
        foot: frame.library.settings.title().to_owned(),
        context,
    })
}

/// What somebody may begin with: fault finding that is not withdrawn. (A site holds unreleased ones only under its banner.)
fn starts<'a>(frame: &Frame<'a>) -> impl Iterator<Item = &'a Procedure> {
    let open = |procedure: &&Procedure| procedure.kind == ProcedureKind::FaultFinding && procedure.status != Status::Withdrawn;
    frame.library.procedures.iter().filter(open)
}

fn link(procedure: &Procedure, text: &str) -> String {
    format!("<a href=\"procedures/{}.html\">{}</a>", escape::text(procedure.id.as_str()), escape::text(text))
}

fn titled(procedure: &Procedure) -> String {
    link(procedure, procedure.title())
}

/// The summary, as the second column of a row.
fn about(frame: &Frame<'_>, procedure: &Procedure) -> String {
    let summary = procedure.summary.as_ref().map(|summary| escape::text(summary)).unwrap_or_default();
    format!("<p>{summary}{}</p>", unreleased(frame, procedure))
}

fn unreleased(frame: &Frame<'_>, procedure: &Procedure) -> String {
    match procedure.status {
        Status::Draft | Status::InReview => format!(" <strong>{}</strong>", frame.word("status", procedure.status.as_str())),
        Status::Released | Status::Withdrawn => String::new(),
    }
}

/// Each procedure once, by title, with what it is about.
fn procedures(frame: &Frame<'_>) -> String {
    let mut all: Vec<&Procedure> = starts(frame).collect();
    all.sort_by_key(|procedure| (procedure.title().to_lowercase(), &procedure.id));
    all.iter().map(|procedure| format!("<li class=\"index__row\">{}{}</li>\n", titled(procedure), about(frame, procedure))).collect()
}

/// So many symptoms stand open.
const MOST_OPEN: usize = 24;

/// One row for each symptom with the procedure it leads to, in alphabetical order, folded by letter if there are many; a procedure without any is found by its title.
fn symptoms(frame: &Frame<'_>) -> String {
    let mut rows: Vec<(String, &str, &Procedure)> = Vec::new();
    for procedure in starts(frame) {
        let phrases: Vec<&str> = procedure.symptoms.iter().map(|symptom| symptom.value.as_str()).collect();
        let phrases = if phrases.is_empty() { vec![procedure.title()] } else { phrases };
        rows.extend(phrases.into_iter().map(|phrase| (phrase.to_lowercase(), phrase, procedure)));
    }
    rows.sort_by(|a, b| (&a.0, &a.2.id).cmp(&(&b.0, &b.2.id)));
    let row = |(_, phrase, procedure): &(String, &str, &Procedure)| {
        let (link, title) = (link(procedure, &sentence_case(phrase)), escape::text(procedure.title()));
        format!("<li class=\"index__row\">{link}<p>{title}{}</p></li>\n", unreleased(frame, procedure))
    };
    // A few are read at a glance; hundreds are not scrolled through by a thumb.
    if rows.len() <= MOST_OPEN {
        return format!("<ul class=\"index index--columns\">\n{}</ul>\n", rows.iter().map(row).collect::<String>());
    }
    let letters = rows.chunk_by(|(one, ..), (other, ..)| initial(one) == initial(other));
    let folded = |rows: &[(String, &str, &Procedure)]| {
        let letter = rows.first().map_or_else(String::new, |(phrase, ..)| initial(phrase));
        let (count, rows) = (rows.len(), rows.iter().map(row).collect::<String>());
        format!(
            "<details class=\"letters__letter\"><summary><span class=\"letters__name\">{}</span> <span class=\"aside figures\">{count}</span></summary><ul class=\"index index--columns\">\n{rows}</ul></details>\n",
            escape::text(&letter)
        )
    };
    letters.map(folded).collect()
}

/// The letter under which a phrase stands; what begins with none stands together.
fn initial(phrase: &str) -> String {
    phrase.chars().next().filter(|first| first.is_alphabetic()).map_or_else(|| "#".to_owned(), |first| first.to_uppercase().collect())
}

fn sentence_case(phrase: &str) -> String {
    let mut chars = phrase.chars();
    chars.next().map(|first| first.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

/// Panel codes in the order of their text, shorter first, so that numbers come in order.
fn codes(frame: &Frame<'_>) -> String {
    let mut by_code: BTreeMap<(usize, &str), Vec<&Procedure>> = BTreeMap::new();
    for procedure in starts(frame) {
        for code in &procedure.codes {
            by_code.entry((code.chars().count(), code.as_str())).or_default().push(procedure);
        }
    }
    let row = |((_, code), procedures): (&(usize, &str), &Vec<&Procedure>)| {
        let links: String = procedures.iter().map(|procedure| format!("<li>{}</li>", titled(procedure))).collect();
        format!(
            "<li class=\"index__row index__row--figure\"><p class=\"figures\">{}</p><ul class=\"links\">{links}</ul></li>\n",
            escape::text(code)
        )
    };
    by_code.iter().map(row).collect()
}

fn stages(frame: &Frame<'_>) -> String {
    let mut out = String::new();
    for stage in &frame.library.stages {
        let name = stage.name.as_ref().map_or(stage.id.as_str(), |name| name.value.as_str());
        let does = stage.does.as_ref().map(|does| format!("<p>{}</p>", escape::text(does))).unwrap_or_default();
        let faults: Vec<String> = stage.faults.iter().map(|fault| escape::text(fault.trim_end_matches('.'))).collect();
        let faults = match faults.is_empty() {
            true => String::new(),
            false => format!("<p class=\"aside\">{}: {}</p>", frame.word("start", "stage-faults"), faults.join("; ")),
        };
        let here = starts(frame).filter(|procedure| procedure.stages.iter().any(|id| id.value == stage.id));
        let links: String = here.map(|procedure| format!("<li>{}</li>", titled(procedure))).collect();
        let links = match links.is_empty() {
            true => format!("<p class=\"aside\">{}</p>", frame.word("start", "stage-empty")),
            false => format!("<ul class=\"links\">{links}</ul>"),
        };
        out.push_str(&format!(
            "<li class=\"stage\"><div class=\"stage__body\"><h3>{}</h3>{does}{faults}{links}</div></li>\n",
            escape::text(name)
        ));
    }
    out
}

/// Each model with its figures and its procedures, both folded: there are dozens of each.
fn models(frame: &Frame<'_>) -> String {
    let mut out = String::new();
    for model in &frame.library.equipment.models {
        let figure = |(name, value): (&str, String)| format!("<li>{} {}</li>", escape::text(&name.replace('-', " ")), escape::text(&value));
        let figures: Vec<String> = model.figures.iter().map(|(name, found)| figure((name.as_str(), found.value.to_string()))).collect();
        let here = starts(frame).filter(|procedure| frame.library.models_of(procedure).contains(&&model.id));
        let links: Vec<String> = here.map(|procedure| format!("<li>{}</li>", titled(procedure))).collect();
        out.push_str(&format!(
            "<li class=\"index__row index__row--model\"><h3>{}</h3>{}{}</li>\n",
            escape::text(model.title()),
            folded(&frame.word("start", "procedures"), "links", &links),
            folded(&frame.word("start", "figures"), "model-figures", &figures),
        ));
    }
    out
}

/// A list behind a line that says what it holds and how much; nothing where it is empty.
fn folded(name: &str, class: &str, lines: &[String]) -> String {
    match lines.len() {
        0 => String::new(),
        count => format!("<details><summary>{} ({count})</summary><ul class=\"{class}\">{}</ul></details>", name, lines.concat()),
    }
}

/// Tasks that somebody may begin with: those that demand nothing of the machine.
fn tasks(frame: &Frame<'_>) -> String {
    let free = all_tasks(frame).filter(|task| task.requires.is_empty());
    free.map(|task| format!("<li class=\"index__row\">{}{}</li>\n", titled(task), about(frame, task))).collect()
}

/// Tasks that only other procedures begin: named, not offered.
fn inner_tasks(frame: &Frame<'_>) -> String {
    let names: BTreeSet<String> =
        all_tasks(frame).filter(|task| !task.requires.is_empty()).map(|task| escape::text(task.title())).collect();
    items(names)
}

fn all_tasks<'a>(frame: &Frame<'a>) -> impl Iterator<Item = &'a Procedure> {
    frame.library.procedures.iter().filter(|procedure| procedure.kind == ProcedureKind::Task && procedure.status != Status::Withdrawn)
}

fn withdrawn(frame: &Frame<'_>) -> String {
    let gone = frame.library.procedures.iter().filter(|procedure| procedure.status == Status::Withdrawn);
    let row = |procedure: &Procedure| {
        let reason = procedure.withdrawn_because.as_ref().map(|reason| escape::text(reason)).unwrap_or_default();
        format!("<li class=\"index__row\">{}<p>{reason}</p></li>\n", titled(procedure))
    };
    gone.map(row).collect()
}
