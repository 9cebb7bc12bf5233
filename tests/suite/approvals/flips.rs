//! Every value that an approval rests on, changed in turn, voids it, and names what changed; every other leaves it.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};
use stepward::text::folder::{Entry, Folder};

use super::sample::{All, Leaf, callers, digests, id_of, leaves, procedures, put, sample, text, voided, with, yaml_of};

/// Another value of the same sort.
fn other(leaf: &Leaf, written: &str) -> String {
    match leaf.says.as_str() {
        "ordinary" => "skilled".to_owned(),
        "true" => "false".to_owned(),
        says if says.starts_with(|c: char| c.is_ascii_digit()) && !says.contains('-') => written.replacen(says, &format!("1{says}"), 1),
        _ if written.ends_with('"') => format!("{}x\"", &written[..written.len() - 1]),
        _ => format!("{written}x"),
    }
}

fn flipped(text: &str, leaf: &Leaf) -> String {
    let mut changed = text.to_owned();
    changed.replace_range(leaf.at.clone(), &other(leaf, &text[leaf.at.clone()]));
    changed
}

/// Whether a value of a procedure's front matter is no part of what is approved (`safety.md`, "Approval").
fn is_out(leaf: &Leaf) -> bool {
    ["status", "owner", "symptoms", "codes"].contains(&leaf.key(0))
        || (leaf.key(0) == "faults" && leaf.key(2) == "weight")
        || (leaf.key(0) == "steps" && (leaf.key(2) == "cost" || (leaf.path.iter().any(|key| key == "when") && leaf.says != "fixed")))
}

/// A procedure and all it carries out, with the files that are shared: enough to make its digest, and quicker read than the whole.
fn around(folder: &Folder, id: &str) -> Folder {
    let needed = |path: &String| !path.starts_with("procedures/") || callers(folder, &id_of(path)).contains(id);
    Folder { entries: folder.entries.iter().filter(|(path, _)| needed(path)).map(|(path, entry)| (path.clone(), entry.clone())).collect() }
}

fn report(wrong: &[String]) {
    assert!(wrong.is_empty(), "{} are wrong\n{}", wrong.len(), wrong[..wrong.len().min(30)].join("\n"));
}

#[test]
fn every_value_of_the_front_matter_voids_or_does_not_as_the_handbook_says() {
    let whole = sample();
    let (every, whole_ones) = if std::env::var_os("SLOW").is_some() { (1, 1) } else { (11, 2) };
    let (mut voiding, mut sparing) = (0, 0);
    for path in procedures(&whole) {
        let id = id_of(&path);
        let folder = around(&whole, &id);
        let (before, source) = (digests(&folder), text(&folder, &path));
        // Unless there is time, every second value of those with everything in them, and some of the others.
        let step = if ["isolate", "dirt-on-the-back", "toner-rubs-off"].contains(&id.as_str()) { whole_ones } else { every };
        let all: Vec<Leaf> = leaves(&path, &source).into_iter().step_by(step).collect();
        let wrong: Vec<String> = all
            .par_iter()
            .filter_map(|leaf| {
                let found = voided(&before, &with(&folder, &path, flipped(&source, leaf)));
                let named = match leaf.key(0) {
                    "steps" | "start" => "steps",
                    "waivers" => "waivers",
                    _ => "card",
                };
                let right = if is_out(leaf) { found.is_empty() } else { found.len() == 1 && found[&id].iter().any(|name| name == named) };
                (!right).then(|| format!("{path}: {:?} {:?}: {found:?}", leaf.path, leaf.says))
            })
            .collect();
        report(&wrong);
        sparing += all.iter().filter(|leaf| is_out(leaf)).count();
        voiding += all.iter().filter(|leaf| !is_out(leaf)).count();
    }
    assert!(voiding > 200 && sparing > 20, "{voiding} values void, {sparing} do not");
}

