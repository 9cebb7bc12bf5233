//! What publishing a library costs, as a ratio against the least that it must do. See `README.md` here.

#[path = "support/generate.rs"]
mod generate;
#[path = "support/timing.rs"]
mod timing;

use std::collections::BTreeMap;
use std::fs;
use std::hint::black_box;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::{Duration, Instant};

use granit_parser::Parser;
use jiff::civil::{Date, date};
use mimalloc::MiMalloc;
use pulldown_cmark::{Options, Parser as Markdown};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use stepward::build::disk::Disk;
use stepward::build::draft::Draft;
use stepward::build::pipeline::{self, Published};
use stepward::build::world::World as _;
use stepward::preview::shelf::Shelf;
use stepward::read::reader::Reader;
use stepward::rules::known::Known;
use stepward::text::folder::{Entry, Folder};
use walkdir::WalkDir;

use crate::timing::{median, middle};

/// The program's.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

const DAY: Date = date(2026, 11, 2);
const WORLD: Disk = Disk { today: DAY };
/// Said by a run of this program that publishes once, to be measured from outside.
const ALONE: &str = "--publish-alone";
/// Writes a library of that size to a folder, for other tools to look at.
const WRITE: &str = "--write";
/// Prints what can be found in a library of that size, as the page's search gets it.
const INDEX: &str = "--index";

fn main() {
    let given: Vec<String> = std::env::args().collect();
    if let Some(place) = given.iter().position(|one| one == ALONE) {
        publish(Path::new(&given[place + 1]), Path::new(&given[place + 2]));
        println!("{}", peak_memory());
        return;
    }
    if let Some(place) = given.iter().position(|one| one == WRITE) {
        put(Path::new(&given[place + 2]), &generate::library(given[place + 1].parse().expect("a number"), DAY));
        return;
    }
    if let Some(place) = given.iter().position(|one| one == INDEX) {
        let draft = Draft::of(
            generate::library(given[place + 1].parse().expect("a number"), DAY),
            DAY,
            &Reader::default(),
            &Known::default(),
            Arc::default(),
        );
        std::io::stdout().write_all(&draft.file("assets/search-index.js").expect("an index")).expect("it is written");
        return;
    }
    let sizes: Vec<usize> = std::env::var("SIZES")
        .map_or_else(|_| vec![100, 1000], |sizes| sizes.split(',').map(|size| size.parse().expect("a number")).collect());
    for place in [PathBuf::from("/dev/shm"), std::env::temp_dir()].into_iter().filter(|place| place.is_dir()) {
        let mut before: Option<(usize, Duration)> = None;
        for &size in &sizes {
            let cold = measure(&place, size);
            if let Some((less, time)) = before {
                let each = |time: Duration, size: usize| time.as_secs_f64() / size as f64;
                println!("  a procedure of {size} costs {:.2} times one of {less}", each(cold, size) / each(time, less));
            }
            before = Some((size, cold));
        }
    }
}

/// The time of a cold publish.
fn measure(place: &Path, size: usize) -> Duration {
    let base = tempfile::tempdir_in(place).expect("a folder to work in");
    let [library, site, other] = ["library", "site", "other"].map(|name| base.path().join(name));
    put(&library, &generate::library(size, DAY));
    let runs = if size > 3000 { 3 } else { 7 };
    publish(&library, &site);
    let pages = contents(&site);
    let bytes = |files: &BTreeMap<String, Vec<u8>>| files.values().map(Vec::len).sum::<usize>() as f64 / 1e6;
    let input = contents(&library);
    println!(
        "{size} procedures in {}: {:.1} MB in {} files become {:.1} MB in {} files",
        place.display(),
        bytes(&input),
        input.len(),
        bytes(&pages),
        pages.len()
    );
    let clear = |path: &Path| drop(fs::remove_dir_all(path));

    let read_and_parse = median(runs, || {}, || assert!(black_box(parsed(&library)) > 0));
    let floor = median(
        runs,
        || clear(&other),
        || {
            black_box(parsed(&library));
            write(&other, &pages);
        },
    );
    tell("floor: read, parse, write the same bytes", floor, None);
    tell("  of that, reading and parsing", read_and_parse, None);
    let verify = median(runs, || {}, || drop(black_box(pipeline::verify(&WORLD, &library))));
    tell("verify", verify, Some(("reading and parsing", read_and_parse)));
    let cold = median(runs, || clear(&other), || publish(&library, &other));
    tell("publish into a new folder", cold, Some(("floor", floor)));
    clear(&other);
    let copy =
        median(runs, || clear(&other), || assert!(Command::new("cp").arg("-r").args([&site, &other]).status().expect("cp").success()));
    tell("cp -r of the site", copy, None);
    tell("publish into a new folder", cold, Some(("cp -r", copy)));
    clear(&other);

    let stat = median(runs, || {}, || assert!(black_box(statted(&library)) > 0));
    tell("walk and stat of every input", stat, None);
    let again = median(runs, || {}, || publish(&library, &site));
    tell("publish again, nothing changed", again, Some(("walk and stat", stat)));
    let mut turn = 0;
    let one = median(
        runs,
        || {
            turn += 1;
            edit(&library, turn);
        },
        || publish(&library, &site),
    );
    tell("publish again, one leaflet changed", one, Some(("walk and stat", stat)));

    let mut shelf = Shelf::empty(stepward::theme::words().expect("words"), "", DAY).next(WORLD.library(&library), DAY).expect("an edition");
    let (mut editions, mut pages) = (Vec::new(), Vec::new());
    for _ in 0..runs {
        turn += 1;
        edit(&library, turn);
        let start = Instant::now();
        shelf = shelf.next(WORLD.library(&library), DAY).expect("an edition");
        editions.push(start.elapsed());
        let start = Instant::now();
        assert!(black_box(shelf.page("procedures/fault-00001.html")).html.contains("data-page"));
        pages.push(start.elapsed());
    }
    tell("preview: an edition, one leaflet changed", middle(editions), Some(("verify", verify)));
    tell("preview: a page of it", middle(pages), None);

    let child = Command::new(std::env::current_exe().expect("this program"))
        .arg(ALONE)
        .args([&library, &other])
        .output()
        .expect("a run of its own");
    let peak: f64 = String::from_utf8_lossy(&child.stdout).trim().parse().expect("kilobytes");
    println!("  peak memory {:.0} MB, {:.1} times the input", peak / 1e3, peak / 1e3 / bytes(&input));
    cold
}

