//! The preview makes each file when it is asked for: the same bytes as in a site, and of what is broken the last that was sound.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::{Date, date};
use stepward::analyse::{self, Verdict};
use stepward::build::disk::Disk;
use stepward::build::draft::Draft;
use stepward::build::pipeline::{self, Published};
use stepward::build::world::World;
use stepward::preview::shelf::Shelf;
use stepward::read::{self, reader::Reader};
use stepward::rules::known::Known;
use stepward::text::folder::{Entry, Folder};
use stepward::theme;

use crate::support::random::Random;

const TODAY: Date = date(2026, 11, 24);

fn content() -> (PathBuf, Folder) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("content");
    let folder = Disk { today: TODAY }.library(&path).unwrap();
    (path, folder)
}

/// The folder with one text in a file put in another's place.
fn edited(folder: &Folder, path: &str, from: &str, to: &str) -> Folder {
    let mut folder = folder.clone();
    let Some(Entry::File(bytes)) = folder.entries.get_mut(path) else { panic!("{path} is there") };
    let text = String::from_utf8(bytes.clone()).unwrap();
    assert!(text.contains(from), "{path} says {from}");
    *bytes = text.replacen(from, to, 1).into_bytes();
    folder
}

#[test]
fn each_file_made_alone_is_that_of_the_whole_site() {
    let (path, folder) = content();
    let target = tempfile::tempdir().unwrap();
    let Published::Written(..) = pipeline::publish(&Disk { today: TODAY }, &path, &target.path().join("site"), true, &|_| {}).unwrap()
    else {
        panic!("it is published");
    };
    let draft = Draft::of(folder, TODAY, &Reader::default(), &Known::default(), Arc::default());
    let (mut same, mut other) = (0, Vec::new());
    for entry in
        walkdir::WalkDir::new(target.path().join("site")).into_iter().filter_map(Result::ok).filter(|entry| entry.file_type().is_file())
    {
        let name = entry.path().strip_prefix(target.path().join("site")).unwrap().to_string_lossy().into_owned();
        // The list and the worker know all files of a site that is written.
        if ["stepward-site.json", "offline.js"].contains(&name.as_str()) {
            continue;
        }
        match draft.file(&name) {
            Some(bytes) if *bytes == fs::read(entry.path()).unwrap() => same += 1,
            _ => other.push(name),
        }
    }
    assert!(other.is_empty(), "{other:?}");
    assert!(same > 200, "{same} files");
    for path in [
        "",
        "x",
        "x.html",
        "procedures/x.html",
        "procedures/.html",
        "posters/x.html",
        "review/x.html",
        "rules/x.html",
        "leaflets/x.html",
        "assets/x.js",
        "assets/flow-isolate-.js",
        "schemas/x.json",
        "changes.xml",
    ] {
        assert!(draft.file(path).is_none(), "{path}");
    }
}

fn shelf(folder: Folder) -> Shelf {
    Shelf::empty(theme::words().unwrap(), "content/", TODAY).next(Ok(folder), TODAY).unwrap()
}

fn assets_of(page: &str) -> Vec<String> {
    page.split("../assets/").skip(1).map(|rest| format!("assets/{}", rest.split('"').next().unwrap())).collect()
}

#[test]
fn what_breaks_keeps_its_last_page_and_what_that_asks_for() {
    let (_, folder) = content();
    let words = theme::words().unwrap();
    let (id, file) = ("jam-before-drum", "procedures/jam-before-drum.md");
    let page = format!("procedures/{id}.html");
    let first = shelf(folder.clone());
    let sound = first.page(&page).html;
    let broken = edited(&folder, file, "steps:", "stops:");
    let second = first.next(Ok(broken.clone()), TODAY).unwrap();
    let last = second.page(&page).html;
    assert!(last.contains(words.say("preview", "last-good")) && !sound.contains(words.say("preview", "last-good")));
    let main = |html: &str| html.split("<main").nth(1).unwrap().to_owned();
    assert_eq!(main(&last), main(&sound));
    // Never opened before it broke, and with every asset it asks for, though nobody asked for those before either.
    let poster = format!("posters/{id}.html");
    assert!(second.page(&poster).html.contains(words.say("preview", "last-good")));
    assert!(assets_of(&last).len() > 5);
    for asset in assets_of(&last) {
        assert!(second.file(&asset).is_some(), "{asset}");
    }
    // Others are made anew, and the broken one is not among what they find.
    assert!(!second.page("index.html").html.contains(words.say("preview", "last-good")));
    // Broken in another way the last good page stays; mended it is the first again, and nothing is kept.
    let third = second.next(Ok(edited(&broken, file, "stops:", "halts:")), TODAY).unwrap();
    assert_eq!(main(&third.page(&page).html), main(&sound));
    let mended = third.next(Ok(folder), TODAY).unwrap();
    assert_eq!(mended.page(&page).html, sound);
    assert_eq!((third.kept() > 1, mended.kept()), (true, 0));
    // With its file it is gone.
    let mut without = broken;
    without.entries.remove(file);
    let gone = second.next(Ok(without), TODAY).unwrap();
    assert!(!gone.has_page(&page) && gone.file(&page).is_none());
}

