//! Publishing: a site as a whole or not at all, whatever fails; and reading a library from a disk.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use jiff::civil::Date;
use stepward::build::disk::Disk;
use stepward::build::failure::Failure;
use stepward::build::manifest::{self, Manifest};
use stepward::build::memory::{Fails, Memory};
use stepward::build::pipeline::{self, Published};
use stepward::build::publish::{Put, Site, Written, publish};
use stepward::build::world::World;
use stepward::text::folder::{Entry, LARGEST_FILE};

use crate::support::command::Place;

const TODAY: Date = Date::constant(2026, 11, 25);

fn site(files: &[(&str, &str)]) -> Site<'static> {
    let files = files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect();
    Site::of(files, false, false)
}

fn old_site() -> Site<'static> {
    site(&[("index.html", "old"), ("gone.html", "old"), ("parts/a.css", "old")])
}

fn new_site() -> Site<'static> {
    site(&[("index.html", "new"), ("parts/a.css", "new"), ("parts/deep/b.css", "new")])
}

/// A world with a library, and with the old site and a stranger's files in the target.
fn world() -> Memory {
    let world = Memory::of(TODAY, [("lib/library.yaml", "title: T\n")]);
    publish(&world, Path::new("lib"), Path::new("out"), &old_site()).expect("the first site is written");
    for (path, text) in [("out/notes.txt", "mine"), ("out/.git/refs/", ""), ("out/parts/mine.css", "mine")] {
        world.files().insert(path.to_owned(), text.as_bytes().to_vec());
    }
    world.afresh(Fails::Never)
}

fn publish_new(world: &Memory) -> Result<Written, Failure> {
    publish(world, Path::new("lib"), Path::new("out"), &new_site())
}

#[test]
fn a_site_replaces_the_one_before_and_keeps_what_is_not_its_own() {
    let world = world();
    let written = publish_new(&world).expect("it is written");
    assert_eq!(written, Written { files: 4, written: 4, carried: 2, changed: Vec::new(), left_over: None });
    let out = world.below(Path::new("out"));
    let names: Vec<&str> = out.keys().map(String::as_str).collect();
    assert_eq!(names, [".git/refs/", "index.html", "notes.txt", "parts/a.css", "parts/deep/b.css", "parts/mine.css", "stepward-site.json"]);
    assert_eq!(out["notes.txt"], b"mine");
    assert_eq!(out["index.html"], b"new");
    assert_eq!(world.below(Path::new("out.aside")), BTreeMap::new());
}

#[test]
fn what_is_there_already_is_carried_over_and_the_same_site_touches_nothing() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    let (disk, lib, out) = (Disk { today: TODAY }, place.path("lib"), place.path("out"));
    let first = site(&[("index.html", "one"), ("parts/a.css", "same"), ("gone.html", "old")]);
    publish(&disk, &lib, &out, &first).expect("it is written");
    place.write("out/notes.txt", "mine");
    let long_ago = std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000_000);
    let set_back = |name: &str| {
        std::fs::File::options().write(true).open(out.join(name)).and_then(|file| file.set_modified(long_ago)).expect("a time")
    };
    let is_old = |name: &str| std::fs::metadata(out.join(name)).and_then(|found| found.modified()).expect("a time") == long_ago;
    ["index.html", "parts/a.css", "stepward-site.json"].into_iter().for_each(set_back);
    let second = || site(&[("index.html", "two"), ("parts/a.css", "same"), ("new.html", "new")]);
    let written = publish(&disk, &lib, &out, &second()).expect("it is written");
    assert_eq!(written, Written { files: 4, written: 3, carried: 1, changed: Vec::new(), left_over: None });
    assert!(is_old("parts/a.css") && !is_old("index.html") && !out.join("gone.html").exists());
    ["index.html", "stepward-site.json", "new.html"].into_iter().for_each(set_back);
    let again = publish(&disk, &lib, &out, &second()).expect("nothing to write");
    assert_eq!(again, Written { files: 4, written: 0, carried: 1, changed: Vec::new(), left_over: None });
    assert!(["index.html", "stepward-site.json", "new.html", "parts/a.css"].into_iter().all(is_old));
    // A file that was changed or lost by hand is there again.
    for spoil in [|path: &Path| std::fs::write(path, "touched up"), |path: &Path| std::fs::remove_file(path)] {
        spoil(&out.join("new.html")).expect("spoilt");
        let mended = publish(&disk, &lib, &out, &second()).expect("it is written");
        assert_eq!((mended.written, std::fs::read_to_string(out.join("new.html")).expect("it is there")), (2, "new".to_owned()));
    }
}