#[test]
fn every_word_below_the_front_matter_voids() {
    let whole = sample();
    let mut tried = 0;
    for path in procedures(&whole) {
        let id = id_of(&path);
        let folder = around(&whole, &id);
        let (before, source) = (digests(&folder), text(&folder, &path));
        let body = yaml_of(&path, &source).end + 4;
        let ends: Vec<usize> = source[body..].match_indices(|c: char| !c.is_alphanumeric()).map(|(at, _)| body + at).collect();
        let words = ends.into_iter().filter(|at| source[..*at].ends_with(|c: char| c.is_alphanumeric()));
        let words: Vec<usize> = words.step_by(if std::env::var_os("SLOW").is_some() { 1 } else { 20 }).collect();
        let wrong: Vec<String> = words
            .par_iter()
            .filter_map(|at| {
                let mut changed = source.clone();
                changed.insert(*at, 'x');
                let found = voided(&before, &with(&folder, &path, changed));
                let right = found.len() == 1 && found[&id].contains(&"words".to_owned());
                (!right).then(|| format!("{path}: {:?}: {found:?}", source[..*at].rsplit(' ').next()))
            })
            .collect();
        report(&wrong);
        tried += words.len();
    }
    assert!(tried > 100, "only {tried} words");
}

/// What each procedure names of the catalogue and the figures: its own words under the keys that name such things, then what these entries name.
fn uses(folder: &Folder, path: &str) -> BTreeSet<String> {
    const LISTS: [&str; 8] = ["touches", "exposes", "cautions", "requires", "sets", "clears", "wait-for", "hazard"];
    const MAPS: [&str; 3] = ["not-touching", "not-changing", "parts"];
    let source = text(folder, path);
    let mut all: BTreeSet<String> = BTreeSet::new();
    for leaf in leaves(path, &source) {
        let last = leaf.path.last().unwrap().as_str();
        if LISTS.contains(&last) {
            all.insert(leaf.says.clone());
        }
        if ["below", "up-to"].contains(&last) || last == "formula" {
            all.extend(leaf.says.split(' ').map(str::to_owned));
        }
        for pair in leaf.path.windows(2).filter(|pair| MAPS.contains(&pair[0].as_str())) {
            all.insert(pair[1].clone());
        }
    }
    let catalogue = leaves("safety.yaml", &text(folder, "safety.yaml"));
    loop {
        let before = all.len();
        for leaf in &catalogue {
            let key = leaf.key(2);
            let names = match leaf.key(0) {
                "parts" => key == "hazards",
                "hazards" => ["requires", "returns-with"].contains(&key),
                "conditions" => ["after", "clears", "takes"].contains(&key),
                _ => false,
            };
            if names && all.contains(leaf.key(1)) {
                all.insert(leaf.says.clone());
            }
        }
        if all.len() == before {
            return all;
        }
    }
}

/// The procedures that use it, and all that carry these out.
fn concerned(folder: &Folder, uses: &BTreeMap<String, BTreeSet<String>>, name: &str) -> BTreeSet<String> {
    uses.iter().filter(|(_, names)| names.contains(name)).flat_map(|(id, _)| callers(folder, id)).collect()
}

fn all_uses(folder: &Folder) -> BTreeMap<String, BTreeSet<String>> {
    procedures(folder).iter().map(|path| (id_of(path), uses(folder, path))).collect()
}

/// Compares whom a change voids with whom it concerns; those that use it themselves name it.
fn judge(before: &All, folder: &Folder, concerned: &BTreeSet<String>, direct: &dyn Fn(&str) -> bool, name: &str) -> Option<String> {
    let found = voided(before, folder);
    let ids: BTreeSet<String> = found.keys().cloned().collect();
    let named = found
        .iter()
        .all(|(id, names)| if direct(id) { names.iter().any(|one| one == name) } else { names.iter().all(|one| one.starts_with("task/")) });
    (ids != *concerned || !named).then(|| format!("{name}: {found:?}, not {concerned:?}"))
}

