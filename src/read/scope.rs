//! Where reading stands (file, procedure, step) and what it found so far.

use crate::finding::rule::{BAD_ID, KEY_MISSING, TEXT_CUT_SHORT, VALUE_INVALID};
use crate::finding::{Finding, Findings, Rule};
use crate::text::id::{Id, IdFault, RESERVED};
use crate::text::place::{At, FileId, Place, Source};

/// The most findings of one file; a file that is wrong throughout is as wrong with a thousand.
pub const MOST_FINDINGS: usize = 1_000;

/// Collects the findings of one file.
pub struct Scope<'a> {
    pub file: FileId,
    /// The file as written.
    pub text: &'a str,
    /// Its path, relative to the library.
    pub path: &'a str,
    pub procedure: Option<Id>,
    pub step: Option<Id>,
    pub findings: Findings,
}

impl<'a> Scope<'a> {
    pub fn new(file: FileId, source: &'a Source) -> Self {
        Self { file, text: &source.text, path: &source.path, procedure: None, step: None, findings: Findings::default() }
    }

    pub fn top(&self) -> Place {
        Place::top(self.file)
    }

    /// Whether there are so many findings that no more are taken.
    pub fn is_full(&self) -> bool {
        self.findings.len() >= MOST_FINDINGS
    }

    /// Adds a finding, with the procedure and step it stands in.
    pub fn report(&mut self, mut finding: Finding) {
        if self.is_full() {
            return;
        }
        finding.procedure = finding.procedure.or_else(|| self.procedure.clone());
        finding.step = finding.step.or_else(|| self.step.clone());
        self.findings.push(finding);
    }

    pub fn say(&mut self, rule: &'static Rule, at: Place, message: impl Into<String>, help: impl Into<String>) {
        self.report(Finding::new(rule, at, message).help(help));
    }

    /// A value of the wrong type or outside what its key allows.
    pub fn wrong(&mut self, at: Place, message: impl Into<String>, help: impl Into<String>) {
        self.say(&VALUE_INVALID, at, message, help);
    }

    pub fn missing(&mut self, at: Place, key: &str, help: impl Into<String>) {
        self.say(&KEY_MISSING, at, format!("the key {} is missing", quoted(key)), help);
    }

    /// An id where it is declared. A malformed one is a finding and keeps its name, so that what refers to it is not reported again.
    pub fn declared(&mut self, name: &At<String>) -> Id {
        let id = Id::new(&name.value);
        if let Some(fault) = id.fault() {
            let finding = Finding::new(&BAD_ID, name.at, bad_id(&id, fault)).subject(id.as_str());
            self.report(finding.help(id_help(fault)));
        }
        id
    }

    /// Whether YAML ended a bare text at a `#` on its line that the author meant as text. A comment set apart by two or more blanks and written
    /// `# so` is a comment. `empty`: the text is empty, so that one blank sets the comment apart.
    pub fn is_cut(&self, at: Place, empty: bool) -> bool {
        let rest = self.text.get(at.end as usize..).unwrap_or("");
        let rest = if empty { rest.trim_start_matches(':') } else { rest };
        let comment = rest.trim_start_matches([' ', '\t']);
        let blanks = rest.len() - comment.len();
        let Some(after) = comment.strip_prefix('#') else {
            return false;
        };
        let close = !after.starts_with([' ', '\t']);
        blanks > 0 && (close || (blanks == 1 && !empty))
    }

    pub fn cut_short(&mut self, at: Place) {
        let help = "put the text in quotes; set a comment apart with two spaces before `# `";
        self.say(&TEXT_CUT_SHORT, at, "the text ends at ` #`; YAML drops the rest of the line", help);
    }
}

/// An author's word for a message: in backticks, cut at 32 characters, without control characters.
pub fn quoted(text: &str) -> String {
    let clean: String = text.chars().map(|c| if c.is_control() || is_bidirectional(c) { ' ' } else { c }).take(33).collect();
    match clean.char_indices().nth(32) {
        Some((end, _)) => format!("`{}…`", clean.get(..end).unwrap_or_default()),
        None => format!("`{clean}`"),
    }
}

/// Invisible characters that turn the direction of writing, so that a text reads otherwise than it is (Unicode Standard Annex 9).
pub fn is_bidirectional(c: char) -> bool {
    matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{200E}' | '\u{200F}' | '\u{061C}')
}

fn bad_id(id: &Id, fault: IdFault) -> String {
    let name = quoted(id.as_str());
    match fault {
        IdFault::Empty => "an id is empty".to_owned(),
        IdFault::TooLong => format!("the id {name} has over 64 characters"),
        IdFault::Character(odd) if odd.is_uppercase() => format!("the id {name} holds the upper-case letter `{odd}`"),
        IdFault::Character(odd) if odd.is_control() || is_bidirectional(odd) => format!("the id {name} holds an invisible character"),
        IdFault::Character(odd) if odd.is_ascii() => format!("the id {name} holds the character `{odd}`"),
        IdFault::Character(odd) => format!("the id {name} holds `{odd}` (U+{:04X})", u32::from(odd)),
        IdFault::Start => format!("the id {name} does not begin with a letter"),
        IdFault::Hyphen => format!("the id {name} has two hyphens in a row, or one at its end"),
        IdFault::Reserved => format!("the id {name} is a reserved word"),
    }
}

fn id_help(fault: IdFault) -> String {
    match fault {
        IdFault::Reserved => format!("choose another name; reserved are {}", RESERVED.join(", ")),
        _ => "use the letters a to z, digits and single hyphens; begin with a letter; at most 64 characters".to_owned(),
    }
}