#[test]
fn whichever_call_fails_the_site_is_the_old_one_or_the_new_one_whole() {
    let clean = world();
    let old = clean.below(Path::new("out"));
    publish_new(&clean).expect("it is written");
    let new = clean.below(Path::new("out"));
    assert_ne!(old, new);
    let calls = clean.calls();
    assert!(calls > 10, "{calls}");
    for number in 0..calls {
        for fails in [Fails::Once(number), Fails::From(number)] {
            let mut world = world();
            world.fails = fails;
            let done = publish_new(&world);
            let out = world.below(Path::new("out"));
            match &done {
                Ok(written) => {
                    assert_eq!(out, new, "{fails:?}");
                    assert!(written.left_over.is_some(), "{fails:?} kept nothing from being cleared away");
                }
                Err(_) => assert_eq!(out, old, "{fails:?}"),
            }
            let half_written = !world.below(Path::new("out.aside")).is_empty();
            assert!(!half_written || done.is_ok() || fails == Fails::From(number), "{fails:?} left a half-written folder");
        }
    }
    let mut whole = world();
    whole.fails = Fails::Once(calls);
    assert!(publish_new(&whole).is_ok_and(|written| written.left_over.is_none()), "no call was left to fail");
}

#[test]
fn a_site_whose_making_stops_half_way_leaves_the_old_one_and_nothing_beside_it() {
    let stops: [fn() -> Result<(), Failure>; 2] = [|| Err(Failure::NothingReleased), || panic!("a mistake of our own")];
    for stop in stops {
        let world = world();
        let old = world.below(Path::new("out"));
        let make = |put: &Put<'_>| {
            put("index.html".to_owned(), b"new".to_vec())?;
            assert!(!world.below(Path::new("out.aside")).is_empty(), "it is written as it comes");
            stop()
        };
        let site = Site { files: Box::new(make), unreleased: false, review: false };
        let done = catch_unwind(AssertUnwindSafe(|| publish(&world, Path::new("lib"), Path::new("out"), &site)));
        assert!(!matches!(done, Ok(Ok(_))));
        assert_eq!(world.below(Path::new("out")), old);
        assert_eq!(world.below(Path::new("out.aside")), BTreeMap::new());
    }
}

#[test]
fn a_target_that_is_no_site_is_refused_and_not_touched() {
    let damaged =
        [("out/stepward-site.json", "{"), ("out/stepward-site.json", "{\"schema\":\"other/1\",\"unreleased\":false,\"files\":{}}")];
    for (path, text) in [("out/notes.txt", "mine"), ("out/.hidden", "mine"), damaged[0], damaged[1]] {
        let world = Memory::of(TODAY, [("lib/library.yaml", ""), (path, text)]);
        assert_eq!(publish_new(&world), Err(Failure::NotASite { target: "out".into() }), "{path} {text}");
        assert_eq!(world.files().len(), 2);
    }
}

#[test]
fn a_page_does_not_take_the_place_of_a_strangers_file() {
    let world = world();
    world.files().insert("out/parts/deep/b.css".to_owned(), b"mine".to_vec());
    let before = world.below(Path::new("out"));
    assert_eq!(publish_new(&world), Err(Failure::InTheWay { target: "out".into(), file: "parts/deep/b.css".to_owned() }));
    assert_eq!(world.below(Path::new("out")), before);
}

