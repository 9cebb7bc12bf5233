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

fn set(frame: &Frame<'_>, leaflet: &Leaflet, path: String, template: &'static str) -> (String, String) {
    let prose = Prose::new(frame, &leaflet.body, None, root(&path));
    let start = prose.title_end().unwrap_or(0);
    let html = prose.html(&(start..leaflet.body.markdown.len()), &Setting { level: 1, key: "leaflet", first: true });
    let mut context = Context::new();
    context.insert_value("prose", escape::safe(&html));
    let title = title(leaflet).to_owned();
    frame.set(Sheet { path, foot: title.clone(), title, kind: Kind::Plain, template, banners: Vec::new(), context })
}
