//! A site that is published again is the one that a first publishing makes, byte for byte; and whatever happens while it is written, what stands in its
//! place is the site before or the new one, whole.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use jiff::civil::{Date, date};
use stepward::build::disk::Disk;
use stepward::build::pipeline::{self, Published};

use crate::support::command::Place;
use crate::support::random::Random;

const DAY: Date = date(2026, 11, 26);

fn is_slow() -> bool {
    std::env::var_os("SLOW").is_some()
}

/// A small library with a model, a stage, a leaflet, a picture and a withdrawn procedure.
fn library(place: &Place) {
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    place.write("lib/equipment.yaml", "models:\n  desk:\n    name: Desk-side printer\n    figures:\n      memory: 128 MB\n");
    place.write("lib/leaflets/notes.md", "---\ntitle: Notes\n---\n\nRead [the task](../procedures/isolate.md) first.\n");
    place.write(
        "lib/pictures/dot.svg",
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 8 8\"><circle cx=\"4\" cy=\"4\" r=\"3\"/></svg>\n",
    );
    place.write(
        "lib/procedures/old-way.md",
        "---\ntitle: The old way\nstatus: withdrawn\nwithdrawn-because: It asked for a wet cloth.\nreplaced-by: toner-rubs-off\nsteps:\n  wipe: { do: Wipe, outcome: handed-over }\n---\n",
    );
}

/// One change to the library, the site or the day.
fn edit(place: &Place, random: &mut Random, day: &mut Date) -> &'static str {
    let change = |name: &str, from: &str, to: &str| {
        let Some(text) = place.read(name) else { return };
        place.write(name, &if text.contains(from) { text.replace(from, to) } else { text.replace(to, from) });
    };
    let toggle = |from: &str, to: &str| {
        let (from, to) = (place.path(from), place.path(to));
        let _ = if from.exists() { std::fs::rename(from, to) } else { std::fs::rename(to, from) };
    };
    let number = random.below(1000);
    let append = |name: &str, text: &str| place.write(name, &(place.read(name).unwrap_or_default() + text));
    match random.below(16) {
        0 => append("lib/procedures/toner-rubs-off.md", &format!("\nSheet number {number} is kept.\n")),
        1 => append("lib/procedures/isolate.md", &format!("\nTag number {number} is used.\n")),
        2 => change("lib/procedures/toner-rubs-off.md", "correct-setting", "mend-setting"),
        3 => change("lib/procedures/isolate.md", "title: Isolate the printer", "title: Take the power away"),
        4 => change("lib/safety.yaml", "Hands and arms are burnt at once.", "It burns hands and arms at once."),
        5 => change("lib/equipment.yaml", "128 MB", "256 MB"),
        6 => change("lib/library.yaml", "title: Print rooms", "title: The print rooms"),
        7 => place.write("lib/leaflets/notes.md", &format!("---\ntitle: Notes {}\n---\n\nNote {number}.\n", number % 3)),
        8 => toggle("lib/leaflets/notes.md", "lib/leaflets/remarks.md"),
        9 => toggle("lib/procedures/old-way.md", "lib/old-way.md"),
        10 => toggle("lib/pictures/dot.svg", "lib/pictures/spot.svg"),
        // An error: nothing is published, and the site stays.
        11 => change("lib/procedures/toner-rubs-off.md", "cautions: [live-parts, hot-fuser]", "cautions: [live-parts]"),
        12 => *day = day.tomorrow().expect("a day"),
        13 => place.write("site/index.html", "touched up by hand"),
        14 => drop(std::fs::remove_file(place.path("site/stop.html"))),
        _ => {
            change("lib/stop.md", "\n\n", "\n\n\n");
            return "nothing that shows";
        }
    }
    "an edit"
}

fn publish(place: &Place, to: &str, day: Date) -> Option<usize> {
    match pipeline::publish(&Disk { today: day }, &place.path("lib"), &place.path(to), true, &|_| {}).expect("the library can be read") {
        Published::Written(_, written) => Some(written.written),
        Published::Refused(_) => None,
    }
}

#[test]
fn published_again_after_any_edit_a_site_is_the_one_that_is_made_at_first() {
    let place = Place::new();
    library(&place);
    let mut random = Random::new(7);
    let mut day = DAY;
    publish(&place, "site", day).expect("a sound library");
    let (mut partly, mut refused) = (0, 0);
    for number in 0..if is_slow() { 500 } else { 40 } {
        let before = place.below("site");
        let what = edit(&place, &mut random, &mut day);
        let touched = place.below("site");
        let fresh = format!("fresh-{number}");
        let Some(written) = publish(&place, "site", day) else {
            assert_eq!(place.below("site"), touched, "edit {number}, {what}: refused, and yet something changed");
            refused += 1;
            continue;
        };
        publish(&place, &fresh, day).expect("what was published once");
        let (again, first) = (place.below("site"), place.below(&fresh));
        assert!(again == first, "edit {number}, {what}: {:?}", differing(&again, &first));
        assert_eq!(publish(&place, "site", day), Some(0), "edit {number}: published once more");
        partly += usize::from(written > 0 && written < again.len() && again != before);
        std::fs::remove_dir_all(place.path(&fresh)).expect("it can go");
    }
    assert!(partly > 5 && refused > 0, "{partly} partly written, {refused} refused: the edits try too little");
}