#[test]
fn every_value_of_the_catalogue_voids_just_the_procedures_that_use_it() {
    let folder = sample();
    let (before, uses) = (digests(&folder), all_uses(&folder));
    let source = text(&folder, "safety.yaml");
    let all = leaves("safety.yaml", &source).into_iter().filter(|leaf| leaf.key(0) != "caution-within");
    let all: Vec<Leaf> = all.step_by(if std::env::var_os("SLOW").is_some() { 1 } else { 3 }).collect();
    let entries: BTreeMap<&str, BTreeSet<String>> =
        all.iter().map(|leaf| leaf.key(1)).map(|id| (id, concerned(&folder, &uses, id))).collect();
    let wrong: Vec<String> = all
        .par_iter()
        .filter_map(|leaf| {
            let changed = with(&folder, "safety.yaml", flipped(&source, leaf));
            let name = format!("{}/{}", leaf.key(0).trim_end_matches('s'), leaf.key(1));
            judge(&before, &changed, &entries[leaf.key(1)], &|id| uses[id].contains(leaf.key(1)), &name)
        })
        .collect();
    report(&wrong);
    let some = entries.values().filter(|ids| !ids.is_empty() && ids.len() < before.len()).count();
    assert!(all.len() > 80 && some > 10, "{} values; {some} entries are used by some procedures and not by all", all.len());
}

#[test]
fn figures_and_tables_void_just_the_procedures_that_use_them() {
    let folder = sample();
    let (before, uses) = (digests(&folder), all_uses(&folder));
    let everyone: BTreeSet<String> = before.keys().cloned().collect();
    let source = text(&folder, "equipment.yaml");
    let mut wrong = Vec::new();
    for leaf in leaves("equipment.yaml", &source) {
        let changed = with(&folder, "equipment.yaml", flipped(&source, &leaf));
        wrong.extend(match leaf.key(2) {
            "figures" => {
                let name = leaf.key(3);
                judge(&before, &changed, &concerned(&folder, &uses, name), &|id| uses[id].contains(name), &format!("figure/{name}"))
            }
            // One procedure reads the table, and what it looks up stands under `parts` there.
            "repeats" => {
                let looked_up = |one: &Leaf| one.path.windows(2).any(|pair| pair[0] == "parts" && pair[1] == leaf.key(3));
                let table = leaves("procedures/repeating-marks.md", &text(&folder, "procedures/repeating-marks.md"));
                let read = |id: &str| id == "repeating-marks" && table.iter().any(looked_up);
                let ids = if read("repeating-marks") { callers(&folder, "repeating-marks") } else { BTreeSet::new() };
                judge(&before, &changed, &ids, &|id| read(id), "table/repeats")
            }
            _ => judge(&before, &changed, &everyone, &|_| true, "models"),
        });
    }
    report(&wrong);
}

#[test]
fn what_all_rest_on_voids_all() {
    let folder = sample();
    let before = digests(&folder);
    let everyone: BTreeSet<String> = before.keys().cloned().collect();
    let library = text(&folder, "library.yaml");
    let lowered = |severity: &str| format!("{library}rules:\n  limit-idle: {{ severity: {severity}, reason: Told apart by hand }}\n");
    let reason = lowered("note").replace("by hand", "by eye");
    let within = text(&folder, "safety.yaml") + "\n";
    let mut cases: Vec<(Folder, &str)> = vec![
        (with(&folder, "library.yaml", lowered("note")), "lowered-rules"),
        (with(&folder, "library.yaml", library.replace("language: en", "language: de")), "language"),
        (with(&folder, "pictures/stop.svg", "<svg />"), "picture/pictures/stop.svg"),
        (with(&folder, "equipment.yaml", text(&folder, "equipment.yaml") + "  third: { name: Third }\n"), "models"),
    ];
    let limits = within.find("caution-within:").map_or_else(
        || within.clone() + "caution-within: { steps: 5, minutes: 15 }\n",
        |at| within[..at].to_owned() + "caution-within: { steps: 4, minutes: 11 }\n",
    );
    cases.push((with(&folder, "safety.yaml", limits), "caution-within"));
    let card = text(&folder, "stop.md");
    for (at, _) in card.match_indices(' ').step_by(9).filter(|(at, _)| card[..*at].ends_with(|c: char| c.is_alphanumeric())) {
        cases.push((with(&folder, "stop.md", format!("{}x{}", &card[..at], &card[at..])), "stop-card"));
    }
    assert!(cases.len() > 15, "{}", cases.len());
    let wrong: Vec<String> = cases.iter().filter_map(|(folder, name)| judge(&before, folder, &everyone, &|_| true, name)).collect();
    report(&wrong);
    let first = digests(&with(&folder, "library.yaml", lowered("note")));
    assert_eq!(voided(&first, &with(&folder, "library.yaml", reason)).len(), before.len(), "the reason of a lowered rule is part of it");
}

