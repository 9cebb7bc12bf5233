//! The judgements. Each rule stands in a file of its group beside its page.

pub mod approval;
pub mod earlier;
pub mod example;
pub mod flow;
pub mod handbook;
pub mod instructions;
pub mod known;
pub mod pages;
pub mod paths;
pub mod safety;
pub mod wording;
pub mod words;

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::finding::Findings;
use crate::model::library::Library;
use crate::rules::known::Remembered;
use crate::text::id::Id;

/// What a rule may look at.
pub struct Context<'a> {
    pub library: &'a Library,
    pub today: Date,
    /// Procedures with a finding of the group *reading*, and whether their front matter could be understood at all is in the model.
    pub misread: &'a BTreeSet<Id>,
    /// What was found before; `None` to find all anew.
    pub remembered: Option<&'a Remembered<'a>>,
}

/// A rule that needs no path through the flow. The findings that it is handed are those of reading; what other checks find it is not to ask.
pub type Check = fn(&Context<'_>, &mut Findings);
