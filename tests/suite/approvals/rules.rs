//! The rules of the group: what they say, where, and when they keep silent.

use serde_json::Value;

use crate::support::command::{Place, Ran};

const SAFETY: &str =
    "hazards:\n  dust: { name: Dust, kind: dust, place: Bay, signal-word: notice, nature: Fine., avoid: Wait., words: [powder] }\n";
const TODAY: &str = "2026-11-02";

fn procedure(top: &str, steps: &str) -> String {
    format!(
        "---\ntitle: A\n{top}status: released\nrevision: 1\nowner: field service\nreview-by: 2026-12-31\nsteps:\n{steps}  end: {{ do: Book a visit, outcome: \
         handed-over }}\n---\n"
    )
}

fn task() -> String {
    procedure("kind: task\n", "  wipe: { do: Wipe, cautions: [dust], exposes: [dust], then: done }\n")
        .replace("end: { do: Book a visit, outcome: handed-over }", "done: { do: Go on, outcome: done }")
        + "\n## Wipe {#wipe}\n\nSlowly.\n"
}

/// `a` carries `t` out; `b` has nothing to do with either.
fn library() -> Place {
    let place = Place::new();
    place.write("lib/library.yaml", "title: T\nroles: [field service, safety]\n");
    place.write("lib/safety.yaml", SAFETY);
    place.write("lib/stop.md", "# Stop\n\nLeave the machine.\n");
    place.write("lib/procedures/t.md", &task());
    place.write("lib/procedures/a.md", &procedure("", "  c: { carry-out: t, outcomes: { done: end } }\n"));
    place.write("lib/procedures/b.md", &procedure("", ""));
    place
}

fn verify(place: &Place, today: &str) -> Ran {
    place.run(&["verify", "lib", "--format", "json", "--today", today])
}

/// `file:line:column rule procedure message`; step, subject and witness are null, models none.
fn found(place: &Place, today: &str) -> Vec<String> {
    let ran = verify(place, today);
    let report: Value = serde_json::from_str(&ran.out).expect("JSON");
    let line = |finding: &Value| {
        for key in ["step", "subject", "witness"] {
            assert!(finding[key].is_null(), "{key} of {finding}");
        }
        assert_eq!(finding["models"], serde_json::json!([]));
        let text = |key: &str| finding[key].as_str().unwrap_or("-").to_owned();
        format!("{}:{}:{} {} {} {}", text("file"), finding["line"], finding["column"], text("rule"), text("procedure"), text("message"))
    };
    report["findings"].as_array().expect("findings").iter().map(line).collect()
}

fn edit(place: &Place, file: &str, from: &str, to: &str) {
    let path = format!("lib/{file}");
    let text = place.read(&path).expect("the file is there");
    assert!(text.contains(from), "{from} in {text}");
    place.write(&path, &text.replacen(from, to, 1));
}

#[test]
fn a_released_procedure_without_an_approval_is_missing_one() {
    let place = library();
    let missing = |id: &str| format!("procedures/{id}.md:1:1 approval-missing {id} `{id}` is released, and nobody approved it");
    assert_eq!(found(&place, TODAY), [missing("a"), missing("b"), missing("t")]);
    edit(&place, "procedures/a.md", "status: released", "status: in-review");
    edit(&place, "procedures/b.md", "status: released", "status: withdrawn\nreplaced-by: nothing\nwithdrawn-because: It is old");
    assert_eq!(found(&place, TODAY), [missing("t")]);
    place.sign("lib");
    assert_eq!(found(&place, TODAY), Vec::<String>::new());
}

#[test]
fn what_changed_is_named_and_the_callers_follow() {
    let place = library();
    place.sign("lib");
    assert_eq!(found(&place, TODAY), Vec::<String>::new());
    let stale = |id: &str, what: &str| format!("procedures/{id}.md:1:1 approval-stale {id} {what} changed since it was approved");
    edit(&place, "safety.yaml", "Fine.", "Coarse.");
    assert_eq!(found(&place, TODAY), [stale("a", "the task `t`"), stale("t", "the hazard `dust`")]);
    edit(&place, "procedures/t.md", "Slowly.", "Fast.");
    assert_eq!(found(&place, TODAY), [stale("a", "the task `t`"), stale("t", "the hazard `dust` and 1 more")]);
    let ran = verify(&place, TODAY);
    assert!(ran.out.contains("changed are the hazard `dust` and the words"), "{}", ran.out);
    edit(&place, "safety.yaml", "Coarse.", "Fine.");
    edit(&place, "procedures/t.md", "Fast.", "Slowly.");
    assert_eq!(found(&place, TODAY), Vec::<String>::new(), "what is taken back is approved again");
    edit(&place, "procedures/b.md", "revision: 1", "revision: 2");
    assert_eq!(found(&place, TODAY), ["procedures/b.md:1:1 approval-stale b revision 2 is not approved; the last one that was is 1"]);
}

