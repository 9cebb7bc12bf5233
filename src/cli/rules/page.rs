//! A rule's page for the terminal: its examples without marks, and under each failing one what the compiler really says about it.

use crate::analyse::analyse;
use crate::emit::{self, Report, clean};
use crate::read::read;
use crate::rules::example::{Case, DAY, Piece, pieces};

/// How far an example is set in from the words around it.
const INSET: &str = "    ";

/// The whole page. `styled` puts ANSI colours into the findings.
pub fn in_terminal(page: &str, styled: bool) -> String {
    let mut out = String::new();
    for piece in pieces(page) {
        match piece {
            Piece::Line("") if out.ends_with("\n\n") => {}
            Piece::Line(line) => push(&mut out, "", line),
            Piece::Case(case) => example(&mut out, &case, styled),
        }
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

fn example(out: &mut String, case: &Case, styled: bool) {
    for (path, text) in &case.files {
        push(out, "", &format!("{path}:"));
        out.push('\n');
        text.lines().for_each(|line| push(out, INSET, line));
        out.push('\n');
    }
    if case.fails {
        // The findings come from the renderer, which has made them safe and may have coloured them.
        for line in findings(case, styled).trim_end().lines() {
            out.push_str(line);
            out.push('\n');
        }
        out.push('\n');
    }
}

fn findings(case: &Case, styled: bool) -> String {
    let (library, reading) = read(&case.folder());
    let verdict = analyse(library, reading, DAY);
    let report = Report {
        library: &verdict.library,
        findings: verdict.findings.iter().collect(),
        not_analysed: verdict.not_analysed.iter().collect(),
        procedures: verdict.library.procedures.len(),
    };
    emit::text::text(&report, styled)
}

/// A line of the page, safe to print.
fn push(out: &mut String, inset: &str, line: &str) {
    let line = clean::line(line);
    if !line.is_empty() {
        out.push_str(inset);
        out.push_str(&line);
    }
    out.push('\n');
}
