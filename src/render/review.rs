//! Review pages: what is proven, how, and what a person decided. They hold no procedure to follow, so they need no ticket of the gate: they may
//! show a library with errors, and then stand alone, each page marked as not for use.

mod cell;
mod decided;
mod exposure;
mod failure;
mod index;
mod matrix;
mod page;
mod path;
mod setters;

use std::collections::BTreeMap;
use std::convert::Infallible;
use std::sync::{Mutex, PoisonError};

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};

use crate::emit::review::Review;
use crate::model::catalogue::{Hazard, SignalWord};
use crate::model::procedure::Procedure;
use crate::render::drawings::Drawings;
use crate::render::escape;
use crate::render::frame::Frame;
use crate::render::review::setters::Setters;
use crate::render::say::number;
use crate::text::id::Id;

/// Hands each of the pages that belong to a published site to `put`.
///
/// # Errors
/// One that `put` returned.
pub(super) fn each_beside<E: Send>(
    frame: &Frame<'_>,
    review: &Review<'_>,
    put: &(impl Fn((String, String)) -> Result<(), E> + Sync),
) -> Result<(), E> {
    each(&Desk { frame, review, setters: &Setters::of(review), alone: false, base: "" }, put)
}

/// One of them.
pub(super) fn one(frame: &Frame<'_>, review: &Review<'_>, path: &str) -> Option<String> {
    let desk = Desk { frame, review, setters: &Setters::of(review), alone: false, base: "" };
    let mut pages = review.procedures.iter().filter(|procedure| path == format!("review/{}.html", file(&procedure.id)));
    match pages.next() {
        Some(procedure) => Some(page::page(&desk, procedure).1),
        None => Some(index::page(&desk)).filter(|(overview, _)| overview == path).map(|(_, html)| html),
    }
}

/// The pages by themselves with their assets: the overview as `index.html`, the others below `review/`.
pub(super) fn alone(review: &Review<'_>, known: &Drawings) -> BTreeMap<String, Vec<u8>> {
    let frame = Frame::review(review, known);
    let mut files = frame.assets();
    // No page here has a script: there is nothing to follow.
    files.retain(|path, _| !path.ends_with(".js"));
    let made = Mutex::new(files);
    let put = |(path, html): (String, String)| {
        made.lock().unwrap_or_else(PoisonError::into_inner).insert(path, html.into_bytes());
        Ok::<(), Infallible>(())
    };
    let Ok(()) = each(&Desk { frame: &frame, review, setters: &Setters::of(review), alone: true, base: "" }, &put);
    made.into_inner().unwrap_or_else(PoisonError::into_inner)
}

fn each<E: Send>(desk: &Desk<'_, '_>, put: &(impl Fn((String, String)) -> Result<(), E> + Sync)) -> Result<(), E> {
    let overview = Desk { base: if desk.alone { "review/" } else { "" }, ..*desk };
    desk.review.procedures.par_iter().try_for_each(|procedure| put(page::page(desk, procedure)))?;
    put(index::page(&overview))
}

/// What all review pages share.
#[derive(Clone, Copy)]
struct Desk<'f, 'l> {
    frame: &'f Frame<'l>,
    review: &'f Review<'l>,
    setters: &'f Setters<'l>,
    /// There are no pages of procedures beside these.
    alone: bool,
    /// From the page that is set to the pages of procedures under review.
    base: &'static str,
}

impl<'l> Desk<'_, 'l> {
    /// The address of a procedure's review page.
    fn address(&self, procedure: &Id) -> String {
        format!("{}{}.html", self.base, file(procedure))
    }

    /// The address of the overview from a procedure's page.
    fn overview(&self) -> &'static str {
        if self.alone { "../index.html" } else { "index.html" }
    }

    fn procedure(&self, id: &Id) -> Option<&'l Procedure> {
        self.review.procedure(id)
    }

    /// A link to a procedure's review page.
    fn procedure_link(&self, id: &Id) -> String {
        match self.procedure(id) {
            Some(procedure) => format!("<a href=\"{}\">{}</a>", self.address(id), escape::text(procedure.title())),
            None => escape::text(id.as_str()),
        }
    }

    /// A link to a step, in words: where it is followed, or, on pages that stand alone, where it is listed.
    fn step_link(&self, owner: &Id, id: &Id) -> String {
        let Some((procedure, step)) = self.procedure(owner).and_then(|procedure| Some((procedure, procedure.step(id)?))) else {
            return escape::text(id.as_str());
        };
        format!("<a href=\"{}\">{}</a>", self.step_address(procedure, id), self.frame.step_title(step))
    }

    fn step_address(&self, procedure: &Procedure, id: &Id) -> String {
        let page = if self.alone { self.address(&procedure.id) } else { format!("../procedures/{}.html", procedure.id) };
        format!("{page}#step-{}", escape::text(id.as_str()))
    }

    /// `step 4, Take the cartridge out`, and of which procedure if of another than `here`.
    fn place(&self, here: &Id, owner: &Id, step: &Id) -> String {
        let n = self.procedure(owner).map_or(0, |procedure| number(procedure, step)).to_string();
        let link = self.step_link(owner, step);
        if here == owner {
            return format!("{}, {link}", self.frame.fill("step", "step-n", &[("n", &n)]));
        }
        let of = self.procedure(owner).map_or(owner.as_str(), |procedure| procedure.title());
        format!("{}, {link}", self.frame.fill("step", "step-n-of", &[("n", &n), ("procedure", of)]))
    }

    fn word(&self, key: &str) -> String {
        self.frame.word("review", key)
    }

    fn fill(&self, key: &str, values: &[(&str, &str)]) -> String {
        self.frame.fill("review", key, values)
    }

    fn hazard(&self, id: &Id) -> Option<&'l Hazard> {
        self.review.library().catalogue.hazard(id)
    }

    fn hazard_title(&self, id: &Id) -> String {
        escape::text(self.hazard(id).map_or(id.as_str(), Hazard::title))
    }

    /// The signal word of a hazard in its frame.
    fn signal(&self, hazard: &Hazard) -> String {
        let kind = hazard.signal().map_or("caution", SignalWord::as_str);
        format!("<span class=\"signal signal--{kind}\">{}</span>", self.frame.word("signal", kind))
    }

    /// The plain name of a condition as markup.
    fn condition(&self, id: &Id) -> String {
        let condition = self.review.library().catalogue.condition(id);
        escape::text(condition.map_or(id.as_str(), crate::render::say::condition_name))
    }
}

/// The file of a procedure's review page, without its ending. Ids hold no two hyphens, so that this is nobody else's.
fn file(procedure: &Id) -> String {
    if *procedure == "index" { "index--procedure".to_owned() } else { escape::text(procedure.as_str()) }
}

/// Where the page of a procedure that is reviewed lies in a site.
pub(super) fn path_of(procedure: &Id) -> String {
    format!("review/{}.html", file(procedure))
}

/// The anchor of an exposure. Ids hold no two hyphens, so that no two exposures share one.
fn exposure_anchor(step: &Id, hazard: &Id) -> String {
    format!("at-{}--{}", escape::text(step.as_str()), escape::text(hazard.as_str()))
}

/// The anchor of all exposures to a hazard.
fn hazard_anchor(hazard: &Id) -> String {
    format!("hazard-{}", escape::text(hazard.as_str()))
}

/// Rows of a definition list in the form of ruled fields.
fn fields(rows: &[(String, String)]) -> String {
    let row = |(name, markup): &(String, String)| format!("<div class=\"field\"><dt>{name}</dt><dd>{markup}</dd></div>\n");
    rows.iter().map(row).collect()
}
