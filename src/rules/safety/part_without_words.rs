//! `part-without-words`: a part with hazards has no words by which a step could give it away.

use crate::finding::rule::PART_WITHOUT_WORDS;
use crate::finding::{Finding, Findings};
use crate::rules::Context;
use crate::rules::earlier::misread_at;
use crate::rules::wording::named;

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for part in context.library.catalogue.parts.iter().filter(|part| !part.hazards.is_empty()) {
        let findable = part.words.iter().any(|words| words.chars().any(char::is_alphanumeric));
        if findable || part.words.iter().any(|words| misread_at(findings, words.at)) {
            continue;
        }
        let message = format!("{} has hazards and no `words` that give it away", named(part.id.as_str()));
        let finding = Finding::new(&PART_WITHOUT_WORDS, part.at, message).subject(part.id.as_str());
        findings.push(finding.help("write `words` with everything that texts call this part"));
    }
}
