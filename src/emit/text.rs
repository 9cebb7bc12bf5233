//! Findings for people: the source line with what is meant marked in it, the way that leads there in words, and the cure.

pub mod way;

pub use way::in_words as witness_words;

use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet};

use crate::emit::{Report, clean, listed};
use crate::finding::{Finding, Severity};
use crate::text::place::{Place, Sources};

/// All findings, an empty line after each. `styled` puts ANSI colours in.
pub fn text(report: &Report<'_>, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for finding in &report.findings {
        out.push_str(&renderer.render(&[group(finding, report)]));
        out.push_str("\n\n");
    }
    out
}

fn group<'a>(finding: &'a Finding, report: &'a Report<'_>) -> Group<'a> {
    let sources = &report.library.sources;
    let title = level(finding.severity).primary_title(clean::line(&finding.message)).id(finding.rule.name);
    let mut group = title.elements(marked(finding.at, AnnotationKind::Primary, None, sources));
    for (place, words) in &finding.also {
        group = group.elements(marked(*place, AnnotationKind::Context, Some(words), sources));
    }
    if let Some(witness) = &finding.witness {
        group = group.element(Level::NOTE.message(way::in_words(witness, report.library)));
    }
    if !finding.models.is_empty() {
        let word = if finding.models.len() == 1 { "model" } else { "models" };
        group = group.element(Level::NOTE.message(format!("holds for the {word} {}", listed(&finding.models))));
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(clean::line(help)));
    }
    group
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    }
}

/// Where a place is, and its line with the stretch marked. Only that line is handed on: the renderer reads all it is given.
fn marked<'a>(place: Place, kind: AnnotationKind, label: Option<&'a String>, sources: &'a Sources) -> Vec<Element<'a>> {
    let path = clean::line(sources.path(place.file));
    let Some((line, span)) = sources.get(place.file).and_then(|source| line_of(&source.text, place)) else {
        let origin = Origin::path(path).line(place.line as usize).char_column(place.column as usize);
        let words = label.map(|words| Level::NOTE.message(clean::line(words)).into());
        return std::iter::once(origin.into()).chain(words).collect();
    };
    let mut annotation: Annotation<'a> = kind.span(span);
    if let Some(words) = label {
        annotation = annotation.label(clean::line(words));
    }
    vec![Snippet::source(line).path(path).line_start(place.line as usize).annotation(annotation).into()]
}

/// The printable line a place begins on and the bytes of it that are meant. `None` for a file without text, or a place outside it.
fn line_of(text: &str, place: Place) -> Option<(String, Range<usize>)> {
    let start = place.start as usize;
    let before = text.get(..start)?;
    let first = before.rfind('\n').map_or(0, |at| at + 1);
    let line = text.get(first..)?.split('\n').next().unwrap_or("");
    let line = line.strip_suffix('\r').unwrap_or(line);
    if line.is_empty() {
        return None;
    }
    let (from, to) = (start - first, (place.end as usize).saturating_sub(first));
    let mut printable = String::with_capacity(line.len());
    let mut span = line.len()..0;
    for (at, c) in line.char_indices() {
        let here = printable.len();
        printable.push(clean::source_character(c));
        if at >= from && (at < to || at == from) {
            span = span.start.min(here)..printable.len();
        }
    }
    // A place at the very end of its line: something that is missing there.
    let span = if span.start >= span.end { printable.len()..printable.len() } else { span };
    Some((printable, span))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::place::FileId;

    fn place(start: u32, end: u32) -> Place {
        Place { file: FileId(0), line: 1, column: 1, start, end }
    }

    #[test]
    fn a_stretch_is_marked_within_its_own_line() {
        let text = "one\r\n  two: 48 °C\u{1b}[1m\nthree";
        assert_eq!(line_of(text, place(7, 10)), Some(("  two: 48 °C\u{fffd}[1m".to_owned(), 2..5)));
        assert_eq!(line_of(text, place(7, 90)), Some(("  two: 48 °C\u{fffd}[1m".to_owned(), 2..19)));
        assert_eq!(line_of(text, place(0, 0)), Some(("one".to_owned(), 0..1)));
        assert_eq!(line_of(text, place(3, 3)), Some(("one".to_owned(), 3..3)));
        assert_eq!(line_of(text, place(900, 901)), None);
        assert_eq!(line_of("", place(0, 0)), None);
    }
}