#[test]
fn the_first_word_of_a_digest_decides_alone() {
    let place = library();
    place.sign("lib");
    let signed = place.read("lib/approvals.yaml").expect("approvals");
    let mut inside = false;
    // Only the lines with the whole digests are left.
    let lines = signed.lines().filter_map(|line| {
        let begins = line.contains("digest: \"");
        let ends = line.ends_with('"') && inside;
        let further = inside && !begins;
        inside = (inside || begins) && !ends;
        (!further).then(|| if begins { format!("{line}\"") } else { line.to_owned() })
    });
    let short = lines.collect::<Vec<_>>().join("\n") + "\n";
    assert!(!short.contains("card:") && short.matches("digest: \"").count() == 3, "{short}");
    place.write("lib/approvals.yaml", &short);
    assert_eq!(found(&place, TODAY), Vec::<String>::new());
    edit(&place, "procedures/b.md", "title: A", "title: B");
    assert_eq!(found(&place, TODAY), ["procedures/b.md:1:1 approval-stale b this is not what was approved"]);
}

#[test]
fn the_last_of_several_approvals_counts() {
    let place = library();
    place.sign("lib");
    let signed = place.read("lib/approvals.yaml").expect("approvals");
    let other = "  - { procedure: b, revision: 9, digest: abc, by: safety, on: 2026-01-01 }\n";
    place.write("lib/approvals.yaml", &signed.replacen("approvals:\n", &format!("approvals:\n{other}"), 1));
    assert_eq!(found(&place, TODAY), Vec::<String>::new());
    place.write("lib/approvals.yaml", &format!("{signed}{other}"));
    assert_eq!(found(&place, TODAY), ["procedures/b.md:1:1 approval-stale b revision 1 is not approved; the last one that was is 9"]);
}

#[test]
fn the_owner_is_no_approver_even_if_the_owner_came_later() {
    let place = library();
    place.sign("lib");
    edit(&place, "procedures/b.md", "owner: field service", "owner: safety");
    let lines = found(&place, TODAY);
    assert_eq!(lines.len(), 1, "{lines:?}");
    assert!(
        lines[0].starts_with("approvals.yaml:")
            && lines[0].ends_with(" approval-by-owner b `safety` owns the procedure and cannot approve it"),
        "{lines:?}"
    );
}

#[test]
fn a_review_is_overdue_on_the_day_after() {
    let place = library();
    place.sign("lib");
    assert_eq!(found(&place, "2026-12-31"), Vec::<String>::new());
    let late = found(&place, "2027-01-01");
    assert_eq!(late.len(), 3);
    assert!(late[0].starts_with("procedures/a.md:6:12 review-overdue a "), "{late:?}");
    assert_eq!(verify(&place, "2027-01-01").status, 0, "a warning");
}

#[test]
fn what_follows_from_a_broken_file_is_not_reported_again() {
    for (file, broken) in
        [("approvals.yaml", "approvals: [\n"), ("safety.yaml", "hazards: [\n"), ("procedures/t.md", "---\ntitle: [\n---\n")]
    {
        let place = library();
        place.sign("lib");
        place.write(&format!("lib/{file}"), broken);
        let lines = found(&place, TODAY);
        assert!(!lines.is_empty() && lines.iter().all(|line| !line.contains(" approval-")), "{file}: {lines:?}");
    }
}

#[test]
fn errors_of_the_group_cannot_be_lowered_and_the_warning_can() {
    let place = library();
    place.sign("lib");
    let rules = |rule: &str| format!("title: T\nroles: [field service, safety]\nrules:\n  {rule}: {{ severity: note, reason: Why }}\n");
    for rule in ["approval-missing", "approval-stale", "approval-by-owner"] {
        place.write("lib/library.yaml", &rules(rule));
        let lines = found(&place, TODAY);
        assert!(lines.iter().any(|line| line.contains("value-invalid - `approval-")), "{rule}: {lines:?}");
    }
    place.write("lib/library.yaml", &rules("review-overdue"));
    place.sign("lib");
    assert_eq!(found(&place, TODAY), Vec::<String>::new());
}

#[test]
fn nothing_is_published_that_is_not_approved_and_the_old_site_stays() {
    let place = library();
    place.sign("lib");
    let publish = || place.run(&["publish", "lib", "--to", "site", "--today", TODAY]).status;
    assert_eq!(publish(), 0);
    let page = place.read("site/procedures/b.html").expect("a page");
    for words in
        ["Approved by", "<dd>safety</dd>", "Approved on", "<time datetime=\"2026-11-02\">", "Review by", "<time datetime=\"2026-12-31\">"]
    {
        assert!(page.contains(words), "{words}");
    }
    let before = place.below("site");
    for (file, from, to) in [
        ("procedures/b.md", "Book a visit", "Book a vizit"),
        ("procedures/t.md", "Slowly.", "Slowly!"),
        ("safety.yaml", "Fine.", "Fine!"),
        ("stop.md", "Leave", "Guard"),
        ("procedures/b.md", "owner: field service", "owner: safety"),
    ] {
        edit(&place, file, from, to);
        assert_eq!(publish(), 1, "{file}: {to}");
        assert_eq!(place.below("site"), before);
        edit(&place, file, to, from);
    }
    assert_eq!(publish(), 0);
}