#[test]
fn pages_changed_by_hand_are_named_when_they_are_replaced() {
    let world = world();
    world.files().insert("out/index.html".to_owned(), b"touched up".to_vec());
    assert_eq!(publish_new(&world).map(|written| written.changed), Ok(vec!["index.html".to_owned()]));
}

#[test]
fn a_target_that_would_move_the_library_or_be_read_as_part_of_it_is_refused() {
    for target in ["lib", "lib/procedures", "lib/pictures/site"] {
        let world = Memory::of(TODAY, [("lib/library.yaml", "")]);
        let done = publish(&world, Path::new("lib"), Path::new(target), &new_site());
        assert_eq!(done, Err(Failure::TargetInLibrary { target: target.into() }), "{target}");
    }
    let world = Memory::of(TODAY, [("lib/library.yaml", "")]);
    assert!(publish(&world, Path::new("lib"), Path::new("lib/site"), &new_site()).is_ok());
}

#[test]
fn the_list_of_a_site_is_sorted_and_holds_a_digest_of_every_file() {
    let world = world();
    publish_new(&world).expect("it is written");
    let out = world.below(Path::new("out"));
    let list = String::from_utf8(out[manifest::NAME].clone()).expect("UTF-8");
    let digest = blake3::hash(b"new").to_hex();
    let wanted = format!(
        "{{\n  \"schema\": \"stepward/site/1\",\n  \"unreleased\": false,\n  \"files\": {{\n    \"index.html\": \"{digest}\",\n    \
         \"parts/a.css\": \"{digest}\",\n    \"parts/deep/b.css\": \"{digest}\"\n  }}\n}}\n"
    );
    assert_eq!(list, wanted);
    assert_eq!(
        Manifest::parse(list.as_bytes()),
        Some(Manifest::new(
            ["index.html", "parts/a.css", "parts/deep/b.css"].map(|path| (path.to_owned(), digest.to_string())).into(),
            false,
            false
        ))
    );
}

#[test]
fn on_a_disk_strangers_files_links_and_empty_folders_stay() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    let disk = Disk { today: TODAY };
    let (lib, out) = (place.path("lib"), place.path("out"));
    publish(&disk, &lib, &out, &old_site()).expect("the first site is written");
    place.write("out/notes.txt", "mine");
    std::fs::create_dir_all(place.path("out/.git/refs")).expect("a folder");
    #[cfg(unix)]
    std::os::unix::fs::symlink("notes.txt", place.path("out/latest")).expect("a link");
    let written = publish(&disk, &lib, &out, &new_site()).expect("the second site is written");
    assert_eq!(written.left_over, None);
    assert_eq!(place.read("out/notes.txt").as_deref(), Some("mine"));
    assert_eq!(place.read("out/index.html").as_deref(), Some("new"));
    assert_eq!(place.read("out/gone.html"), None);
    assert!(place.path("out/.git/refs").is_dir());
    #[cfg(unix)]
    assert_eq!(std::fs::read_link(place.path("out/latest")).ok(), Some("notes.txt".into()));
    assert_eq!(std::fs::read_dir(place.path("")).expect("a folder").count(), 2, "only the library and the site are left");
}

#[test]
fn folders_on_the_way_to_a_new_target_are_made() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("a/b/site"), &new_site()).expect("it is written");
    assert_eq!(place.read("a/b/site/index.html").as_deref(), Some("new"));
    assert_eq!(std::fs::read_dir(place.path("a/b")).expect("a folder").count(), 1);
}

