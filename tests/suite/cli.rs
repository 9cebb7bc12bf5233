//! The command line as its users meet it: what it prints where, how it ends, what it never overwrites.

use std::process::Stdio;

use crate::support::command::{Place, Ran};

/// A task with one question; `second` is where "No" leads.
fn procedure(status: &str, second: &str) -> String {
    format!(
        "---\ntitle: Lines\nstatus: {status}\nrevision: 1\nowner: field service\nreview-by: 2027-06-30\nsteps:\n  look:\n    ask: Is there a line?\n    \
         answers:\n      - {{ answer: \"Yes\", then: book }}\n      - {{ answer: \"No\", then: {second} }}\n    unsure: book\n  \
         book: {{ do: Book a visit, outcome: handed-over }}\n  shut: {{ do: Close the call, outcome: no-fault }}\n---\n"
    )
}

/// A library in `lib` with the given procedures.
fn library(procedures: &[(&str, &str)]) -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: Print rooms\nroles: [field service, safety]\n");
    for (name, text) in procedures {
        place.write(&format!("lib/procedures/{name}.md"), text);
    }
    place
}

fn broken() -> Place {
    library(&[("lines", &procedure("draft", "nowhere")), ("marks", &procedure("draft", "nowhere"))])
}

#[track_caller]
fn ends(ran: &Ran, status: i32, words: &[&str]) {
    assert_eq!(ran.status, status, "out: {}\nerr: {}", ran.out, ran.err);
    for word in words {
        assert!(ran.err.contains(word), "`{word}` in: {}", ran.err);
    }
}

#[test]
fn a_new_library_and_a_new_procedure_verify_without_a_finding() {
    let place = Place::new();
    ends(&place.run(&["create", "lib"]), 0, &["wrote a library of 5 files to `lib`", "stepward verify --library lib"]);
    let ran = place.run(&["verify", "lib"]);
    ends(&ran, 0, &["2 procedures: 0 errors, 0 warnings, 0 notes"]);
    assert_eq!(ran.out, "");
    for id in ["paper-jam", "null", "fuser-noise", "a1"] {
        ends(&place.run(&["create", "procedure", id, "--library", "lib"]), 0, &[&format!("lib/procedures/{id}.md")]);
    }
    let ran = place.run(&["verify", "lib"]);
    ends(&ran, 0, &["6 procedures: 0 errors, 0 warnings, 0 notes"]);
    assert_eq!(ran.out, "");
}

#[test]
fn a_new_library_is_judged_for_what_it_holds() {
    let place = Place::new();
    place.run(&["create", "lib"]);
    let path = "lib/procedures/toner-rubs-off.md";
    let text = place.read(path).expect("it was written");
    for (sound, unsafe_one, rule) in [
        ("    cautions: [live-parts, hot-fuser]\n", "", "caution-missing"),
        ("    wait-for: cooled\n", "", "hazard-uncontrolled"),
        ("then: make-safe, person: skilled", "then: make-safe", "beyond-competence"),
        ("{ done: cool, not-done: leave-off }", "{ done: cool, not-done: take-out }", "hazard-uncontrolled"),
        ("    touches: [fuser]\n", "", "hazard-undeclared"),
    ] {
        assert!(text.contains(sound), "{sound}");
        place.write(path, &text.replace(sound, unsafe_one));
        let ran = place.run(&["verify", "lib", "--format", "short"]);
        ends(&ran, 1, &[]);
        assert!(ran.out.contains(&format!("error[{rule}]")), "{rule} in: {}", ran.out);
    }
}

#[test]
fn create_overwrites_nothing_and_names_what_is_there() {
    let place = Place::new();
    place.write("lib/procedures/isolate.md", "mine");
    ends(&place.run(&["create", "lib"]), 2, &["lib/procedures/isolate.md", "is not overwritten"]);
    assert_eq!(place.below("").len(), 1);
    place.run(&["create", "other"]);
    place.write("other/procedures/deep/paper-jam.md", "mine");
    let before = place.below("other");
    ends(&place.run(&["create", "other"]), 2, &["other/library.yaml"]);
    ends(&place.run(&["create", "procedure", "isolate", "--library", "other"]), 2, &["other/procedures/isolate.md"]);
    ends(&place.run(&["create", "procedure", "paper-jam", "--library", "other"]), 2, &["other/procedures/deep/paper-jam.md"]);
    assert_eq!(place.below("other"), before);
}