#[test]
fn a_library_in_doubt_shows_all_its_last_pages() {
    let (_, folder) = content();
    let words = theme::words().unwrap();
    let first = shelf(folder.clone());
    let doubtful = edited(&folder, "safety.yaml", "hazards:", "hazzards:");
    let second = first.next(Ok(doubtful), TODAY).unwrap();
    for page in ["index.html", "stages.html", "procedures/faint-print.html", "leaflets/glossary.html"] {
        assert!(second.page(page).html.contains(words.say("preview", "last-good")), "{page}");
    }
    assert!(second.next(Ok(folder), TODAY).unwrap().page("index.html").html == first.page("index.html").html);
}

/// One file changed as it happens: a letter lost or put in, a line gone, twice the same, cut short, no text at all, gone, back, or a new one before others.
fn changed(folder: &mut Folder, first: &Folder, random: &mut Random) {
    let paths: Vec<String> = first.entries.keys().filter(|path| path.ends_with(".md") || path.ends_with(".yaml")).cloned().collect();
    let path = random.pick(&paths).clone();
    let written = match folder.entries.get(&path) {
        Some(Entry::File(bytes)) => bytes.clone(),
        _ => Vec::new(),
    };
    let at = random.below(written.len().max(1)).min(written.len());
    let bytes = match random.below(9) {
        0 => [&written[..at], &written[(at + 1).min(written.len())..]].concat(),
        1 => [&written[..at], b"x", &written[at..]].concat(),
        2 => {
            let line = |skip: usize| written.split_inclusive(|byte| *byte == b'\n').skip(skip);
            let gone = random.below(line(0).count().max(1));
            line(0).take(gone).chain(line(gone + 1)).flatten().copied().collect()
        }
        3 => [written.as_slice(), written.as_slice()].concat(),
        4 => written[..at].to_vec(),
        5 => [&written[..at], &[0xff], &written[at..]].concat(),
        6 => {
            folder.entries.remove(&path);
            return;
        }
        7 => {
            folder.entries.insert(format!("procedures/a{}.md", random.below(3)), Entry::File(written));
            return;
        }
        _ => match first.entries.get(&path) {
            Some(Entry::File(bytes)) => bytes.clone(),
            _ => return,
        },
    };
    folder.entries.insert(path, Entry::File(bytes));
}

#[test]
fn a_library_read_again_after_any_edit_is_as_if_read_for_the_first_time() {
    let (_, first) = content();
    let mut folder = first.clone();
    let mut random = Random::new(20_261_126);
    let reader = Reader::default();
    let mut with_findings = 0;
    for edit in 0..150 {
        let (again, found_again) = reader.read(&folder);
        let (fresh, found) = read::read(&folder);
        assert_eq!(format!("{again:?} {found_again:?}"), format!("{fresh:?} {found:?}"), "after {edit} edits");
        with_findings += usize::from(!found.is_empty());
        changed(&mut folder, &first, &mut random);
        if edit % 20 == 19 {
            folder = first.clone();
        }
    }
    assert!((40..150).contains(&with_findings), "{with_findings}");
}

fn file_text(folder: &Folder, path: &str) -> String {
    folder.entries.get(path).map(crate::mutants::text).unwrap_or_default()
}

fn id_of(path: &str) -> &str {
    path.rsplit('/').next().and_then(|name| name.strip_suffix(".md")).unwrap_or_default()
}

/// A day passes, or one file is changed in a way that leaves most of it as it was. `true` if it may be damaged, so that much is not judged.
fn touched(folder: &mut Folder, first: &Folder, day: &mut Date, random: &mut Random) -> bool {
    let line = |path: &str, folder: &mut Folder, change: &dyn Fn(&str) -> Option<String>| {
        let lines: Vec<String> = file_text(folder, path).lines().filter_map(change).collect();
        folder.entries.insert(path.to_owned(), Entry::File((lines.join("\n") + "\n").into_bytes()));
    };
    let paths: Vec<String> = first.entries.keys().filter(|path| path.starts_with("procedures/")).cloned().collect();
    // Half of them in what others carry out.
    let carried_out = |path: &&String| paths.iter().any(|other| file_text(first, other).contains(&format!("carry-out: {}", id_of(path))));
    let tasks: Vec<String> = paths.iter().filter(carried_out).cloned().collect();
    let some = if random.below(2) == 0 { &tasks } else { &paths };
    let path = random.pick(some).clone();
    let one_in = random.below(4) + 1;
    let key = *random.pick(&["sets", "clears", "cautions", "exposes", "touches", "requires", "wait"]);
    let said = "Remove it at once, with both hands and with all that belongs to it, and put it away on the table beside the door where nobody walks";
    let under_headings =
        |said: &str, line: &str| Some(if line.starts_with("## ") { format!("{line}\n\n{said}.") } else { line.to_owned() });
    match random.below(12) {
        0 => *day = day.checked_add(jiff::Span::new().days(40)).expect("a day"),
        1 => line("safety.yaml", folder, &|line| Some(line.replace("steps: 6", "steps: 2"))),
        2 => line("equipment.yaml", folder, &|line| Some(line.replace(" min", " h"))),
        3 => line(&path, folder, &|line| under_headings(said, line)),
        4 => line(&path, folder, &|line| under_headings("Power on", line)),
        5 => line(&path, folder, &|line| Some(line.replace("[mains-on]", "[at-rest]"))),
        6..10 => {
            let forgotten =
                |line: &str| if line.len().is_multiple_of(one_in) { crate::mutants::without(line, &[key]) } else { Some(line.to_owned()) };
            line(&path, folder, &forgotten);
        }
        10 => {
            line(&path, folder, &|line| Some(line.replace("then: ", if line.len().is_multiple_of(one_in) { "then: x" } else { "then: " })));
            return true;
        }
        _ => {
            changed(folder, first, random);
            return true;
        }
    }
    false
}