#[test]
fn the_pipeline_makes_the_same_site_in_memory_and_on_a_disk_whichever_call_fails() {
    let text = "---\ntitle: Lines\nsteps:\n  book: { do: Book a visit, outcome: handed-over }\n---\n";
    let files = [("lib/library.yaml", "title: T\n"), ("lib/procedures/lines.md", text)];
    let place = Place::new();
    for (name, text) in files {
        place.write(name, text);
    }
    let done = pipeline::publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("out"), true, &|_| {});
    assert!(matches!(done, Ok(Published::Written(..))));
    let on_disk: BTreeMap<String, Vec<u8>> = place.below("out").into_iter().collect();
    let publish_in = |world: &Memory| pipeline::publish(world, Path::new("lib"), Path::new("out"), true, &|_| {});
    let clean = Memory::of(TODAY, files);
    assert!(matches!(publish_in(&clean), Ok(Published::Written(..))));
    assert_eq!(clean.below(Path::new("out")), on_disk);
    for number in 0..clean.calls() {
        let world = Memory::of(TODAY, files).afresh(Fails::Once(number));
        assert!(publish_in(&world).is_err(), "call {number}");
        assert_eq!(world.below(Path::new("out")), BTreeMap::new(), "call {number}");
    }
}

#[cfg(unix)]
#[test]
fn a_site_can_be_read_by_whoever_could_read_the_one_before() {
    use std::os::unix::fs::PermissionsExt as _;
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    std::fs::create_dir(place.path("out")).expect("a folder");
    std::fs::set_permissions(place.path("out"), std::fs::Permissions::from_mode(0o751)).expect("rights");
    publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("out"), &new_site()).expect("it is written");
    let mode = std::fs::metadata(place.path("out")).expect("a folder").permissions().mode();
    assert_eq!(mode & 0o777, 0o751);
}

#[cfg(unix)]
#[test]
fn a_target_that_is_a_link_stays_one() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    std::fs::create_dir(place.path("v1")).expect("a folder");
    std::os::unix::fs::symlink("v1", place.path("out")).expect("a link");
    publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("out"), &new_site()).expect("it is written");
    assert!(place.path("out").is_symlink());
    assert_eq!(place.read("v1/index.html").as_deref(), Some("new"));
}

#[test]
fn a_target_below_a_file_cannot_be_written_and_says_so() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    place.write("plain", "a file");
    let done = publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("plain/site"), &new_site());
    assert!(done.expect_err("it cannot be written").to_string().contains("is a file, not a folder"));
    assert!(publish(&Disk { today: TODAY }, &place.path("lib"), &place.path("plain"), &new_site()).is_err());
    assert_eq!(place.read("plain").as_deref(), Some("a file"));
}

#[test]
fn only_what_belongs_to_a_library_is_read() {
    let place = Place::new();
    let read =
        ["approvals.yaml", "leaflets/about.md", "library.yaml", "pictures/a/b.png", "procedures/x.md", "procedures/y/z.txt", "stop.md"];
    let not_read = ["README.md", ".hidden", "other/x.md", "procedures/.x.md.swp", "procedures/.git/x.md", "sub/library.yaml"];
    for name in read.into_iter().chain(not_read) {
        place.write(&format!("lib/{name}"), name);
    }
    let folder = Disk { today: TODAY }.library(&place.path("lib")).expect("it can be read");
    assert_eq!(folder.entries.keys().map(String::as_str).collect::<Vec<_>>(), read);
    assert_eq!(folder.entries["stop.md"], Entry::File(b"stop.md".to_vec()));
}

#[test]
fn the_disk_and_the_memory_world_read_the_same_library() {
    let files = [("lib/library.yaml", "a"), ("lib/procedures/x/y.md", "b"), ("lib/procedures/.z.md", "c"), ("lib/other.yaml", "d")];
    let place = Place::new();
    for (name, text) in files {
        place.write(name, text);
    }
    let on_disk = Disk { today: TODAY }.library(&place.path("lib")).expect("it can be read");
    let in_memory = Memory::of(TODAY, files).library(Path::new("lib")).expect("it can be read");
    assert_eq!(on_disk, in_memory);
    assert_eq!(on_disk.entries.len(), 2);
}

