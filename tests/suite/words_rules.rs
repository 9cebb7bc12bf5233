//! Links, pictures and HTML in procedures, leaflets and the stop card.

use crate::safety_rules::Files;

/// A sentence put into each of the places where words stand, and where it is then found.
fn everywhere(words: &str) -> [(Files, &'static str); 5] {
    let leaflet = |path: &str| Files::sound().with(path, &format!("# Words\n\n## Feed {{#feed}}\n\n{words}\n"));
    [
        (Files::sound().jam("Read this first.", words), "jam/-"),
        (Files::sound().jam("Look along the feed.", words), "jam/look"),
        (Files::sound().jam("Look along the feed.", &format!("| a |\n|---|\n| {words} |\n")), "jam/look"),
        (leaflet("leaflets/words.md"), "-/-"),
        (Files::sound().with("stop.md", words), "-/-"),
    ]
}

#[test]
fn links_that_lead_nowhere_are_broken() {
    for target in [
        "nowhere.md",
        "#nowhere",
        "../nowhere.svg",
        "/stop.md",
        "//far.example/stop.md",
        "library.yaml",
        "desk@larkmere.example",
        "../leaflets/words.md#nowhere",
    ] {
        for (files, place) in everywhere(&format!("See [this]({target}).")) {
            let found = files.only();
            let outside = found.starts_with("outside-library") && target.starts_with("..");
            assert!(outside || found == format!("link-broken {place} {target}"), "{target}: {found}");
        }
    }
}

#[test]
fn links_are_paths_from_the_file_that_holds_them() {
    for (target, is_there) in [
        ("jam.md#pull", true),
        ("jam.md#dust", true),
        ("jam.md#nowhere", false),
        ("jam", false),
        ("procedures/jam.md", false),
        ("../procedures/jam.md", true),
        ("../leaflets/words.md#feed", true),
        ("../leaflets/words.md#words", false),
        ("../stop.md", true),
        ("../pictures/lid.svg", true),
        ("../safety.yaml", false),
    ] {
        let files = Files::sound().jam("Read this first.", &format!("See [this]({target})."));
        let expected = if is_there { Vec::new() } else { vec![format!("link-broken jam/- {target} procedures/jam.md:36")] };
        assert_eq!(files.findings(), expected, "{target}");
    }
}

#[test]
fn whole_addresses_are_not_followed() {
    for target in ["https://far.example/a", "http://far.example", "mailto:desk@larkmere.example", "tel:+4600000"] {
        for (files, _) in everywhere(&format!("See [this]({target}).")) {
            files.is_sound();
        }
    }
    Files::sound().jam("Read this first.", "Write to <desk@larkmere.example>.").is_sound();
}

#[test]
fn a_released_procedure_links_to_no_draft() {
    let released = "for: skilled\nstatus: released\nrevision: 1\nreview-by: 2027-01-01";
    let linked = || Files::sound().jam("Read this first.", "See [this](isolate.md).");
    linked().is_sound();
    assert_eq!(linked().jam("for: skilled", released).only(), "link-broken jam/- isolate.md");
}

#[test]
fn pictures_must_be_in_the_library_and_have_words() {
    for (words, found) in [
        ("![The lid](../pictures/lit.svg)", "picture-missing jam/- ../pictures/lit.svg"),
        ("![The lid](https://far.example/lid.svg)", "picture-missing jam/- https://far.example/lid.svg"),
        ("![The lid](../stop.md)", "picture-missing jam/- ../stop.md"),
        ("![](../pictures/lid.svg)", "picture-without-words jam/- ../pictures/lid.svg"),
        ("![ ](../pictures/lid.svg)", "picture-without-words jam/- ../pictures/lid.svg"),
    ] {
        assert_eq!(Files::sound().jam("Read this first.", words).only(), found, "{words}");
    }
    Files::sound().jam("Read this first.", "![The lid](../pictures/lid.svg)").is_sound();
    let key = |path: &str| Files::sound().jam("picture: ../pictures/lid.svg", &format!("picture: {path}"));
    assert_eq!(key("../pictures/lit.svg").findings(), ["picture-missing jam/back ../pictures/lit.svg procedures/jam.md:31"]);
    key("pictures/lid.svg").is_sound();
}

#[test]
fn html_is_refused_wherever_words_stand() {
    for (files, place) in everywhere("Do <b>not</b> pull.") {
        assert_eq!(files.only(), format!("raw-html {place} -"));
    }
    let block = Files::sound().jam("Read this first.", "<div>\nRead this\n</div>\n\nThen go on.");
    assert_eq!(block.findings(), ["raw-html jam/- - procedures/jam.md:36"]);
    Files::sound().jam("Read this first.", "Below 5 \\<b> and `<b>`.").is_sound();
}

#[test]
fn schemes_that_run_or_hide_something_are_refused() {
    for target in ["javascript:alert(1)", "JavaScript:alert(1)", "data:text/html,x", "vbscript:x", "file:///x", "java&#10;script:x"] {
        for (files, place) in everywhere(&format!("See [this]({target}).")) {
            let found = files.only();
            assert!(found.starts_with(&format!("raw-html {place} ")), "{target}: {found}");
        }
    }
    let picture = Files::sound().jam("Read this first.", "![The lid](data:image/svg+xml,x)");
    assert_eq!(picture.only(), "raw-html jam/- data:image/svg+xml,x");
}
