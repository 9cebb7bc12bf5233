//! Procedures by the part they touch and by the hazard they meet: for whoever holds the part, or asks where a hazard is met. Needs no script.

use tera::Context;

use crate::model::procedure::{Kind, Procedure, Status};
use crate::model::step::Step;
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::render::hazards;
use crate::theme;

pub fn page(frame: &Frame<'_>) -> (String, String) {
    let mut context = Context::new();
    context.insert_value("parts", escape::safe(&parts(frame)));
    context.insert_value("hazards", escape::safe(&by_hazard(frame)));
    let title = frame.say("find", "title").to_owned();
    let (path, foot) = ("find.html".to_owned(), title.clone());
    frame.set(Sheet { path, title, kind: theme::Kind::Plain, template: "pages/find.html", banners: Vec::new(), foot, context })
}

/// Links to the procedures with a step of their own of which this holds, by title. What is withdrawn is nowhere.
fn links(frame: &Frame<'_>, holds: impl Fn(&Step) -> bool) -> String {
    let open = frame.library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn);
    let mut found: Vec<&Procedure> = open.filter(|procedure| procedure.steps.iter().any(&holds)).collect();
    found.sort_by_key(|procedure| (procedure.title().to_lowercase(), &procedure.id));
    found.iter().map(|one| format!("<li>{}</li>", entry(one))).collect()
}

/// A link; the bare name of a task that demands something of the machine, which other procedures alone begin.
fn entry(procedure: &Procedure) -> String {
    let title = escape::text(procedure.title());
    if procedure.kind == Kind::Task && !procedure.requires.is_empty() {
        return format!("<span>{title}</span>");
    }
    format!("<a href=\"procedures/{}.html\">{title}</a>", escape::text(procedure.id.as_str()))
}

/// A row with its links, or nothing where there are none.
fn row(name: &str, beside: &str, links: &str) -> String {
    if links.is_empty() {
        return String::new();
    }
    format!("<li class=\"index__row\"><p><strong>{}</strong>{beside}</p><ul class=\"links\">{links}</ul></li>\n", escape::text(name))
}

fn parts(frame: &Frame<'_>) -> String {
    let mut rows: Vec<(String, String)> = Vec::new();
    for part in &frame.library.catalogue.parts {
        let name = part.name.as_ref().map_or(part.id.as_str(), |name| name.value.as_str());
        let links = links(frame, |step| step.touches.iter().any(|touched| touched.value == part.id));
        rows.push((name.to_lowercase(), row(name, "", &links)));
    }
    rows.sort();
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Most severe first, as everywhere; hazards of one signal word in the order of the catalogue.
fn by_hazard(frame: &Frame<'_>) -> String {
    let mut all: Vec<_> = frame.library.catalogue.hazards.iter().collect();
    all.sort_by_key(|hazard| (hazard.signal().is_none(), hazard.signal()));
    let row_of = |hazard: &&crate::model::catalogue::Hazard| {
        let name = hazard.name.as_ref().map_or(hazard.id.as_str(), |name| name.value.as_str());
        let signal = hazard.signal().map(|signal| frame.word("signal", signal.as_str())).unwrap_or_default();
        let place = hazard.where_at.as_ref().map(|place| escape::text(place)).unwrap_or_default();
        let beside = format!("<br><span class=\"aside\">{signal}: {place}</span>");
        row(name, &beside, &links(frame, |step| hazards::exposed(frame.library, step).iter().any(|met| met.id == hazard.id)))
    };
    all.iter().map(row_of).collect()
}
