//! All files of a site, each handed on as soon as it is made: a library may be large, and its site is many times larger.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};
use std::thread;

use rayon::prelude::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

use crate::analyse::gate::Cleared;
use crate::emit::review::Review;
use crate::model::library::Library;
use crate::render::drawings::Drawings;
use crate::render::frame::Frame;
use crate::render::{RECORD_SCHEMA, SINGLE, certificate, changes, handbook, leaflet, offline, poster, procedure, review as review_pages};
use crate::theme;

/// Makes every page, asset and picture of a site, and hands each with its path to `put`, in no order and on several threads at once; pictures, handed in as
/// they are, keep theirs. Only a library that passed the gate has pages. `review` is the review of the same library; its pages are part of the site. `known`
/// holds charts drawn before, and then those drawn here.
///
/// # Errors
/// One that `put` returned; then files are missing.
pub fn each<E: Send>(
    cleared: &Cleared<Library>,
    review: &Review<'_>,
    pictures: &BTreeMap<String, Vec<u8>>,
    known: &Drawings,
    put: &(impl Fn(String, Vec<u8>) -> Result<(), E> + Sync),
) -> Result<(), E> {
    let frame = &Frame::new(cleared, review.today, known);
    let worker = Worker::default();
    let file = &|path: String, bytes: Vec<u8>| {
        worker.hear_of(&path, &bytes);
        put(path, bytes)
    };
    let page = |(path, html): (String, String)| file(path, html.into_bytes());
    let procedures = &frame.library.procedures;
    let of_procedures = || {
        procedures.par_iter().try_for_each(|one| page(procedure::page(frame, one)))?;
        procedures.par_iter().filter(|one| !one.is_withdrawn()).try_for_each(|one| page(poster::page(frame, one)))?;
        review_pages::each_beside(frame, review, &page)
    };
    let others = || {
        handbook::pages(frame).into_par_iter().try_for_each(page)?;
        SINGLE.par_iter().filter_map(|(_, page)| page(frame)).try_for_each(page)?;
        frame.library.leaflets.par_iter().try_for_each(|one| page(leaflet::page(frame, one)))?;
        let feed = changes::feed(frame).filter(|_| frame.is_for_use());
        let schema = (RECORD_SCHEMA.to_owned(), theme::record_schema().into_bytes());
        let pictures = pictures.iter().map(|(path, bytes)| (path.clone(), bytes.clone()));
        let all = pictures.chain(frame.assets()).chain(feed).chain([schema]).chain(offline::description(frame.library));
        all.collect::<Vec<_>>().into_par_iter().try_for_each(|(path, bytes)| file(path, bytes))
    };
    // Side by side, so that what only one thread can do keeps no other waiting; not within the thread pool, for the examples of the rules are judged on
    // threads of their own, which ask it for work.
    thread::scope(|scope| {
        let others = scope.spawn(others);
        let of_procedures = of_procedures();
        of_procedures.and(others.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
    })?;
    certificate::each(frame.library, file)?;
    let (path, bytes) = offline::worker(&worker.digests.into_inner().unwrap_or_else(PoisonError::into_inner));
    put(path, bytes)?;
    known.forget_unused();
    Ok(())
}

/// What [`each`] makes, by path.
pub fn site(
    cleared: &Cleared<Library>,
    review: &Review<'_>,
    pictures: BTreeMap<String, Vec<u8>>,
    known: &Drawings,
) -> BTreeMap<String, Vec<u8>> {
    let files = Mutex::new(BTreeMap::new());
    let put = |path, bytes| {
        files.lock().unwrap_or_else(PoisonError::into_inner).insert(path, bytes);
        Ok::<(), std::convert::Infallible>(())
    };
    let Ok(()) = each(cleared, review, &pictures, known, &put);
    files.into_inner().unwrap_or_else(PoisonError::into_inner)
}

/// The digests of what a browser is to keep.
#[derive(Default)]
struct Worker {
    digests: Mutex<BTreeMap<String, String>>,
}

impl Worker {
    fn hear_of(&self, path: &str, bytes: &[u8]) {
        if offline::keeps(path) {
            let digest = offline::digest(bytes);
            self.digests.lock().unwrap_or_else(PoisonError::into_inner).insert(path.to_owned(), digest);
        }
    }
}
