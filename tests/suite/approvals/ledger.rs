//! The text of `approvals.yaml`: an approval is written into it, and everything else stays.

use jiff::civil::date;
use stepward::rules::approval::ledger::{Entry, sign};
use stepward::text::id::Id;

fn entry(procedure: &str) -> Entry {
    let digest = format!("{} card:12345678 steps:12345678", "ab".repeat(32));
    Entry { procedure: Id::new(procedure), revision: 3, digest, by: "safety review".to_owned(), on: date(2026, 11, 24) }
}

fn block(procedure: &str, indent: &str) -> String {
    let digest = "ab".repeat(32);
    format!(
        "{indent}- procedure: {procedure}\n{indent}  revision: 3\n{indent}  digest: \"{digest}\n{indent}      card:12345678 steps:12345678\"\n{indent}  by: safety \
         review\n{indent}  on: 2026-11-24\n"
    )
}

#[test]
fn a_first_approval_begins_the_list() {
    let made = sign("", &entry("isolate")).expect("signed");
    assert!(made.starts_with("# ") && made.ends_with(&format!("approvals:\n{}", block("isolate", "  "))), "{made}");
    assert_eq!(sign("# Ours\n", &entry("a")), Some(format!("# Ours\napprovals:\n{}", block("a", "  "))));
    assert_eq!(sign("# Ours\napprovals: # none yet\n", &entry("a")), Some(format!("# Ours\napprovals: # none yet\n{}", block("a", "  "))));
    assert_eq!(sign("approvals: []\n# The end\n", &entry("a")), Some(format!("approvals:\n{}# The end\n", block("a", "  "))));
}

#[test]
fn a_further_approval_comes_after_the_last_and_as_deep() {
    for indent in ["", "  ", "      "] {
        let old = format!("approvals:  # all\n{} # so far\n# The end\n", block("a", indent).trim_end());
        let new = format!("approvals:  # all\n{} # so far\n{}# The end\n", block("a", indent).trim_end(), block("b", indent));
        assert_eq!(sign(&old, &entry("b")), Some(new));
    }
    let flow = "approvals: [ { procedure: a, revision: 1, digest: x, by: y, on: 2026-01-01 } ] # all\n";
    let made = sign(flow, &entry("b")).expect("signed");
    assert!(
        made.starts_with(&flow[..74]) && made.contains(", { procedure: b, revision: 3, digest: \"") && made.ends_with(" ] # all\n"),
        "{made}"
    );
}

#[test]
fn an_approval_anew_takes_the_place_of_the_last_one_and_leaves_comments() {
    let old = "approvals:\n  # first\n  - procedure: a   # the first\n    on: 2025-01-01 # long ago\n    by: \"x\"\n    digest: >-\n      one\n      two\n\n    # in between\n    \
               revision: 1\n  - { procedure: b, revision: 1, digest: 'x', by: x, on: 2025-01-01 } # flow\n  - procedure: a\n    revision: 2\n    digest: two\n    by: x\n    on: \
               2025-02-02 # last\n";
    let made = sign(old, &entry("a")).expect("signed");
    let at = old.rfind("revision: 2").expect("the last");
    assert_eq!(&made[..at], &old[..at]);
    assert!(made.ends_with("\n    by: safety review\n    on: 2026-11-24 # last\n"), "{made}");
    let made = sign(old, &entry("b")).expect("signed");
    assert!(
        made.contains("- { procedure: b, revision: 3, digest: \"abab") && made.contains(", by: safety review, on: 2026-11-24 } # flow\n"),
        "{made}"
    );
    assert_eq!(sign(&made, &entry("b")), Some(made.clone()), "twice is once");
}

#[test]
fn a_digest_over_several_lines_in_any_style_is_replaced_or_refused_and_never_half_replaced() {
    for style in [
        "|\n      x\n      y\n",
        ">\n      x\n",
        ">-\n      x\n\n",
        "x\n      y\n",
        "'x\n      y'\n",
        "\"x\n      y\"  # why\n",
        "\n      x\n",
    ] {
        let old = format!("approvals:\n  - procedure: a\n    revision: 1\n    digest: {style}    by: x\n    on: 2025-01-01\n");
        let Some(made) = sign(&old, &entry("a")) else { continue };
        let again = sign(&made, &entry("a")).expect("signed again");
        assert_eq!(again, made);
        assert!(made.contains(&"ab".repeat(32)) && made.ends_with("    by: safety review\n    on: 2026-11-24\n"), "{made}");
    }
}

#[test]
fn line_ends_and_marks_of_the_file_are_kept_and_odd_roles_quoted() {
    let old = format!("\u{feff}approvals:\n{}", block("a", "  ")).replace('\n', "\r\n");
    let made = sign(&old, &entry("b")).expect("signed");
    assert!(made.starts_with(&old) || made.starts_with(old.trim_end()), "{made:?}");
    assert_eq!(made.matches('\n').count(), made.matches("\r\n").count());
    for by in ["safety: review", "safety \"review\"", "true # no", "Prüfung", "1e3"] {
        let made = sign("", &Entry { by: by.to_owned(), ..entry("a") });
        assert!(made.is_some_and(|made| made.contains("by: \"")), "{by}");
    }
}

#[test]
fn what_cannot_be_understood_is_left_alone() {
    for text in [
        "approvals: [\n",
        "- a\n",
        "words\n",
        "approvals: word\n",
        "approvals: { a: b }\n",
        "other: 1\n",
        "approvals: []\napprovals: []\n",
        "approvals: &a []\n",
    ] {
        assert_eq!(sign(text, &entry("a")), None, "{text:?}");
    }
    assert_eq!(sign("approvals:\n  - { procedure: a, digest: x }\n", &entry("a")), None, "an entry without all its keys");
}
