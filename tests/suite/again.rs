//! Publishing again with nothing changed is looked up; whatever was touched, however little, is seen.

use std::fs;
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use jiff::civil::{Date, date};
use stepward::build::again::{Again, Came, Last, Wish};

use crate::support::command::{Place, Ran};

const DAY: Date = date(2026, 11, 26);
const CAME: Came = Came { procedures: 2, files: 30, carried: 0 };

/// Longer than a tick of the clock by which files are dated.
fn settle() {
    sleep(Duration::from_millis(80));
}

fn publish(place: &Place, more: &[&str]) -> Ran {
    let arguments = [&["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-11-26"], more].concat();
    place.run_with(&arguments, &[("STEPWARD_CACHE", "cache")])
}

fn look(place: &Place, unreleased: bool, today: Date) -> Again {
    let (library, target) = (place.path("lib"), place.path("site"));
    Again::look(&place.path("cache"), &Wish { library: &library, target: &target, today, unreleased }).expect("paths can be told")
}

fn is_same(place: &Place) -> bool {
    matches!(look(place, true, DAY).last(&place.path("site")), Last::Same(came) if came == CAME)
}

/// What is done to a library or its site, by name.
type Touch = (&'static str, fn(&Place));

/// A library and its site, remembered.
fn remembered() -> Place {
    let place = Place::new();
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    place.write("lib/leaflets/notes.md", "---\ntitle: Notes\n---\n\nOne.\n");
    assert_eq!(publish(&place, &[]).status, 0);
    remember(&place);
    place
}

fn remember(place: &Place) {
    settle();
    look(place, true, DAY).keep(&place.path("site"), CAME);
    assert!(is_same(place));
}

/// Puts other bytes into a file and its time of change back: only the time that nobody can set tells.
fn change_secretly(path: &Path, from: &str, to: &str) {
    let before = fs::metadata(path).unwrap().modified().unwrap();
    let text = fs::read_to_string(path).unwrap();
    assert!(text.contains(from) && from.len() == to.len());
    fs::write(path, text.replacen(from, to, 1)).unwrap();
    fs::File::options().write(true).open(path).unwrap().set_modified(before).unwrap();
}

#[test]
fn whatever_was_touched_is_seen() {
    let place = remembered();
    let touches: [Touch; 9] = [
        ("a word of the same length, the time put back", |place| change_secretly(&place.path("lib/leaflets/notes.md"), "One", "Two")),
        ("a file more", |place| place.write("lib/leaflets/more.md", "---\ntitle: More\n---\n\nMore.\n")),
        ("a file less", |place| fs::remove_file(place.path("lib/leaflets/more.md")).unwrap()),
        ("a file of another name", |place| fs::rename(place.path("lib/leaflets/notes.md"), place.path("lib/leaflets/other.md")).unwrap()),
        ("a page of the site", |place| change_secretly(&place.path("site/index.html"), "<", ">")),
        ("a page of the site gone", |place| fs::remove_file(place.path("site/index.html")).unwrap()),
        ("a file of somebody else in the site", |place| place.write("site/own.txt", "own")),
        ("an empty folder in the site", |place| fs::create_dir(place.path("site/empty")).unwrap()),
        ("the site gone", |place| fs::remove_dir_all(place.path("site")).unwrap()),
    ];
    for (what, touch) in touches {
        touch(&place);
        assert!(!is_same(&place), "{what}");
        assert_eq!(publish(&place, &[]).status, 0, "{what}");
        remember(&place);
    }
    // What is not read is not looked at.
    place.write("lib/.swap", "x");
    place.write("lib/procedures/.swap", "x");
    remember(&place);
    fs::write(place.path("lib/procedures/.swap"), "y").unwrap();
    assert!(is_same(&place));
}

#[test]
fn another_wish_is_another() {
    let place = remembered();
    assert!(matches!(look(&place, false, DAY).last(&place.path("site")), Last::Other));
    assert!(matches!(look(&place, true, date(2026, 11, 27)).last(&place.path("site")), Last::Other));
    assert!(is_same(&place));
}

#[test]
fn what_could_be_touched_within_the_same_tick_is_not_kept() {
    let place = remembered();
    place.write("lib/leaflets/notes.md", "---\ntitle: Notes\n---\n\nThree.\n");
    let again = look(&place, true, DAY);
    settle();
    again.keep(&place.path("site"), CAME);
    assert!(matches!(look(&place, true, DAY).last(&place.path("site")), Last::Other), "it was looked at within the tick");
    // A time that lies ahead, as from another machine's clock, never settles.
    let ahead = std::time::SystemTime::now() + Duration::from_secs(3600);
    fs::File::options().write(true).open(place.path("lib/leaflets/notes.md")).unwrap().set_modified(ahead).unwrap();
    settle();
    look(&place, true, DAY).keep(&place.path("site"), CAME);
    assert!(matches!(look(&place, true, DAY).last(&place.path("site")), Last::Other));
}

#[cfg(unix)]
#[test]
fn with_a_link_nothing_is_kept() {
    let place = remembered();
    std::os::unix::fs::symlink("notes.md", place.path("lib/leaflets/linked.md")).unwrap();
    settle();
    look(&place, true, DAY).keep(&place.path("site"), CAME);
    assert!(!is_same(&place));
    assert_eq!(place.below("cache"), []);
}

#[test]
fn the_program_says_the_same_again_and_writes_the_same() {
    let place = Place::new();
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    settle();
    let first = publish(&place, &[]);
    let site = place.below("site");
    let second = publish(&place, &[]);
    assert!(first.err.contains("wrote ") && second.err.contains("nothing changed: "), "{}\n{}", first.err, second.err);
    let summary = |ran: &Ran| ran.err.lines().find(|line| line.contains("procedures:")).map(str::to_owned);
    assert_eq!(summary(&first), summary(&second));
    assert!(summary(&first).is_some());
    assert_eq!(place.below("site"), site);
    // Damaged: told, and done in full.
    let [(name, _)] = &place.below("cache/stepward")[..] else { panic!("one file is kept") };
    for damage in ["", "{", "[1]", "{\"schema\":\"stepward/again/0\"}"] {
        place.write(&format!("cache/stepward/{name}"), damage);
        let ran = publish(&place, &[]);
        assert!(ran.status == 0 && ran.err.contains("made anew") && ran.err.contains("nothing changed"), "{}", ran.err);
        assert!(!publish(&place, &[]).err.contains("made anew"));
    }
    // Without a folder for cached files all goes as ever.
    let without = place.run(&["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-11-26"]);
    assert!(without.status == 0 && without.err.contains("nothing changed"));
    // JSON holds more than findings: it is made in full.
    let json = publish(&place, &["--format", "json"]);
    assert_eq!(json.out, place.run(&["publish", "lib", "--to", "other", "--unreleased", "--today", "2026-11-26", "--format", "json"]).out);
    assert!(json.out.contains('{'));
}

#[test]
fn warnings_are_shown_each_time() {
    let place = Place::new();
    assert_eq!(place.run(&["create", "lib"]).status, 0);
    place.write(
        "lib/procedures/loose.md",
        "---\ntitle: Loose\nowner: nobody known\nfor: ordinary\nsteps:\n  a: { do: Wait there, outcome: fixed }\n---\n",
    );
    settle();
    let runs: Vec<Ran> = (0..3).map(|_| publish(&place, &[])).collect();
    let shown: Vec<&str> = runs.iter().map(|ran| ran.out.as_str()).collect();
    assert!(!shown[0].is_empty(), "{}", runs[0].err);
    assert!(shown.iter().all(|one| *one == shown[0]));
    // Refused: what was kept is forgotten, and refused again.
    place.write("lib/procedures/broken.md", "---\ntitle: Broken\nsteps:\n  a: { do: Wait there, then: nowhere }\n---\n");
    settle();
    assert!((0..2).all(|_| publish(&place, &[]).status == 1));
}
