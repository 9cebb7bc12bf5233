//! The quick reader of plain front matter against the parser: the very same tree, place for place, or none.

use stepward::read::yaml::{Document, parse, parse_any, parse_plain};
use stepward::text::place::FileId;

use crate::support::random::Random;

/// The stretch of a file that is YAML.
fn front(path: &str, text: &str) -> Option<std::ops::Range<usize>> {
    if path.ends_with(".yaml") {
        return Some(0..text.len());
    }
    let start = text.strip_prefix("---\n").map(|_| 4)?;
    text[start..].find("\n---\n").map(|end| start..start + end + 1)
}

fn documents() -> Vec<(String, String, std::ops::Range<usize>)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let files = ["content", "tests/cases"].into_iter().flat_map(|folder| walkdir::WalkDir::new(root.join(folder)).sort_by_file_name());
    let files = files.filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
    let read = files.filter_map(|entry| {
        let path = entry.path().display().to_string();
        let text = std::fs::read_to_string(entry.path()).ok().filter(|_| path.ends_with(".md") || path.ends_with(".yaml"))?;
        let range = front(&path, &text)?;
        Some((path, text, range))
    });
    read.collect()
}

fn shown(document: &Document) -> String {
    format!("{document:?}")
}

/// Whether the quick reader read it; what it read is what the parser reads.
fn agree(text: &str, range: std::ops::Range<usize>) -> bool {
    let Some(quick) = parse_plain(text, range.clone(), FileId(3)) else { return false };
    let full = parse_any(text, range.clone(), FileId(3));
    assert_eq!(shown(&quick), shown(&full), "{:?}", &text[range]);
    true
}

fn rounds(short: usize, long: usize) -> usize {
    if std::env::var_os("SLOW").is_some() { long } else { short }
}

#[test]
fn what_is_kept_in_our_libraries_is_read_quickly_and_as_the_parser_reads_it() {
    let all = documents();
    let (mut quick, mut ours, mut ours_quick) = (0, 0, 0);
    for (path, text, range) in &all {
        let read = agree(text, range.clone());
        quick += usize::from(read);
        if path.contains("/content/") {
            (ours, ours_quick) = (ours + 1, ours_quick + usize::from(read));
        }
        assert_eq!(shown(&parse(text, range.clone(), FileId(3))), shown(&parse_any(text, range.clone(), FileId(3))));
    }
    assert!(ours > 40 && ours_quick * 10 >= ours * 9, "{ours_quick} of {ours} of the demo, {quick} of {}", all.len());
}

#[test]
fn a_mutant_is_read_as_the_parser_reads_it() {
    let all = documents();
    let mut random = Random::new(20_261_127);
    let pieces = [
        ":", ": ", " ", "  ", "\n", "\n  ", "#", " #", "- ", "-", "[", "]", "{", "}", ",", "\"", "'", "|", ">", "&a", "*a", "!t", "?", "é",
        "\u{85}", "\t", "\r", "x", "~", "%", "@", "---\n", "...\n", "\\",
    ];
    let total = rounds(40_000, 2_000_000);
    let mut quick = 0;
    for _ in 0..total {
        let (_, text, range) = random.pick(&all);
        // A few lines: what is far from a change is read as before.
        let lines: Vec<&str> = text[range.clone()].split_inclusive('\n').collect();
        let from = random.below(lines.len().max(1));
        let indent = lines.get(from).map_or(0, |line| line.len() - line.trim_start_matches(' ').len());
        let mut cut: String = lines.iter().skip(from).take(1 + random.below(12)).map(|line| line.get(indent..).unwrap_or(line)).collect();
        for _ in 0..=random.below(2) {
            let mut at = random.below(cut.len() + 1);
            while !cut.is_char_boundary(at) {
                at -= 1;
            }
            match random.below(3) {
                0 => cut.insert_str(at, random.pick::<&str>(&pieces)),
                1 if at < cut.len() => drop(cut.remove(at)),
                _ => cut.truncate(at),
            }
        }
        quick += usize::from(agree(&cut, 0..cut.len()));
    }
    assert!(quick * 5 > total, "{quick} of {total} were plain: the mutants try too little");
}

#[test]
fn whatever_is_put_together_from_signs_is_read_as_the_parser_reads_it() {
    let mut random = Random::new(71);
    let pieces = [
        "a", "b: ", "c:", "\n", "\n", "\n  ", "\n  ", "\n    ", " ", ": ", "- ", "-", "\n- ", "\n  - ", "[", "]", "{", "}", ", ", ",",
        "\"", "'", "#", " # d", "é", "1", ".", "(", "?", "|", "e f", "\u{a0}", "~", "/", "+", "<", "=", "a: b", "\n\n", "---", "\n...",
    ];
    let total = rounds(400_000, 5_000_000);
    let mut quick = 0;
    for _ in 0..total {
        let mut text = String::from(*random.pick(&["a: ", "a:", "a:\n  ", "a:\n  - ", "", "x: {", "x: [", "k: v\nl: "]));
        for _ in 0..random.below(9) {
            text.push_str(random.pick::<&str>(&pieces));
        }
        quick += usize::from(agree(&text, 0..text.len()));
    }
    assert!(quick * 50 > total, "{quick} of {total} were plain: the texts try too little");
}

#[test]
fn what_is_not_plain_is_the_parsers() {
    for text in [
        "",
        "a",
        "- a\n",
        " a: b\n",
        "a: |\n  b\n",
        "a: 'it''s'\n",
        "a: \"\\n\"\n",
        "a: b\n  c\n",
        "a:\n- b\n",
        "a: &x b\n",
        "a: [b,\n c]\n",
        "a\u{85}: b\n",
        "a: b\r\n",
        "a: [b, ]\n",
        "a: {b}\n",
        "---\na: b\n",
        "a: b: c\n",
    ] {
        assert!(parse_plain(text, 0..text.len(), FileId(0)).is_none(), "{text:?}");
    }
    let text = "top: x\na: 1\na: 2\n";
    assert_eq!(parse_plain(text, 0..text.len(), FileId(0)).expect("plain").duplicates.len(), 1, "a key that is there twice is told");
}
