//! The messages of the Language Server Protocol 3.17 that this server reads and writes, with the names of its
//! specification. The types of the whole protocol take a tenth of this program's build.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

/// A request, or a notification: a message without an `id`.
#[derive(Deserialize)]
pub(super) struct Request {
    #[serde(rename = "jsonrpc")]
    _version: Version,
    #[serde(default, deserialize_with = "given")]
    pub(super) id: Option<Id>,
    #[serde(default)]
    pub(super) method: String,
    #[serde(default)]
    pub(super) params: Value,
}

/// The version of JSON-RPC. A message of another version is not read.
#[derive(Deserialize)]
enum Version {
    #[serde(rename = "2.0")]
    Two,
}

/// The identifier of a request, which its response repeats.
#[derive(Deserialize, Serialize)]
#[serde(untagged)]
pub(super) enum Id {
    Number(i64),
    Text(String),
    Null,
}

/// Reads a field whose value may be `null`, which is not the same as no field.
fn given<'de, D: Deserializer<'de>, T: Deserialize<'de>>(input: D) -> Result<Option<T>, D::Error> {
    T::deserialize(input).map(Some)
}

/// Enumerations that the protocol writes as numbers.
macro_rules! numbered {
    ($($(#[$about:meta])* $name:ident: $number:ty { $($word:ident = $value:literal),+ $(,)? })+) => { $(
        $(#[$about])*
        #[derive(Clone, Copy, PartialEq, Eq)]
        pub(super) enum $name { $($word),+ }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, output: S) -> Result<S::Ok, S::Error> {
                let number: $number = match self { $($name::$word => $value),+ };
                number.serialize(output)
            }
        }
    )+ };
}

numbered! {
    ErrorCode: i32 {
        ParseError = -32_700,
        InvalidRequest = -32_600,
        MethodNotFound = -32_601,
        InvalidParams = -32_602,
        InternalError = -32_603,
        ServerNotInitialized = -32_002,
        RequestFailed = -32_803,
    }
    Severity: u8 { Error = 1, Warning = 2, Information = 3 }
    /// A tag of a diagnostic.
    DiagnosticTag: u8 { Deprecated = 2 }
    /// A tag of a completion.
    CompletionTag: u8 { Deprecated = 1 }
    CompletionKind: u8 { Variable = 6, Module = 9, Unit = 11, Value = 12, Keyword = 14 }
    SymbolKind: u8 {
        Package = 4, Class = 5, Method = 6, Field = 8, Constant = 14, Array = 18, Object = 19, Struct = 23, Event = 24,
    }
}

/// Why a request is refused.
#[derive(Serialize)]
pub(super) struct Refusal {
    pub(super) code: ErrorCode,
    pub(super) message: String,
}

/// A position in a text, from 0.
#[derive(Clone, Copy, Default, PartialEq, Eq, Deserialize, Serialize)]
pub(super) struct Position {
    pub(super) line: u32,
    pub(super) character: u32,
}

/// The end is the position after the last character.
#[derive(Clone, Copy, Default, PartialEq, Eq, Deserialize, Serialize)]
pub(super) struct Range {
    pub(super) start: Position,
    pub(super) end: Position,
}

#[derive(Clone, Serialize)]
pub(super) struct Location {
    pub(super) uri: String,
    pub(super) range: Range,
}

#[derive(Clone, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct TextEdit {
    pub(super) range: Range,
    pub(super) new_text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Diagnostic {
    pub(super) range: Range,
    pub(super) severity: Severity,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) code: Option<&'static str>,
    pub(super) source: &'static str,
    pub(super) message: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) tags: Vec<DiagnosticTag>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) related_information: Vec<Related>,
}

/// Another place that a diagnostic is about.
#[derive(Serialize)]
pub(super) struct Related {
    pub(super) location: Location,
    pub(super) message: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct CompletionItem {
    pub(super) label: String,
    pub(super) kind: CompletionKind,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) tags: Vec<CompletionTag>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) detail: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) documentation: Option<String>,
    /// The text by which an editor sorts.
    pub(super) sort_text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) text_edit: Option<TextEdit>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct DocumentSymbol {
    pub(super) name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) detail: Option<String>,
    pub(super) kind: SymbolKind,
    pub(super) range: Range,
    /// The range of the name.
    pub(super) selection_range: Range,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) children: Vec<DocumentSymbol>,
}

/// Lines that an editor can fold, from 0.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct FoldingRange {
    pub(super) start_line: u32,
    pub(super) end_line: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) kind: Option<&'static str>,
}