#[test]
fn a_file_over_the_largest_size_is_not_read() {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\n");
    for (name, size) in [("lib/pictures/fits.png", LARGEST_FILE), ("lib/pictures/large.png", LARGEST_FILE + 1)] {
        place.write(name, "");
        std::fs::OpenOptions::new().write(true).open(place.path(name)).and_then(|file| file.set_len(size)).expect("a large file");
    }
    let folder = Disk { today: TODAY }.library(&place.path("lib")).expect("it can be read");
    assert_eq!(folder.entries["pictures/large.png"], Entry::TooLarge(LARGEST_FILE + 1));
    assert!(matches!(&folder.entries["pictures/fits.png"], Entry::File(bytes) if bytes.len() as u64 == LARGEST_FILE));
}

#[cfg(unix)]
#[test]
fn links_inside_a_library_are_followed_and_links_out_of_it_are_not() {
    let place = Place::new();
    place.write("secret.md", "outside");
    place.write("elsewhere/x.md", "outside");
    place.write("lib/library.yaml", "title: T\n");
    place.write("lib/shared/a.md", "a");
    place.write("lib/procedures/real/b.md", "b");
    let link = |to: &str, name: &str| std::os::unix::fs::symlink(to, place.path(name)).expect("a link");
    link("../shared/a.md", "lib/procedures/a.md");
    link("../shared", "lib/procedures/shared");
    link("..", "lib/procedures/circle");
    link("../procedures", "lib/shared/back");
    link("../../secret.md", "lib/procedures/out.md");
    link("../../elsewhere", "lib/procedures/elsewhere");
    link("../../nowhere.md", "lib/procedures/gone.md");
    let disk = Disk { today: TODAY };
    let folder = disk.library(&place.path("lib")).expect("it can be read");
    let found: Vec<(&str, bool)> = folder.entries.iter().map(|(path, entry)| (path.as_str(), *entry == Entry::Outside)).collect();
    let read = |path| (path, false);
    let outside = |path| (path, true);
    for wanted in [
        read("procedures/a.md"),
        read("procedures/real/b.md"),
        read("procedures/shared/a.md"),
        outside("procedures/out.md"),
        outside("procedures/elsewhere"),
        outside("procedures/gone.md"),
    ] {
        assert!(found.contains(&wanted), "{wanted:?} in {found:?}");
    }
    assert!(!found.iter().any(|(path, _)| path.contains("x.md") || path.contains("circle") || path.contains("back")), "{found:?}");
    link("nothing.md", "lib/procedures/dead.md");
    assert_eq!(disk.library(&place.path("lib")), Err(Failure::DeadLink { path: place.path("lib/procedures/dead.md") }));
}

/// A page with a picture needs the picture: in the site it stands where it stood in the library, byte for byte.
#[test]
fn pictures_are_published_as_they_are() {
    use stepward::build::pipeline::{self, Published};
    let folder = tempfile::tempdir().expect("a temporary folder");
    let library = folder.path().join("library");
    let put = |path: &str, bytes: &[u8]| {
        let path = library.join(path);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("written");
        std::fs::write(path, bytes).expect("written");
    };
    put("library.yaml", b"title: Pictures\n");
    put("pictures/drum.png", b"\x89PNG\r\n\x1a\n and more");
    put("procedures/look.md", b"---\ntitle: Look\nsteps:\n  end: { do: Call the desk, outcome: handed-over }\n---\n\n## The end {#end}\n\n![The drum seen from the left](../pictures/drum.png)\n");
    let target = folder.path().join("site");
    let world = stepward::build::disk::Disk { today: jiff::civil::date(2026, 11, 24) };
    let Ok(Published::Written(..)) = pipeline::publish(&world, &library, &target, true, &|_| {}) else { panic!("the library is sound") };
    assert_eq!(std::fs::read(target.join("pictures/drum.png")).expect("published"), b"\x89PNG\r\n\x1a\n and more");
    let page = std::fs::read_to_string(target.join("procedures/look.html")).expect("published");
    assert!(page.contains("../pictures/drum.png"));
}
