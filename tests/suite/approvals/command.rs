//! `approve` as its users meet it: whom it refuses, what it writes, how it ends.

use std::path::Path;

use jiff::civil::date;
use stepward::build::approve::{Approved, approve};
use stepward::build::memory::{Fails, Memory};
use stepward::text::id::Id;

use crate::support::command::{Place, Ran};

fn procedure(status: &str, top: &str, steps: &str) -> String {
    format!("---\ntitle: A\n{top}status: {status}\nrevision: 4\nowner: field service\nreview-by: 2027-06-30\nsteps:\n{steps}---\n")
}

const END: &str = "  end: { do: Book a visit, outcome: handed-over }\n";

/// `a` carries out `t`, which carries out `u`; `bad` has an error and `draft` lacks what an approval needs.
fn library() -> Place {
    let place = Place::new();
    let task = |steps: &str| procedure("in-review", "kind: task\n", steps);
    let done = "  done: { do: Go on, outcome: done }\n";
    place.write("lib/library.yaml", "title: T\nroles: [field service, safety]\n");
    place.write("lib/procedures/u.md", &task(done));
    place.write("lib/procedures/t.md", &task(&format!("  c: {{ carry-out: u, outcomes: {{ done: done }} }}\n{done}")));
    place.write("lib/procedures/a.md", &procedure("in-review", "", &format!("  c: {{ carry-out: t, outcomes: {{ done: end }} }}\n{END}")));
    place.write("lib/procedures/b.md", &procedure("released", "", END));
    place.write("lib/procedures/bad.md", &procedure("in-review", "", &format!("  s: {{ do: Look, then: ned }}\n{END}")));
    place.write("lib/procedures/draft.md", &format!("---\ntitle: D\nsteps:\n{END}---\n"));
    place.write("lib/procedures/gone.md", "---\ntitle: G\nstatus: withdrawn\nreplaced-by: nothing\nwithdrawn-because: It is old\n---\n");
    place
}

fn run(place: &Place, arguments: &[&str]) -> Ran {
    place.run(&[&["approve", "--library", "lib", "--today", "2026-11-24"], arguments].concat())
}

#[track_caller]
fn refused(place: &Place, arguments: &[&str], status: i32, words: &str) {
    let before = place.read("lib/approvals.yaml");
    let ran = run(place, arguments);
    assert!(ran.status == status && ran.err.contains(words), "{} {}{}", ran.status, ran.out, ran.err);
    assert_eq!(place.read("lib/approvals.yaml"), before);
}

#[test]
fn what_is_approved_is_written_and_said() {
    let place = library();
    let ran = run(&place, &["b", "--by", "safety"]);
    assert_eq!((ran.status, ran.out.as_str()), (0, ""), "{}", ran.err);
    for words in ["approved `b`, revision 4, by safety on 2026-11-24: digest ", "it covers the front matter", "wrote `lib/approvals.yaml`"]
    {
        assert!(ran.err.contains(words), "{words} in {}", ran.err);
    }
    let text = place.read("lib/approvals.yaml").expect("approvals");
    assert!(
        text.contains("  - procedure: b\n    revision: 4\n    digest: \"") && text.ends_with("\"\n    by: safety\n    on: 2026-11-24\n"),
        "{text}"
    );
    // A status may change; a word may not.
    let released = place.read("lib/procedures/b.md").expect("b");
    assert!(!place.run(&["verify", "lib"]).out.contains("approval-"));
    place.write("lib/procedures/b.md", &released.replace("status: released", "status: in-review"));
    assert!(!place.run(&["verify", "lib"]).out.contains("approval-"));
    place.write("lib/procedures/b.md", &released.replace("Book a visit", "Book two visits"));
    assert!(place.run(&["verify", "lib"]).out.contains("approval-stale"));
    assert_eq!(run(&place, &["b", "--by", "safety", "--quiet"]).err, "");
    assert!(!place.run(&["verify", "lib"]).out.contains("approval-"));
    assert_eq!(place.read("lib/approvals.yaml").expect("approvals").matches("procedure: b").count(), 1);
}

