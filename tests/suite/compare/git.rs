//! `compare` of git revisions from the command line: nothing of the work tree is looked at or touched.

use std::process::Command;

use super::library;
use crate::support::command::Place;

fn git(place: &Place, folder: &str, arguments: &[&str]) -> String {
    let output = Command::new("git")
        .args(["-c", "user.name=Somebody", "-c", "user.email=somebody@example.org", "-c", "commit.gpgsign=false"])
        .args(arguments)
        .current_dir(place.path(folder))
        .output()
        .expect("git runs");
    assert!(output.status.success(), "git {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("UTF-8")
}

fn write(place: &Place, folder: &str) {
    for (path, text) in library::FILES {
        place.write(&format!("{folder}/{path}"), text);
    }
}

/// A repository `repo` with the library in `repo/content`; its second revision lost a caution, its work tree is dirty.
fn repository() -> Place {
    let place = Place::new();
    write(&place, "repo/content");
    git(&place, "repo", &["init", "-q", "-b", "main"]);
    git(&place, "repo", &["add", "."]);
    git(&place, "repo", &["commit", "-qm", "first"]);
    let text = library::MARKS.replace("    cautions: [toner]\n", "");
    place.write("repo/content/procedures/marks.md", &text);
    git(&place, "repo", &["commit", "-qam", "second"]);
    place.write("repo/content/procedures/marks.md", "dirty");
    place.write("repo/content/new-file", "dirty");
    place
}

fn run(place: &Place, folder: &str, arguments: &[&str]) -> (i32, String, String) {
    let mut all = vec!["compare"];
    all.extend(arguments);
    let output = place.command(&all).current_dir(place.path(folder)).output().expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("a status"), text(output.stdout), text(output.stderr))
}

#[test]
fn revisions_are_compared_and_the_work_tree_stays_as_it_is() {
    let place = repository();
    let status = git(&place, "repo", &["status", "--porcelain"]);
    let before = place.below("repo");
    for arguments in [["HEAD~1:", "HEAD:"], ["main~1:content", "main:content"], ["main~1:./content", "main:content/"]] {
        let (ended, out, err) = run(&place, "repo", &[arguments[0], arguments[1], "--format", "short"]);
        assert_eq!(ended, 1, "{out}{err}");
        assert!(out.lines().next().is_some_and(|line| line.contains("safety[caution-lost] weaker:")), "{out}");
    }
    let (ended, out, _) = run(&place, "repo", &["HEAD:", "HEAD:"]);
    assert_eq!((ended, out.as_str()), (0, "no change in meaning\n"));
    // From a folder inside, and with the library named.
    assert_eq!(run(&place, "repo/content", &["HEAD~1:", "HEAD:"]).0, 1);
    assert_eq!(run(&place, "repo", &["HEAD~1:", "HEAD:", "--library", "content"]).0, 1);
    assert_eq!(place.below("repo"), before);
    assert_eq!(git(&place, "repo", &["status", "--porcelain"]), status);
}

#[test]
fn a_detached_head_and_a_bare_repository_can_be_read() {
    let place = repository();
    git(&place, "", &["clone", "-q", "--bare", "repo", "bare.git"]);
    git(&place, "bare.git", &["update-ref", "--no-deref", "HEAD", "main~1"]);
    let (ended, out, err) = run(&place, "bare.git", &["HEAD:content", "main:content", "--format", "short"]);
    assert_eq!(ended, 1, "{out}{err}");
    assert_eq!(run(&place, "bare.git", &["HEAD:", "main~1:"]).0, 0);
}

#[test]
fn what_cannot_be_read_is_said() {
    let place = repository();
    for (arguments, words) in [
        (vec!["nowhere:", "HEAD:"], "there is no revision `nowhere`"),
        (vec!["HEAD:docs", "HEAD:"], "no `library.yaml` in `docs` at `HEAD`"),
        (vec!["HEAD:../x", "HEAD:"], "leads out of the repository"),
        (vec![":content", "HEAD:"], "is no name of a revision"),
        (vec!["--", "-x:", "HEAD:"], "`-x` is no name of a revision"),
        (vec!["gone", "HEAD:"], "no `library.yaml` in `gone`"),
    ] {
        let (ended, out, err) = run(&place, "repo", &arguments);
        assert_eq!((ended, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(words), "{arguments:?}: {err}");
    }
    let elsewhere = Place::new();
    let outside = run(&elsewhere, "", &["HEAD:", "HEAD:"]);
    assert!(outside.0 == 2 && outside.2.contains("in no git repository"), "{outside:?}");
}

#[cfg(unix)]
#[test]
fn symbolic_links_and_other_repositories_are_refused() {
    let place = repository();
    std::os::unix::fs::symlink("isolate.md", place.path("repo/content/procedures/link.md")).expect("a link");
    git(&place, "repo", &["add", "content/procedures/link.md"]);
    git(&place, "repo", &["commit", "-qm", "link"]);
    let (ended, _, err) = run(&place, "repo", &["HEAD~1:", "HEAD:"]);
    assert!(ended == 2 && err.contains("`content/procedures/link.md` at `HEAD` is a symbolic link"), "{err}");
    git(&place, "repo", &["rm", "-q", "--cached", "content/procedures/link.md"]);
    let commit = git(&place, "repo", &["rev-parse", "HEAD"]);
    git(&place, "repo", &["update-index", "--add", "--cacheinfo", &format!("160000,{},content/procedures/other", commit.trim())]);
    git(&place, "repo", &["commit", "-qm", "other"]);
    let (ended, _, err) = run(&place, "repo", &["HEAD~2:", "HEAD:"]);
    assert!(ended == 2 && err.contains("is another repository"), "{err}");
}

#[test]
fn the_page_stands_alone_and_replaces_only_its_own_kind() {
    let place = repository();
    let ended = run(&place, "repo", &["HEAD~1:", "HEAD:", "--to", "../page.html", "--format", "json"]);
    assert_eq!(ended.0, 1, "{}", ended.2);
    let value: serde_json::Value = serde_json::from_str(&ended.1).expect("JSON");
    assert_eq!((value["schema"].as_str(), value["changes"][0]["kind"].as_str()), (Some("stepward/compare/1"), Some("caution-lost")));
    assert_eq!(value["same"], false);
    let page = place.read("page.html").expect("a page");
    for absent in ["<script", "<link", "src=", "url(", "http://", "https://"] {
        assert!(!page.contains(absent), "{absent}");
    }
    let (safety, ways) = (page.find("id=\"safety\"").expect("safety"), page.find("id=\"ways\"").expect("ways"));
    assert!(safety < ways);
    assert_eq!(run(&place, "repo", &["HEAD~1:", "HEAD:", "--to", "../page.html"]).0, 1);
    place.write("mine.html", "mine");
    let refused = run(&place, "repo", &["HEAD~1:", "HEAD:", "--to", "../mine.html"]);
    assert!(refused.0 == 2 && refused.2.contains("is not overwritten"), "{}", refused.2);
    assert_eq!(place.read("mine.html").as_deref(), Some("mine"));
}
