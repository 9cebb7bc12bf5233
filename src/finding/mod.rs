//! What a problem is: the rules, each declared once, and findings against them. Data only; printing is `emit`'s.

pub mod list;
pub mod rule;
pub mod witness;

pub use list::Findings;
pub use rule::{Group, Rule, Severity};
pub use witness::{WayKind, Witness, WitnessEntry};

use crate::text::id::Id;
use crate::text::place::Place;

/// One thing that is wrong (or worth a look), at one place.
#[derive(Clone, Debug)]
pub struct Finding {
    pub rule: &'static Rule,
    /// The rule's severity, or what `library.yaml` made of it.
    pub severity: Severity,
    pub procedure: Option<Id>,
    pub step: Option<Id>,
    pub subject: Option<String>,
    pub at: Place,
    /// The fact: lower-case start, no final stop, at most 90 characters.
    pub message: String,
    /// The cure.
    pub help: Option<String>,
    /// The models it holds for; empty if it holds for all.
    pub models: Vec<Id>,
    pub witness: Option<Witness>,
    /// Further places that belong to it (the other of two duplicates), each with a few words.
    pub also: Vec<(Place, String)>,
}

impl Finding {
    /// A finding against the rule of that name, at its own severity.
    pub fn new(rule: &'static Rule, at: Place, message: impl Into<String>) -> Self {
        Self {
            rule,
            severity: rule.severity,
            procedure: None,
            step: None,
            subject: None,
            at,
            message: message.into(),
            help: None,
            models: Vec::new(),
            witness: None,
            also: Vec::new(),
        }
    }

    pub fn procedure(mut self, id: &Id) -> Self {
        self.procedure = Some(id.clone());
        self
    }
    pub fn step(mut self, id: &Id) -> Self {
        self.step = Some(id.clone());
        self
    }
    pub fn subject(mut self, subject: impl Into<String>) -> Self {
        self.subject = Some(subject.into());
        self
    }
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
    pub fn also(mut self, at: Place, words: impl Into<String>) -> Self {
        self.also.push((at, words.into()));
        self
    }
}
