//! Plain pages: leaflets, and the stop card that every page links to.

use tera::Context;

use crate::model::library::Leaflet;
use crate::render::escape;
use crate::render::frame::{Frame, Sheet, root};
use crate::render::markdown::{Prose, Setting};
use crate::theme::Kind;

pub fn page(frame: &Frame<'_>, leaflet: &Leaflet) -> (String, String) {
    set(frame, leaflet, format!("leaflets/{}.html", leaflet.id), "pages/leaflet.html")
}

pub fn stop(frame: &Frame<'_>, card: &Leaflet) -> (String, String) {
    set(frame, card, "stop.html".to_owned(), "pages/stop.html")
}

/// Its title as written, else its first heading of level 1, else its id.
pub fn title(leaflet: &Leaflet) -> &str {
    let all = std::iter::once(&leaflet.body.introduction).chain(&leaflet.body.sections);
    let heading = all.flat_map(|section| &section.headings).find(|heading| heading.level == 1);
    match (&leaflet.title, heading) {
        (Some(title), _) => title,
        (None, Some(heading)) => &heading.text,
        (None, None) => leaflet.id.as_str(),
    }
}

/// The card's cases: what each is about leads to what to do, since nobody reads from the top in an emergency.
fn cases(leaflet: &Leaflet, html: &str) -> [(&'static str, String); 3] {
    let all = std::iter::once(&leaflet.body.introduction).chain(&leaflet.body.sections);
    let names: Vec<&str> =
        all.flat_map(|section| &section.headings).filter(|heading| heading.level == 2).map(|heading| heading.text.as_str()).collect();
    // Markup in the words was made text: each of these begins a heading of ours.
    let mut pieces = html.split("<h2");
    let lead = pieces.next().unwrap_or_default().to_owned();
    let cases: Vec<String> =
        pieces.zip(1..).map(|(piece, n)| format!("<section class=\"stop__case\" id=\"case-{n}\"><h2{piece}</section>\n")).collect();
    let links = names.iter().zip(1..).map(|(name, n)| format!("<li><a href=\"#case-{n}\">{}</a></li>\n", escape::text(name)));
    let index = if names.len() == cases.len() { links.collect() } else { String::new() };
    [("lead", lead), ("index", index), ("cases", cases.concat())]
}

fn set(frame: &Frame<'_>, leaflet: &Leaflet, path: String, template: &'static str) -> (String, String) {
    let prose = Prose::new(frame, &leaflet.body, None, root(&path));
    let start = prose.title_end().unwrap_or(0);
    let html = prose.html(&(start..leaflet.body.markdown.len()), &Setting { level: 1, key: "leaflet", first: true });
    let mut context = Context::new();
    for (name, markup) in cases(leaflet, &html) {
        context.insert_value(name, escape::safe(&markup));
    }
    context.insert_value("prose", escape::safe(&html));
    let title = title(leaflet).to_owned();
    frame.set(Sheet { path, foot: title.clone(), title, kind: Kind::Plain, template, banners: Vec::new(), context })
}