#[test]
fn a_library_judged_again_after_any_edit_is_as_if_judged_for_the_first_time() {
    for (mut first, edits) in [(crate::mutants::sample(), 240), (crate::mutants::shipped(), 30)] {
        // Words that are true by what is carried out there.
        let told = |(path, entry): (&String, &mut Entry)| {
            if path.starts_with("procedures/") {
                let text = crate::mutants::text(entry);
                let line = |line: &str| if line.starts_with("## Power ") { format!("{line}\n\nPower on.\n") } else { format!("{line}\n") };
                *entry = Entry::File(text.lines().map(line).collect::<String>().into_bytes());
            }
        };
        first.entries.iter_mut().for_each(told);
        let (reader, known) = (Reader::default(), Known::default());
        let (mut folder, mut day) = (first.clone(), TODAY);
        let mut random = Random::new(20_261_127);
        let mut seen = BTreeSet::new();
        let mut damaged = false;
        for edit in 0..edits {
            let (library, found) = reader.read(&folder);
            let again = analyse::analyse_again(library, found, day, &known);
            let (library, found) = read::read(&folder);
            let fresh = analyse::analyse(library, found, day);
            let shown = |verdict: &Verdict| (format!("{:#?}", verdict.findings), verdict.not_analysed.clone());
            assert_eq!(shown(&again), shown(&fresh), "after {edit} edits");
            seen.extend(fresh.findings.iter().map(|finding| finding.rule.name));
            if damaged || edit % 10 == 9 {
                (folder, day) = (first.clone(), TODAY);
            }
            damaged = touched(&mut folder, &first, &mut day, &mut random);
        }
        for rule in
            ["caution-missing", "approval-stale", "hazard-undeclared", "condition-undeclared", "reach-undeclared", "instruction-long"]
        {
            assert!(seen.contains(rule) || edits < 100, "no edit led to {rule}: {seen:?}");
        }
    }
}

#[test]
fn where_a_procedure_is_referred_to_it_is_judged_again_when_it_is_for_others() {
    let (_, first) = content();
    let second = edited(&first, "procedures/repeating-marks.md", "\nfor: ordinary", "\nfor: skilled");
    let (reader, known) = (Reader::default(), Known::default());
    let again = |folder: &Folder| {
        let (library, found) = reader.read(folder);
        format!("{:?}", analyse::analyse_again(library, found, TODAY, &known).findings)
    };
    let fresh = |folder: &Folder| {
        let (library, found) = read::read(folder);
        analyse::analyse(library, found, TODAY)
    };
    again(&first);
    let wanted = fresh(&second);
    let elsewhere = |finding: &&stepward::finding::Finding| finding.procedure.as_ref().is_some_and(|id| id.as_str() != "repeating-marks");
    assert!(wanted.findings.iter().filter(elsewhere).any(|finding| finding.rule.name == "beyond-competence"), "{:?}", wanted.findings);
    assert_eq!(again(&second), format!("{:?}", wanted.findings));
    assert_eq!(again(&first), format!("{:?}", fresh(&first).findings));
}

#[test]
fn only_what_an_edit_touches_is_judged_again() {
    let (_, first) = content();
    let (reader, known) = (Reader::default(), Known::default());
    let judged = |folder: &Folder| {
        let before = known.made();
        let (library, found) = reader.read(folder);
        let _ = analyse::analyse_again(library, found, TODAY, &known);
        known.made() - before
    };
    let (all, kept) = (judged(&first), known.kept());
    assert_eq!((all, judged(&first)), (kept, 0));
    let words = edited(&first, "procedures/echo-image.md", "\n## ", "\n\nOne more word.\n\n## ");
    assert_eq!(judged(&words), 5, "nobody carries it out or refers to it: each of the five judgements of it alone");
    let task = edited(&first, "procedures/isolate.md", "\n## ", "\n\nOne more word.\n\n## ");
    let of_task = judged(&task);
    assert!(of_task > 10 && of_task < all, "those that carry it out are judged anew in what rests on it: {of_task} of {all}");
    assert_eq!(judged(&edited(&task, "safety.yaml", "hazards:", "hazards:\n")), all, "a catalogue is everybody's ground");
    assert_eq!(known.kept(), kept, "what is gone is forgotten");
}
