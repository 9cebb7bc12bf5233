//! The shapes of a SARIF log, as far as we fill them. Names and nesting are those of the standard; what it leaves optional and we do not say is left out.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::emit::sarif::words;

#[derive(Serialize)]
pub struct Log<'a> {
    /// First, as the standard asks (3.13.2).
    pub version: &'static str,
    #[serde(rename = "$schema")]
    pub schema: &'static str,
    pub runs: Vec<Run<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Run<'a> {
    pub tool: Tool,
    pub invocations: Vec<Invocation<'a>>,
    pub original_uri_base_ids: BTreeMap<&'static str, ArtifactLocation>,
    pub column_kind: &'static str,
    pub newline_sequences: [&'static str; 3],
    pub default_encoding: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub results: Option<Vec<Result<'a>>>,
}

#[derive(Serialize)]
pub struct Tool {
    pub driver: Driver,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Driver {
    pub name: &'static str,
    pub version: &'static str,
    pub semantic_version: &'static str,
    pub language: &'static str,
    pub rules: Vec<Descriptor>,
    pub notifications: Vec<Descriptor>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Descriptor {
    pub id: &'static str,
    pub short_description: Message,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<Message>,
    pub default_configuration: Configuration,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub properties: Option<Tags>,
}

#[derive(Serialize)]
pub struct Configuration {
    pub level: &'static str,
}

#[derive(Serialize)]
pub struct Tags {
    pub tags: [&'static str; 1],
}

#[derive(Serialize)]
pub struct Message {
    pub text: String,
}

impl Message {
    /// A plain-text message that says just these words, whatever signs they hold.
    pub fn of(text: &str) -> Self {
        Self { text: words::plain(text) }
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Invocation<'a> {
    pub execution_successful: bool,
    pub exit_code: u8,
    pub exit_code_description: &'static str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tool_execution_notifications: Vec<Notification<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tool_configuration_notifications: Vec<Notification<'a>>,
}

#[derive(Serialize)]
pub struct Notification<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub descriptor: Option<DescriptorReference>,
    pub level: &'static str,
    pub message: Message,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub locations: Vec<Location<'a>>,
}

#[derive(Serialize)]
pub struct DescriptorReference {
    pub id: &'static str,
    pub index: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Result<'a> {
    pub rule_id: &'static str,
    pub rule_index: usize,
    pub kind: &'static str,
    pub level: &'static str,
    pub message: Message,
    pub locations: Vec<Location<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub related_locations: Vec<Location<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub code_flows: Vec<CodeFlow<'a>>,
    pub partial_fingerprints: BTreeMap<&'static str, String>,
    /// Empty, and there: suppressions are known of, and this result has none (3.27.23). What is waived is no finding in the first place.
    pub suppressions: [(); 0],
    #[serde(skip_serializing_if = "Properties::is_empty")]
    pub properties: Properties<'a>,
}

#[derive(Default, Serialize)]
pub struct Properties<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub subject: Option<&'a str>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub models: Vec<&'a str>,
}

impl Properties<'_> {
    fn is_empty(&self) -> bool {
        self.subject.is_none() && self.models.is_empty()
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Location<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub physical_location: Option<PhysicalLocation>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub logical_locations: Vec<LogicalLocation<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PhysicalLocation {
    pub artifact_location: ArtifactLocation,
    pub region: Region,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ArtifactLocation {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uri: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uri_base_id: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub description: Option<Message>,
}

/// Lines and columns count from 1; `end_column` is one past the last character.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Region {
    pub start_line: u32,
    pub start_column: u32,
    pub end_line: u32,
    pub end_column: u32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LogicalLocation<'a> {
    pub name: &'a str,
    pub fully_qualified_name: String,
    pub kind: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct CodeFlow<'a> {
    pub thread_flows: [ThreadFlow<'a>; 1],
}

#[derive(Serialize)]
pub struct ThreadFlow<'a> {
    pub locations: Vec<ThreadFlowLocation<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ThreadFlowLocation<'a> {
    pub location: Location<'a>,
    /// How deep inside procedures that are carried out; 0 at the procedure that was begun.
    pub nesting_level: usize,
    pub importance: &'static str,
}
