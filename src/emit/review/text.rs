//! The review for the terminal: findings with their source lines, then procedure by procedure what is proven and how, then what was decided
//! and what no analysis can prove.

mod decided;
pub mod exposure;
mod procedure;

use crate::emit::review::{Review, Tally};
use crate::emit::{clean, counted, text};

/// `unproved` says in words what no analysis can prove. `styled` puts ANSI colours into the findings.
pub fn text(review: &Review<'_>, unproved: &[&str], styled: bool) -> String {
    let mut out = text::text(&review.report, styled);
    for procedure in &review.procedures {
        procedure::add(&mut out, review, procedure);
    }
    decided::add(&mut out, review);
    heading(&mut out, "what no analysis can prove");
    for sentence in unproved {
        line(&mut out, 1, sentence);
    }
    heading(&mut out, "in all");
    let judged = review.coverage.len();
    line(&mut out, 1, &format!("{} judged: {}", counted(judged, "procedure"), tally(review.total())));
    out
}

/// `4 of 5 exposures proven, 1 uncovered; 2 more that no way leads to`.
pub fn tally(tally: Tally) -> String {
    if tally.exposures == 0 {
        return "no exposures".to_owned();
    }
    let mut words = format!("{} of {} proven", tally.proven, counted(tally.reached(), "exposure"));
    if tally.failed > 0 {
        words.push_str(&format!(", {} uncovered", tally.failed));
    }
    if tally.waived > 0 {
        words.push_str(&format!(", {} of them by a waiver", tally.waived));
    }
    if tally.unreachable > 0 {
        words.push_str(&format!("; {} more that no way leads to", tally.unreachable));
    }
    words
}

/// An empty line and a heading.
pub(super) fn heading(out: &mut String, words: &str) {
    if !out.is_empty() && !out.ends_with("\n\n") {
        out.push('\n');
    }
    line(out, 0, words);
}

/// One line, so many levels in, safe to print.
pub(super) fn line(out: &mut String, depth: usize, words: &str) {
    out.push_str(&"  ".repeat(depth));
    out.push_str(&clean::line(words));
    out.push('\n');
}
