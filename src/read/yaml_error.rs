//! What the YAML parser objects to, in words an author understands. Message and cure.

use granit_parser::ErrorKind;

/// The fact and the cure for one error of the parser.
pub fn in_plain_words(kind: &ErrorKind) -> (String, &'static str) {
    let (message, help) = match kind {
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabInIndentation
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::TabInPlainScalar => ("a tab stands where YAML allows only spaces", "indent with spaces instead of tabs"),
        ErrorKind::DirectiveDisallowed => ("a YAML directive (`%`) is not allowed", "take the line out; quote a text that begins with `%`"),
        ErrorKind::UnclosedQuotedScalar | ErrorKind::UnexpectedEof => {
            ("a quoted text is not closed", "end the text with the quote it began with")
        }
        ErrorKind::DocumentIndicatorInQuotedScalar => {
            ("a quoted text runs into a line of `---` or `...`", "end the text with the quote it began with")
        }
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidUnicodeEscape
        | ErrorKind::InvalidLowSurrogate
        | ErrorKind::InvalidLowSurrogateHexEscape
        | ErrorKind::MissingLowSurrogate
        | ErrorKind::UnpairedLowSurrogate => {
            ("a backslash in double quotes begins no known escape", "write `\\\\` for a backslash, or use single quotes")
        }
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => {
            ("something follows a quoted text on its line", "put the whole text in quotes, or none of it")
        }
        ErrorKind::UnexpectedEofFlowSequence
        | ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping
        | ErrorKind::UnclosedFlowCollection { .. } => {
            ("a `[` or `{` is not closed", "close it with `]` or `}`; quote a text that holds ` #`")
        }
        ErrorKind::MismatchedFlowCollectionEnd { .. } | ErrorKind::MisplacedFlowCollectionEnd => {
            ("a `]` or `}` closes nothing that is open", "match each `[` with `]` and each `{` with `}`")
        }
        ErrorKind::ExpectedFlowMappingSeparator | ErrorKind::ExpectedFlowSequenceSeparator => {
            ("a `,` or a closing bracket is missing here", "put a comma between entries; quote texts with `, : # ?` inside")
        }
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement | ErrorKind::InvalidMappingValueWhitespace => {
            ("a colon stands where no value can begin", "quote a text that holds a colon; check the indentation")
        }
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => {
            ("a key without a colon", "write `key: value`, with a space after the colon")
        }
        ErrorKind::InvalidIndentation
        | ErrorKind::ExpectedBlockMappingKey
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::MappingKeyNotAllowed
        | ErrorKind::BlockSequenceEntryNotAllowed
        | ErrorKind::InvalidQuotedScalarIndent
        | ErrorKind::InvalidBlockScalarIndent
        | ErrorKind::InvalidFlowScalarIndent => {
            ("the indentation does not fit the lines above", "line the key up with the other keys of its mapping")
        }
        ErrorKind::CommentInterceptedScalar => {
            ("a comment stands inside a text of several lines", "quote the text, or put the comment on a line of its own")
        }
        ErrorKind::CommentNotSeparated => ("a `#` follows without a space before it", "put a space before `#`, or quote the text"),
        ErrorKind::BomInsideDocument => ("a byte order mark stands inside the text", "delete the invisible character at this place"),
        ErrorKind::UnexpectedCharacter { character } if !character.is_control() => {
            return (format!("the character `{character}` cannot begin a value"), "put the text in quotes");
        }
        ErrorKind::UnexpectedCharacter { .. } => ("a control character stands here", "delete the invisible character at this place"),
        ErrorKind::MissingAnchorOrAliasName => ("a bare `*` or `&` cannot begin a text", "put the text in quotes"),
        ErrorKind::MultipleDocumentsUnsupported | ErrorKind::InvalidDocumentEnd | ErrorKind::ExpectedDocumentStart => {
            ("something follows the end of the document", "keep one YAML document in the file")
        }
        _ => ("this is not well-formed YAML", "check quotes, brackets, colons and indentation from here upwards"),
    };
    (message.to_owned(), help)
}
