//! How a library is written (key order, YAML style, comments, line ends, width of paragraphs) is no part of what is approved.

use std::collections::BTreeMap;

use stepward::read::yaml::{Node, Value};
use stepward::text::folder::Folder;

use super::sample::{digests, procedures, put, sample, text, tree, voided, yaml_of};

#[derive(Clone, Copy)]
struct Style {
    flow: bool,
    single_quotes: bool,
    reversed: bool,
    comments: bool,
}

/// Numbers, words of the format and ids are written bare, since some of them must be; everything else in quotes.
fn scalar(text: &str, plain: bool, style: Style) -> String {
    let bare =
        plain && text.chars().all(|c| c.is_ascii_alphanumeric() || "-.".contains(c)) && !text.is_empty() && !["-", "."].contains(&text);
    match (bare, style.single_quotes) {
        (true, _) => text.to_owned(),
        (false, true) => format!("'{}'", text.replace('\'', "''")),
        (false, false) => serde_json::to_string(text).unwrap(),
    }
}

fn entries(node: &Node, style: Style) -> Vec<(String, &Node)> {
    let Value::Map(mapping) = &node.value else { panic!("a mapping") };
    let mut all: Vec<(String, &Node)> = mapping.entries.iter().map(|(key, value)| (scalar(&key.value, true, style), value)).collect();
    if style.reversed {
        all.reverse();
    }
    all
}

fn flow(node: &Node, style: Style) -> String {
    match &node.value {
        Value::Scalar(one) => scalar(&one.text, one.plain, style),
        Value::List(items) => format!("[ {} ]", items.iter().map(|item| flow(item, style)).collect::<Vec<_>>().join(" , ")),
        Value::Map(_) => {
            let pairs = entries(node, style).into_iter().map(|(key, value)| format!("{key}: {}", flow(value, style)));
            format!("{{{}}}", pairs.collect::<Vec<_>>().join(", "))
        }
    }
}

/// The lines of a value, without the indentation of what it stands in.
fn block(node: &Node, style: Style) -> Vec<String> {
    let comment = |lines: &mut Vec<String>| {
        if style.comments {
            lines.extend(["# a comment".to_owned(), String::new()])
        }
    };
    let mut lines = Vec::new();
    match &node.value {
        Value::List(items) if !items.is_empty() => {
            for item in items {
                comment(&mut lines);
                for (index, line) in
                    block(item, style).into_iter().filter(|line| !line.is_empty() && !line.trim().starts_with('#')).enumerate()
                {
                    lines.push(format!("{} {line}", if index == 0 { "-" } else { " " }));
                }
            }
        }
        Value::Map(mapping) if !mapping.entries.is_empty() => {
            for (key, value) in entries(node, style) {
                comment(&mut lines);
                match &value.value {
                    Value::List(items) if items.is_empty() => lines.push(format!("{key}: []")),
                    Value::List(_) | Value::Map(_) => {
                        lines.push(format!("{key}:"));
                        lines.extend(block(value, style).into_iter().map(|line| format!("   {line}")));
                    }
                    Value::Scalar(_) => lines.push(format!("{key}:   {}", flow(value, style))),
                }
            }
        }
        _ => lines.push(flow(node, style)),
    }
    lines
}

fn document(path: &str, text: &str, style: Style) -> String {
    let root = tree(path, text);
    let mut lines = if style.flow {
        entries(&root, style).into_iter().map(|(key, value)| format!("{key}: {}", flow(value, style))).collect()
    } else {
        block(&root, style)
    };
    let Value::Map(mapping) = &root.value else { panic!("a mapping") };
    let steps = mapping.entries.iter().find(|(key, _)| key.value == "steps");
    if let (Some((_, Node { value: Value::Map(steps), .. })), false) = (steps, mapping.entries.iter().any(|(key, _)| key.value == "start"))
    {
        // Turned round, another step would stand first.
        lines.push(format!("start: {}", steps.entries[0].0.value));
    }
    lines.join("\n") + "\n"
}