#[test]
fn create_says_what_it_expected() {
    let place = Place::new();
    ends(&place.run(&["create", "procedure"]), 2, &["needs an id", "./procedure"]);
    ends(&place.run(&["create", "one", "two"]), 2, &["`two` is one word too many"]);
    ends(&place.run(&["create", "procedure", "Paper"]), 2, &["`P` is in it", "lower-case"]);
    ends(&place.run(&["create", "procedure", "unsure"]), 2, &["the format uses this word itself"]);
    ends(&place.run(&["create", "procedure", "../x"]), 2, &["cannot be an id"]);
    ends(&place.run(&["create", "procedure", "paper-jam"]), 2, &["no `library.yaml` in `.` or `content`"]);
    assert!(place.below("").is_empty());
    ends(&place.run(&["create", "./procedure"]), 0, &[]);
    assert!(place.read("procedure/library.yaml").is_some());
    place.write("plain", "a file");
    ends(&place.run(&["create", "plain/lib"]), 2, &["`plain/lib` cannot be written: a part of the path is a file, not a folder"]);
}

#[test]
fn the_library_is_looked_for_here_then_in_content() {
    let place = Place::new();
    let ran = place.run(&["verify"]);
    ends(&ran, 2, &["no `library.yaml` in `.` or `content`", "--library DIR", "stepward create DIR"]);
    assert_eq!((ran.out.as_str(), ran.err.lines().count()), ("", 1));
    ends(&place.run(&["verify", "gone"]), 2, &["no `library.yaml` in `gone`"]);
    ends(&place.run(&["create", "content"]), 0, &["`stepward verify`;"]);
    ends(&place.run(&["verify"]), 0, &["2 procedures"]);
    place.write("library.yaml", "title: Here\n");
    ends(&place.run(&["verify"]), 1, &["0 procedures: 1 error"]);
    ends(&place.run(&["--library", "content", "verify"]), 0, &["2 procedures"]);
    ends(&place.run(&["verify", "content", "--library", "content"]), 2, &["named twice"]);
    ends(&place.run(&["publish", "content", "--to", "site", "--unreleased"]), 0, &["wrote "]);
}

#[test]
fn findings_go_to_standard_output_in_order_and_the_status_says_errors() {
    let place = broken();
    let ran = place.run(&["verify", "lib", "--format", "short"]);
    ends(&ran, 1, &["2 procedures: 2 errors, 0 warnings, 0 notes, 2 not analysed\n", "is broken: `lines`, `marks`\n"]);
    let lines: Vec<&str> = ran.out.lines().collect();
    assert_eq!(lines.len(), 2, "{}", ran.out);
    assert!(lines[0].starts_with("procedures/lines.md:12:") && lines[0].contains(": error[unknown-step] "), "{}", lines[0]);
    assert!(lines[1].starts_with("procedures/marks.md:12:"), "{}", lines[1]);
    let quiet = place.run(&["verify", "lib", "--quiet", "--format=short"]);
    assert_eq!((quiet.status, quiet.out, quiet.err.as_str()), (1, ran.out, ""));
    let text = place.run(&["verify", "lib"]);
    assert!(text.out.contains(" --> procedures/lines.md:12:") && text.out.contains("then: nowhere }"), "{}", text.out);
}

#[test]
fn json_is_one_document_with_the_promised_keys() {
    let place = broken();
    let ran = place.run(&["verify", "lib", "--format", "json"]);
    assert!(ran.out.starts_with("{\n  \"schema\": \"stepward/findings/1\",\n  \"findings\": [") && ran.out.ends_with("}\n"), "{}", ran.out);
    let value: serde_json::Value = serde_json::from_str(&ran.out).expect("well-formed JSON");
    let keys = |value: &serde_json::Value| value.as_object().expect("an object").keys().cloned().collect::<Vec<_>>().join(" ");
    assert_eq!(keys(&value), "schema findings counts procedures");
    assert_eq!(keys(&value["findings"][0]), "rule severity procedure step subject file line column message help models witness");
    assert_eq!(keys(&value["counts"]), "error warning note not-analysed");
    assert_eq!(value["counts"]["not-analysed"], 2);
    assert_eq!(value["procedures"], 2);
    assert_eq!(value["findings"][0]["file"], "procedures/lines.md");
    let fine = library(&[("lines", &procedure("draft", "shut"))]).run(&["verify", "lib", "--format", "json"]);
    assert_eq!(fine.status, 0);
    let value: serde_json::Value = serde_json::from_str(&fine.out).expect("well-formed JSON");
    assert_eq!(value["findings"], serde_json::json!([]));
}

