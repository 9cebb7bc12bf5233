//! A list of findings, put in the order in which it is shown.

use crate::finding::{Finding, Severity};
use crate::text::place::Sources;

#[derive(Clone, Debug, Default)]
pub struct Findings {
    list: Vec<Finding>,
}

impl Findings {
    pub fn push(&mut self, finding: Finding) {
        self.list.push(finding);
    }

    pub fn push_some(&mut self, finding: Option<Finding>) {
        self.list.extend(finding);
    }

    pub fn extend(&mut self, other: Findings) {
        self.list.extend(other.list);
    }

    /// Those behind the first `count`.
    pub fn since(mut self, count: usize) -> Self {
        Self { list: self.list.split_off(count.min(self.list.len())) }
    }

    pub fn iter(&self) -> std::slice::Iter<'_, Finding> {
        self.list.iter()
    }

    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    pub fn len(&self) -> usize {
        self.list.len()
    }

    pub fn count(&self, severity: Severity) -> usize {
        self.list.iter().filter(|finding| finding.severity == severity).count()
    }

    pub fn has_error(&self) -> bool {
        self.count(Severity::Error) > 0
    }

    pub fn retain(&mut self, keep: impl FnMut(&Finding) -> bool) {
        self.list.retain(keep);
    }

    pub fn iter_mut(&mut self) -> std::slice::IterMut<'_, Finding> {
        self.list.iter_mut()
    }

    /// By file, line, column, rule, subject (as bytes, none first); equal findings once.
    pub fn sort(&mut self, sources: &Sources) {
        self.list.sort_by(|a, b| {
            let place = |f: &'_ Finding| (f.at.line, f.at.column, f.rule.name);
            let files = sources.path(a.at.file).cmp(sources.path(b.at.file));
            let same_place = files.then_with(|| place(a).cmp(&place(b))).then_with(|| a.subject.cmp(&b.subject));
            same_place.then_with(|| a.step.cmp(&b.step)).then_with(|| a.message.cmp(&b.message))
        });
        self.list.dedup_by(|a, b| {
            a.rule.name == b.rule.name && a.at == b.at && a.subject == b.subject && a.step == b.step && a.message == b.message
        });
    }
}

impl IntoIterator for Findings {
    type Item = Finding;
    type IntoIter = std::vec::IntoIter<Finding>;
    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}