/// Every file written anew in a style; the words below the front matter go through `body`.
fn rewritten(folder: &Folder, style: Style, body: impl Fn(&str) -> String) -> Folder {
    let mut made = folder.clone();
    for path in ["library.yaml", "safety.yaml", "equipment.yaml", "stages.yaml"] {
        put(&mut made, path, document(path, &text(folder, path), style));
    }
    for path in procedures(folder) {
        let source = text(folder, &path);
        let below = &source[yaml_of(&path, &source).end + 4..];
        put(&mut made, &path, format!("---\n{}---\n{}", document(&path, &source, style), body(below)));
    }
    put(&mut made, "stop.md", body(&text(folder, "stop.md")));
    made
}

/// Every paragraph on lines of another width, broken only before words that cannot be taken for a mark of Markdown.
fn wrapped(markdown: &str, width: usize) -> String {
    let mut made = String::new();
    let is_prose = |line: &str| line.starts_with(|c: char| c.is_alphabetic());
    let mut column = 0;
    let mut lines = markdown.lines().peekable();
    while let Some(line) = lines.next() {
        if !is_prose(line) {
            made.push_str(line);
            made.push('\n');
            column = 0;
            continue;
        }
        for word in line.split(' ') {
            let fits = column == 0 || column + word.len() < width || !word.starts_with(|c: char| c.is_alphabetic());
            made.push_str(if column == 0 {
                ""
            } else if fits {
                " "
            } else {
                "\n"
            });
            column = if fits { column + word.len() + 1 } else { word.len() };
            made.push_str(word);
        }
        if !lines.peek().is_some_and(|next| is_prose(next)) {
            made.push('\n');
            column = 0;
        }
    }
    made
}

fn everywhere(folder: &Folder, change: impl Fn(&str, String) -> String) -> Folder {
    let mut made = folder.clone();
    for path in folder.entries.keys().filter(|path| path.ends_with(".md") || path.ends_with(".yaml")) {
        put(&mut made, path, change(path, text(folder, path)));
    }
    made
}

#[test]
fn how_a_library_is_written_voids_nothing() {
    let folder = sample();
    let before = digests(&folder);
    let plain = Style { flow: false, single_quotes: false, reversed: false, comments: false };
    let same = |body: &str| body.to_owned();
    let trailing = |path: &str, text: String| {
        let blanks = if path.ends_with(".md") { " " } else { "   " };
        text.lines().map(|line| format!("{line}{blanks}\n")).collect::<String>()
    };
    let cases = [
        ("block style", rewritten(&folder, plain, same)),
        ("flow style", rewritten(&folder, Style { flow: true, ..plain }, same)),
        ("single quotes and comments", rewritten(&folder, Style { single_quotes: true, comments: true, ..plain }, same)),
        ("keys turned round", rewritten(&folder, Style { reversed: true, ..plain }, same)),
        (
            "all of it",
            rewritten(&folder, Style { flow: true, reversed: true, single_quotes: true, comments: true }, |body| wrapped(body, 45)),
        ),
        ("narrow paragraphs", rewritten(&folder, plain, |body| wrapped(body, 30))),
        ("wide paragraphs", rewritten(&folder, plain, |body| wrapped(body, 400))),
        ("empty lines", rewritten(&folder, plain, |body| body.replace("\n\n", "\n\n\n\n") + "\n\n\n")),
        ("blanks at line ends", everywhere(&folder, trailing)),
        ("line ends of two characters", everywhere(&folder, |_, text| text.replace('\n', "\r\n"))),
        ("a byte order mark", everywhere(&folder, |_, text| format!("\u{feff}{text}"))),
    ];
    for (what, made) in cases {
        assert_ne!(made, folder, "{what} changes nothing");
        assert_eq!(voided(&before, &made), BTreeMap::new(), "{what}");
    }
}

#[test]
fn wrapping_moves_line_ends_and_no_words() {
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let text = "One two three\nfour.\n\n- five\n\nSix 7 seven.\n";
    assert_eq!(wrapped(text, 9), "One two\nthree\nfour.\n\n- five\n\nSix 7\nseven.\n");
    assert_eq!(words(&wrapped(text, 9)), words(text));
}