#[test]
fn a_picture_voids_the_procedures_that_show_it_and_a_task_those_that_carry_it_out() {
    let folder = sample();
    let before = digests(&folder);
    let changed = with(&folder, "pictures/back of a sheet.svg", "<svg />");
    let shows = callers(&folder, "dirt-on-the-back");
    assert_eq!(judge(&before, &changed, &shows, &|id| id == "dirt-on-the-back", "picture/pictures/back%20.of%20.a%20.sheet.svg"), None);
    for path in procedures(&folder) {
        let id = id_of(&path);
        let changed = with(&folder, &path, text(&folder, &path).replacen("title: ", "title: Now ", 1));
        assert_eq!(judge(&before, &changed, &callers(&folder, &id), &|one| one == id, "card"), None);
        for (caller, names) in voided(&before, &changed).into_iter().filter(|(caller, _)| *caller != id) {
            assert!(names.iter().any(|name| callers(&folder, &id).contains(name.trim_start_matches("task/"))), "{caller}: {names:?}");
        }
    }
    assert!(callers(&folder, "isolate").len() > 3);
}

#[test]
fn what_nobody_uses_voids_nothing() {
    let folder = sample();
    let before = digests(&folder);
    let safety = text(&folder, "safety.yaml");
    let hazard =
        "  new-hazard: { name: New, kind: hot-surface, place: Here, signal-word: notice, nature: A fuser., avoid: Wait., words: [the] }\n";
    let part = "  new-part: { name: New, hazards: [new-hazard], words: [paper, the] }\n";
    let added =
        safety.replacen("\nhazards:\n", &format!("\nhazards:\n{hazard}"), 1).replacen("\nparts:\n", &format!("\nparts:\n{part}"), 1);
    let added = added.replacen("conditions:\n", "conditions:\n  new-condition: { name: New, after: isolated, words: [the] }\n", 1);
    assert_eq!(added.matches("new-").count(), 4);
    let library = text(&folder, "library.yaml");
    let mut gone = folder.clone();
    for path in ["leaflets/about.md", "stages.yaml", "pictures/unused.svg"] {
        gone.entries.remove(path);
    }
    let raised = format!("{library}rules:\n  limit-idle: {{ severity: error, reason: For us it is one }}\n");
    let named =
        library.replacen("title: ", "title: The ", 1).replace("offline-days: 14", "offline-days: 3").replace("training", "instruction");
    let mut more = folder.clone();
    put(&mut more, "procedures/another.md", "---\ntitle: Another\nsteps:\n  end: { do: Book a visit, outcome: handed-over }\n---\n");
    put(&mut more, "approvals.yaml", "approvals:\n  - { procedure: isolate, revision: 1, digest: abc, by: training, on: 2026-11-02 }\n");
    for (what, folder) in [
        ("entries of the catalogue", with(&folder, "safety.yaml", added)),
        ("leaflets, stages, an unused picture", gone),
        ("a raised rule", with(&folder, "library.yaml", raised)),
        ("title, roles and days of the library", with(&folder, "library.yaml", named)),
        ("a procedure more, and approvals", more),
        ("a leaflet", with(&folder, "leaflets/about.md", "# Otherwise\n")),
    ] {
        assert_eq!(voided(&before, &folder), BTreeMap::new(), "{what}");
    }
    assert!(matches!(folder.entries["pictures/unused.svg"], Entry::File(_)));
}

#[test]
fn steps_may_stand_in_any_order_as_long_as_the_same_one_is_first() {
    let file = |start: &str, steps: [&str; 2]| {
        let text = format!("---\ntitle: T\n{start}steps:\n{}{}---\n", steps[0], steps[1]);
        let folder = Folder::of([("library.yaml", "title: T\n"), ("procedures/p.md", text.as_str())]);
        digests(&folder)["p"].clone()
    };
    let (one, two) = ("  one: { do: Look, then: two }\n", "  two: { do: Book a visit, outcome: handed-over }\n");
    let plain = file("", [one, two]);
    assert_eq!(plain, file("start: one\n", [two, one]));
    assert_eq!(plain, file("start: one\n", [one, two]));
    assert_ne!(plain, file("", [two, one]));
    assert_ne!(plain, file("start: two\n", [one, two]));
}