#[test]
fn usage_errors_end_with_2_and_say_what_to_do_next() {
    let place = Place::new();
    ends(&place.run(&[]), 2, &["Usage: stepward"]);
    ends(&place.run(&["verfiy"]), 2, &["verify", "--help"]);
    ends(&place.run(&["verify", "--format", "xml"]), 2, &["text, short, json, sarif", "--help"]);
    ends(&place.run(&["verify", "--jobs", "0"]), 2, &["expected a whole number from 1"]);
    ends(&place.run(&["publish"]), 2, &["--to <DIR>"]);
    for day in ["2026-13-01", "20261201", "today", "2026-12-01T10:00"] {
        ends(&place.run(&["verify", "--today", day]), 2, &["expected a day as YYYY-MM-DD"]);
    }
    let help = place.run(&["--help"]);
    assert!(help.status == 0 && help.out.contains("publish") && help.err.is_empty());
    assert_eq!(place.run(&["--version"]).out, format!("stepward {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn today_is_what_was_asked_for_else_the_source_date() {
    let place = Place::new();
    place.run(&["create", "lib"]);
    let path = "lib/procedures/toner-rubs-off.md";
    let waiver = "waivers:\n  - { step: take-out, hazard: hot-fuser, of: least, reason: a trial, by: safety, until: 2026-12-31 }\nsteps:\n";
    place.write(path, &place.read(path).expect("it was written").replacen("steps:\n", waiver, 1));
    let run = |arguments: &[&str], epoch: &[(&str, &str)]| {
        let ran = place.run_with(&[&["verify", "lib", "--format", "short"], arguments].concat(), epoch);
        (ran.status, ran.out.contains("waiver-expired"))
    };
    assert_eq!(run(&["--today", "2026-12-31"], &[]), (0, false));
    assert_eq!(run(&["--today", "2027-01-01"], &[]), (1, true));
    // 2026-12-31T23:59:59Z and the second after it.
    assert_eq!(run(&[], &[("SOURCE_DATE_EPOCH", "1798761599")]), (0, false));
    assert_eq!(run(&[], &[("SOURCE_DATE_EPOCH", "1798761600"), ("TZ", "America/Lima")]), (1, true));
    assert_eq!(run(&["--today", "2026-12-31"], &[("SOURCE_DATE_EPOCH", "1798761600")]), (0, false));
    let ran = place.run_with(&["verify", "lib"], &[("SOURCE_DATE_EPOCH", "soon")]);
    ends(&ran, 2, &["`SOURCE_DATE_EPOCH` holds no time", "--today"]);
}

#[test]
fn colours_come_only_when_asked_for_off_a_terminal() {
    let place = broken();
    let coloured = |arguments: &[&str], variables: &[(&str, &str)]| {
        place.run_with(&[&["verify", "lib"], arguments].concat(), variables).out.contains("\u{1b}[")
    };
    assert!(!coloured(&[], &[]));
    assert!(coloured(&["--color", "always"], &[]));
    assert!(coloured(&["--color", "always"], &[("NO_COLOR", "1")]));
    assert!(!coloured(&["--color", "never"], &[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&["--color", "auto"], &[("NO_COLOR", "1")]));
    assert!(!coloured(&["--color", "always", "--format", "json"], &[]));
}

#[test]
fn a_closed_pipe_is_no_error_and_a_full_disk_is_one() {
    let place = broken();
    for format in ["text", "short", "json"] {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let mut command = place.command(&["verify", "lib", "--format", format]);
        let output = command.stdout(writer).stderr(Stdio::piped()).output().expect("the program runs");
        let words = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{words}");
        assert!(words.contains("2 procedures: 2 errors") && !words.contains("rror:"), "{words}");
    }
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    assert_eq!(place.command(&["rules"]).stdout(writer).status().ok().and_then(|status| status.code()), Some(0));
    #[cfg(target_os = "linux")]
    {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("the full device");
        let output = place.command(&["rules"]).stdout(full).stderr(Stdio::piped()).output().expect("the program runs");
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains("standard output cannot be written"));
    }
}

#[test]
fn rules_are_listed_by_group_and_explained_one_by_one() {
    let place = Place::new();
    let list = place.run(&["rules"]);
    assert_eq!(list.status, 0);
    for group in ["reading", "flow", "safety", "approval", "words"] {
        assert!(list.out.lines().any(|line| line == group), "{group}");
    }
    for rule in stepward::finding::rule::ALL {
        let start = format!("  {:<7}  {}", rule.severity.as_str(), rule.name);
        assert!(list.out.lines().any(|line| line == start.trim_end() || line.starts_with(&format!("{start} "))), "{}", rule.name);
        let page = place.run(&["rules", rule.name]);
        assert!(page.status == 0 && page.out.contains(rule.name) && page.out.contains(rule.group.as_str()), "{}", page.out);
        assert!(!page.out.contains("expect:") && !page.out.contains("```"), "{}", page.out);
    }
    let page = place.run(&["rules", "text-cut-short"]);
    let (example, finding) = ("    do: Choose tray #2 on the panel\n", "error[text-cut-short]: ");
    assert!(page.out.contains(&format!("\n    {example}")) && page.out.contains(finding), "{}", page.out);
    ends(&place.run(&["rules", "caution-mising"]), 2, &["did you mean `caution-missing`?"]);
    ends(&place.run(&["rules", "zzz"]), 2, &["there is no rule `zzz`; `stepward rules` lists them all"]);
}

#[test]
fn publish_writes_released_procedures_and_judges_only_them() {
    let place = library(&[("lines", &procedure("released", "shut")), ("marks", &procedure("draft", "nowhere"))]);
    place.sign("lib");
    let ran = place.run(&["publish", "lib", "--to", "site"]);
    ends(&ran, 0, &["1 procedure: 0 errors", "files to `site`"]);
    assert_eq!(ran.out, "");
    let before = place.below("site");
    assert!(before.iter().any(|(path, _)| path == "stepward-site.json") && before.len() > 1);
    let ran = place.run(&["publish", "lib", "--to", "site", "--unreleased", "--format", "short"]);
    ends(&ran, 1, &["nothing was published; `site` is as it was", "2 procedures: 1 error"]);
    assert!(ran.out.starts_with("procedures/marks.md:12:"), "{}", ran.out);
    assert_eq!(place.below("site"), before);
}

#[test]
fn publish_without_anything_released_says_what_to_do() {
    let place = library(&[("lines", &procedure("draft", "shut"))]);
    ends(&place.run(&["publish", "lib", "--to", "site"]), 2, &["no procedure is released", "--unreleased"]);
    assert!(!place.path("site").exists());
    ends(&place.run(&["publish", "lib", "--to", "site", "--unreleased"]), 0, &["not for use"]);
}

#[test]
fn publish_refuses_a_target_that_is_not_its_own() {
    let place = library(&[("lines", &procedure("draft", "shut"))]);
    place.write("site/holiday.txt", "mine");
    place.write("plain", "a file");
    let before = place.below("");
    ends(&place.run(&["publish", "lib", "--to", "site", "--unreleased"]), 2, &["`site` is not empty", "--to DIR"]);
    ends(&place.run(&["publish", "lib", "--to", "lib", "--unreleased"]), 2, &["part of the library"]);
    ends(&place.run(&["publish", "lib", "--to", ".", "--unreleased"]), 2, &["part of it"]);
    ends(&place.run(&["publish", "lib", "--to", "plain/site", "--unreleased"]), 2, &["plain"]);
    assert_eq!(place.below(""), before);
}

#[test]
fn two_runs_make_the_same_bytes_however_the_files_came_to_be() {
    let make = |order: &[usize]| {
        let texts = [("a", procedure("draft", "nowhere")), ("b", procedure("draft", "shut")), ("c", procedure("draft", "x"))];
        let shuffled: Vec<(&str, &str)> = order.iter().map(|index| (texts[*index].0, texts[*index].1.as_str())).collect();
        library(&shuffled)
    };
    let (one, two) = (make(&[0, 1, 2]), make(&[2, 0, 1]));
    for format in ["text", "short", "json"] {
        let first = one.run(&["verify", "lib", "--format", format]);
        let other = two.run_with(&["verify", "lib", "--format", format, "--jobs", "1"], &[("LC_ALL", "tr_TR.UTF-8"), ("TZ", "Asia/Tokyo")]);
        assert_eq!(first.status, 1);
        assert_eq!((first.out, first.err), (other.out, other.err));
    }
    for place in [&one, &two] {
        for name in ["a", "c"] {
            place.write(&format!("lib/procedures/{name}.md"), &procedure("draft", "shut"));
        }
        ends(&place.run(&["publish", "lib", "--to", "site", "--unreleased", "--today", "2026-12-01"]), 0, &[]);
    }
    assert_eq!(one.below("site"), two.below("site"));
    assert!(one.below("site").len() > 1);
}