fn tell(what: &str, time: Duration, to: Option<(&str, Duration)>) {
    let ratio = to.map_or_else(String::new, |(name, floor)| format!("  {:>6.2} x {name}", time.as_secs_f64() / floor.as_secs_f64()));
    println!("  {what:<42} {:>9.1} ms{ratio}", time.as_secs_f64() * 1e3);
}

fn publish(library: &Path, site: &Path) {
    match pipeline::publish(&WORLD, library, site, false, &|_| {}).expect("a site is written") {
        Published::Written(..) => {}
        Published::Refused(verdict) => {
            let finding = verdict.findings.iter().next().expect("a finding");
            panic!("{} in {}: {}", finding.rule.name, verdict.library.sources.path(finding.at.file), finding.message);
        }
    }
}

fn put(to: &Path, folder: &Folder) {
    for (path, entry) in &folder.entries {
        let Entry::File(bytes) = entry else { continue };
        put_file(&to.join(path), bytes);
    }
    edit(to, 0);
}

/// A leaflet is read, linked and searched as any page, and needs no approval.
fn edit(library: &Path, turn: usize) {
    put_file(&library.join("leaflets/notes.md"), format!("---\ntitle: Notes\n---\n\nNote number {turn}.\n").as_bytes());
}

fn put_file(path: &Path, bytes: &[u8]) {
    fs::create_dir_all(path.parent().expect("in a folder")).expect("a folder");
    fs::write(path, bytes).expect("a file");
}

fn files(folder: &Path) -> Vec<PathBuf> {
    WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("can be read"))
        .filter(|entry| entry.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect()
}

fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    files(folder)
        .into_iter()
        .map(|path| (path.strip_prefix(folder).expect("below").to_string_lossy().into_owned(), fs::read(&path).expect("a file")))
        .collect()
}

fn statted(folder: &Path) -> u64 {
    files(folder).iter().map(|path| fs::metadata(path).expect("a file").len()).sum()
}

/// The floor of reading: the same libraries over the same text, nothing kept.
fn parsed(folder: &Path) -> usize {
    let one = |path: &PathBuf| {
        let text = String::from_utf8(fs::read(path).expect("a file")).expect("text");
        let (front, body) = text.strip_prefix("---\n").and_then(|rest| rest.split_once("\n---\n")).unwrap_or((&text, ""));
        let yaml = path.extension().is_some_and(|extension| extension == "md" || extension == "yaml");
        let events = if yaml { Parser::new_from_str(front).filter(|event| black_box(event).is_ok()).count() } else { 0 };
        events + Markdown::new_ext(body, Options::ENABLE_TABLES).into_offset_iter().filter(|event| !black_box(event).1.is_empty()).count()
    };
    files(folder).par_iter().map(one).sum()
}

fn write(to: &Path, pages: &BTreeMap<String, Vec<u8>>) {
    let folders: std::collections::BTreeSet<PathBuf> = pages.keys().filter_map(|path| to.join(path).parent().map(Path::to_owned)).collect();
    folders.iter().for_each(|folder| fs::create_dir_all(folder).expect("a folder"));
    pages.par_iter().for_each(|(path, bytes)| fs::write(to.join(path), bytes).expect("a file"));
}

/// Kilobytes, or nothing where the system does not say.
fn peak_memory() -> String {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .map_or_else(String::new, |line| line.trim().trim_end_matches(" kB").to_owned())
}
