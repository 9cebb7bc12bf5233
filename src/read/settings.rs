//! `library.yaml` and `approvals.yaml`.

use crate::model::library::{Approval, RuleSetting, Settings};
use crate::read::document;
use crate::read::fields::Fields;
use crate::read::file::after_mark;
use crate::read::scope::{Scope, quoted};
use crate::read::yaml::Node;
use crate::text::id::Id;
use crate::text::place::At;

pub const KEYS: [&str; 6] = ["title", "language", "roles", "site", "offline-days", "rules"];
pub const RULE_KEYS: [&str; 2] = ["severity", "reason"];
pub const APPROVALS_KEYS: [&str; 1] = ["approvals"];
pub const APPROVAL_KEYS: [&str; 5] = ["procedure", "revision", "digest", "by", "on"];

/// The settings, and whether its list of roles is known.
pub fn settings(scope: &mut Scope<'_>) -> (Settings, bool) {
    let mut settings = Settings::default();
    let Some(node) = document::mapping(scope, after_mark(scope.text), "the library's settings") else {
        return (settings, false);
    };
    let Some(fields) = Fields::open(scope, &node, scope.top(), &KEYS) else {
        return (settings, false);
    };
    settings.title = fields.required_text(scope, "title");
    settings.language = fields.node("language").and_then(|node| language(scope, node));
    let before = scope.findings.len();
    settings.roles = fields.texts(scope, "roles");
    let roles_known = scope.findings.len() == before;
    settings.site = fields.node("site").and_then(|node| site(scope, node));
    settings.offline_days = fields.node("offline-days").and_then(|node| scope.whole(node, 1, 3660));
    if let Some(node) = fields.node("rules") {
        let entries = scope.entries(node, "from a rule's name to `{ severity, reason }`");
        settings.rules = entries.iter().filter_map(|(rule, node)| rule_setting(scope, rule, node)).collect();
    }
    (settings, roles_known)
}

fn rule_setting(scope: &mut Scope<'_>, rule: &At<String>, node: &Node) -> Option<RuleSetting> {
    let fields = Fields::open(scope, node, rule.at, &RULE_KEYS)?;
    let words = ["error", "warning", "note"];
    let parse = |word: &str| words.contains(&word).then(|| word.to_owned());
    let severity = fields.required(scope, "severity").and_then(|node| scope.choice(node, &words, parse));
    let reason = fields.text(scope, "reason");
    Some(RuleSetting { rule: At::new(Id::new(&rule.value), rule.at), severity, reason })
}

/// A language tag that is well-formed in outline (RFC 5646, 2.1): subtags of 1 to 8 letters and digits, the first of 2 to 8 letters or a
/// private `x`.
fn language(scope: &mut Scope<'_>, node: &Node) -> Option<At<String>> {
    let tag = scope.word(node)?;
    let subtags: Vec<&str> = tag.value.split('-').collect();
    let formed = subtags.iter().all(|part| (1..=8).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_alphanumeric()));
    let first = subtags.first().copied().unwrap_or("");
    let begins = first.bytes().all(|byte| byte.is_ascii_alphabetic()) && (first.len() > 1 || (first == "x" && subtags.len() > 1));
    if !(formed && begins) {
        scope.wrong(tag.at, format!("{} is not a language tag", quoted(&tag.value)), "write a tag of BCP 47, such as `en` or `de-CH`");
        return None;
    }
    Some(tag)
}

fn site(scope: &mut Scope<'_>, node: &Node) -> Option<At<String>> {
    let address = scope.word(node)?;
    let host = address.value.strip_prefix("https://").or_else(|| address.value.strip_prefix("http://")).unwrap_or("");
    let odd = |c: char| c.is_whitespace() || c.is_control() || matches!(c, '<' | '>' | '"');
    if host.split('/').next().unwrap_or("").is_empty() || address.value.contains(odd) {
        let message = format!("{} is not the address of a site", quoted(&address.value));
        scope.wrong(address.at, message, "write it in full: `https://example.org/manuals/`");
        return None;
    }
    Some(address)
}

/// The approvals. An entry that lacks something is a finding and left out.
pub fn approvals(scope: &mut Scope<'_>) -> Vec<Approval> {
    let Some(node) = document::mapping(scope, after_mark(scope.text), "the list of approvals") else {
        return Vec::new();
    };
    let Some(fields) = Fields::open(scope, &node, scope.top(), &APPROVALS_KEYS) else {
        return Vec::new();
    };
    let Some(node) = fields.node("approvals") else {
        return Vec::new();
    };
    let items = scope.list(node, "approvals");
    items.iter().filter_map(|item| approval(scope, item)).collect()
}

fn approval(scope: &mut Scope<'_>, node: &Node) -> Option<Approval> {
    let fields = Fields::open(scope, node, node.at, &APPROVAL_KEYS)?;
    let procedure = fields.required(scope, "procedure").and_then(|node| scope.id(node));
    let revision = fields.required(scope, "revision").and_then(|node| scope.whole(node, 0, u32::MAX));
    let digest = fields.required(scope, "digest").and_then(|node| scope.word(node));
    let by = fields.required(scope, "by").and_then(|node| scope.text(node));
    let on = fields.required(scope, "on").and_then(|node| scope.date(node));
    Some(Approval { at: node.at, procedure: procedure?, revision: revision?, digest: digest?, by: by?, on: on? })
}