fn differing(left: &[(String, Vec<u8>)], right: &[(String, Vec<u8>)]) -> Vec<String> {
    let [left, right] = [left, right].map(|files| files.iter().cloned().collect::<BTreeMap<_, _>>());
    left.keys().chain(right.keys()).filter(|name| left.get(*name) != right.get(*name)).cloned().collect()
}

/// What a reader finds while sites take each other's place: each page is of one of them, and none is ever missing or cut.
fn read_meanwhile(site: &Path, editions: &[Vec<u8>], until: &AtomicBool, reads: &AtomicUsize) {
    while !until.load(Ordering::Relaxed) {
        let page = std::fs::read(site.join("index.html")).expect("a page is always there");
        assert!(editions.contains(&page), "a page of {} bytes that nobody published", page.len());
        reads.fetch_add(1, Ordering::Relaxed);
    }
}

/// Kills the program at any moment of its work. Where the system swaps two folders in one step there is no moment without a site.
#[cfg(target_os = "linux")]
#[test]
fn killed_at_any_moment_publishing_leaves_the_site_before_or_the_new_one() {
    let place = Place::new();
    library(&place);
    let arguments = ["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-11-26", "--quiet"];
    let write = |edition: usize| {
        place.write(
            "lib/library.yaml",
            &format!("title: Print rooms, edition {}\nlanguage: en\nroles: [field service, safety]\n", edition % 2),
        )
    };
    let mut longest = Duration::ZERO;
    let editions: Vec<Vec<(String, Vec<u8>)>> = (0..2)
        .map(|edition| {
            write(edition);
            let start = Instant::now();
            assert_eq!(place.run(&arguments).status, 0);
            longest = longest.max(start.elapsed());
            place.below("site")
        })
        .collect();
    assert_ne!(editions[0], editions[1]);
    let start_pages: Vec<Vec<u8>> =
        editions.iter().map(|files| files.iter().find(|(name, _)| name == "index.html").expect("a start page").1.clone()).collect();
    let (done, reads) = (AtomicBool::new(false), AtomicUsize::new(0));
    let (mut old, mut new) = (0, 0);
    std::thread::scope(|scope| {
        let reader = scope.spawn(|| read_meanwhile(&place.path("site"), &start_pages, &done, &reads));
        let mut random = Random::new(26);
        let mut now = 1;
        for turn in 0..if is_slow() { 200 } else { 24 } {
            let next = 1 - now;
            write(next);
            let mut child = place.command(&arguments).spawn().expect("the program runs");
            // One in four is left to its end, however slow the machine is today.
            if turn % 4 != 3 {
                std::thread::sleep(longest.mul_f64(random.below(1200) as f64 / 1000.0));
                let _ = child.kill();
            }
            child.wait().expect("it ends");
            let found = place.below("site");
            let which = editions
                .iter()
                .position(|edition| *edition == found)
                .unwrap_or_else(|| panic!("turn {turn}: neither site: {:?}", differing(&found, &editions[now])));
            if which == next {
                new += 1
            } else {
                old += 1
            }
            now = which;
        }
        done.store(true, Ordering::Relaxed);
        reader.join().expect("the reader found nothing wrong");
    });
    assert!(
        old > 0 && new > 0 && reads.load(Ordering::Relaxed) > 100,
        "{old} killed before, {new} after the swap, {} reads",
        reads.load(Ordering::Relaxed)
    );
}

/// Told to stop, by the keyboard or by the system, the program clears away what it has begun.
#[cfg(unix)]
#[test]
fn told_to_stop_publishing_leaves_nothing_beside_the_site() {
    let place = Place::new();
    library(&place);
    let arguments = ["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-11-26", "--quiet"];
    let start = Instant::now();
    assert_eq!(place.run(&arguments).status, 0);
    let longest = start.elapsed();
    let mut random = Random::new(27);
    let mut stopped = 0;
    for turn in 0..if is_slow() { 200 } else { 24 } {
        let before = place.below("site");
        place.write("lib/library.yaml", &format!("title: Print rooms, edition {turn}\nlanguage: en\nroles: [field service, safety]\n"));
        let child = place.command(&arguments).stderr(std::process::Stdio::piped()).spawn().expect("the program runs");
        std::thread::sleep(longest.mul_f64(random.below(1000) as f64 / 1000.0));
        let signal = if turn % 2 == 0 { "-INT" } else { "-TERM" };
        std::process::Command::new("kill").args([signal, &child.id().to_string()]).status().expect("`kill` runs");
        let ended = child.wait_with_output().expect("it ends");
        let beside: Vec<String> = std::fs::read_dir(place.path(""))
            .expect("a folder")
            .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
            .filter(|name| name.starts_with(".site"))
            .collect();
        assert_eq!(beside, Vec::<String>::new(), "turn {turn}, {signal}: {:?}", ended.status);
        let said = String::from_utf8_lossy(&ended.stderr).into_owned();
        if said.contains("told to stop") {
            assert_eq!((ended.status.code(), place.below("site") == before), (Some(2), true), "turn {turn}: {said}");
            stopped += 1;
        }
    }
    assert!(stopped > 0, "it was never told while it wrote");
}