#[test]
fn what_is_carried_out_is_approved_first_in_whatever_order_it_is_named() {
    let place = library();
    refused(&place, &["a", "--by", "safety"], 1, "`a` is not approved: it carries out `t`, which is not approved as it is");
    refused(&place, &["a", "t", "--by", "safety"], 1, "`t` is not approved: it carries out `u`");
    let ran = run(&place, &["a", "u", "t", "--by", "safety"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let at = |id: &str| ran.err.find(&format!("approved `{id}`")).expect("said");
    assert!(at("u") < at("t") && at("t") < at("a"), "{}", ran.err);
    // A change below is a change above: `t` must be approved anew before `a`.
    let text = place.read("lib/procedures/u.md").expect("u");
    place.write("lib/procedures/u.md", &text.replace("Go on", "Walk on"));
    refused(&place, &["a", "--by", "safety"], 1, "it carries out `t`");
    assert_eq!(run(&place, &["u", "--by", "safety"]).status, 0);
    refused(&place, &["a", "--by", "safety"], 1, "it carries out `t`");
    assert_eq!(run(&place, &["t", "--by", "safety"]).status, 0);
    assert_eq!(run(&place, &["a", "--by", "safety"]).status, 0);
    // Approved by somebody who owns it now is not approved.
    let text = place.read("lib/procedures/t.md").expect("t");
    place.write("lib/procedures/t.md", &text.replace("owner: field service", "owner: safety"));
    refused(&place, &["a", "--by", "safety"], 1, "it carries out `t`");
}

#[test]
fn what_may_not_be_approved_is_refused_and_nothing_is_written() {
    let place = library();
    refused(&place, &["b", "--by", "field service"], 1, "`b` is not approved: `field service` owns the procedure and cannot approve it");
    refused(&place, &["gone", "--by", "safety"], 1, "it is withdrawn");
    refused(&place, &["draft", "--by", "safety"], 1, "it has no `revision`, no `owner`, no `review-by`");
    refused(&place, &["b", "bad", "--by", "safety"], 1, "`bad` is not approved: 1 error must be mended first");
    refused(&place, &["c", "--by", "safety"], 2, "there is no procedure `c`");
    refused(&place, &["b", "--by", "safty"], 2, "`safty` is not a role of the library; its `roles` are `field service`, `safety`");
    refused(&place, &["b"], 2, "--by");
    refused(&place, &["--by", "safety"], 2, "PROCEDURE");
    let shown = run(&place, &["bad", "--by", "safety", "--format", "short"]);
    assert!(
        shown.out.starts_with("procedures/bad.md:") && shown.out.contains("[unknown-step]") && shown.out.lines().count() == 1,
        "{}",
        shown.out
    );
    assert_eq!(run(&place, &["b", "--by", "safety"]).status, 0, "the errors of another procedure do not matter");
    place.write("lib/library.yaml", "title: T\n");
    refused(&place, &["gone", "--by", "safety"], 1, "1 error");
    place.write("lib/library.yaml", "title: T\nroles: []\n");
    std::fs::remove_file(place.path("lib/approvals.yaml")).expect("removed");
    for name in ["a", "b", "bad", "t", "u"] {
        std::fs::remove_file(place.path(&format!("lib/procedures/{name}.md"))).expect("removed");
    }
    refused(&place, &["draft", "--by", "safety"], 2, "lists no `roles`");
}

#[test]
fn a_file_of_approvals_that_is_broken_is_shown_and_left_alone() {
    let place = library();
    for broken in ["approvals: [\n", "approvals: word\n", "approvals:\n  - { procedure: b }\n", "aprovals: []\n"] {
        place.write("lib/approvals.yaml", broken);
        refused(&place, &["b", "--by", "safety"], 1, "must be mended first");
        assert!(run(&place, &["b", "--by", "safety"]).out.contains("approvals.yaml"), "{broken}");
    }
    // An approval by a role that is no more is what an approval anew puts right.
    place.write("lib/approvals.yaml", "approvals: # ours\n  - { procedure: b, revision: 1, digest: x, by: training, on: 2025-01-01 }\n");
    assert_eq!(run(&place, &["b", "--by", "safety"]).status, 0);
    assert!(place.read("lib/approvals.yaml").expect("approvals").starts_with("approvals: # ours\n  - { procedure: b, revision: 4, "));
}

#[cfg(unix)]
#[test]
fn a_link_to_the_approvals_stays_one_and_rights_are_kept() {
    use std::os::unix::fs::PermissionsExt as _;
    let place = library();
    place.write("lib/shared/approvals.yaml", "approvals: []\n");
    std::fs::set_permissions(place.path("lib/shared/approvals.yaml"), std::fs::Permissions::from_mode(0o640)).expect("rights");
    std::os::unix::fs::symlink("shared/approvals.yaml", place.path("lib/approvals.yaml")).expect("a link");
    assert_eq!(run(&place, &["b", "--by", "safety"]).status, 0);
    assert!(place.path("lib/approvals.yaml").is_symlink());
    assert!(place.read("lib/shared/approvals.yaml").is_some_and(|text| text.contains("procedure: b")));
    let mode = std::fs::metadata(place.path("lib/shared/approvals.yaml")).expect("a file").permissions().mode();
    assert_eq!(mode & 0o777, 0o640);
    assert_eq!(place.below("lib/shared").len(), 1, "nothing is left beside it");
}

#[test]
fn whichever_call_fails_the_file_is_as_it_was() {
    let text = procedure("released", "", END);
    let files = [("lib/library.yaml", "title: T\nroles: [field service, safety]\n"), ("lib/procedures/b.md", text.as_str())];
    let run = |world: &Memory| approve(world, Path::new("lib"), &[Id::new("b")], "safety");
    let clean = Memory::of(date(2026, 11, 24), files);
    assert!(matches!(run(&clean), Ok(Approved::Written(all)) if all.len() == 1));
    assert!(clean.below(Path::new("lib")).contains_key("approvals.yaml"));
    assert!(clean.calls() >= 2);
    for number in 0..clean.calls() {
        let world = Memory::of(date(2026, 11, 24), files).afresh(Fails::Once(number));
        assert!(run(&world).is_err(), "call {number}");
        assert!(!world.below(Path::new("lib")).contains_key("approvals.yaml"), "call {number}");
    }
}
