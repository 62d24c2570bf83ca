//! Findings as SARIF 2.1.0, the standard form in which collections of checks are shown. Only the
//! dozen properties that we have something to say in.

use serde::{Serialize, Serializer};
use serde_json::{Value, json};

use super::sanitise::escaped;
use super::summary::Count;
use super::told::{Mend, STDIN, TOLD_MAX, Told, Where};
use crate::source::Level;

/// A rule as the report describes it: its name and its meaning.
pub type Described = (&'static str, &'static str);

/// The standard's own schema.
const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
/// What the standard's own examples call the root of a collection.
const ROOT: &str = "%SRCROOT%";

#[derive(Serialize)]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'a>; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    tool: Value,
    column_kind: &'static str,
    original_uri_base_ids: Value,
    #[serde(skip_serializing_if = "Option::is_none")]
    invocations: Option<Value>,
    results: Results<'a>,
}

/// The results, each made when it is written: together they would take several times their text.
struct Results<'a>(&'a [Told], &'a [Described]);

impl Serialize for Results<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(|told| result(told, self.1)))
    }
}

/// The findings as one run of the tool, at most [`TOLD_MAX`], and a notification of how many of that count
/// are left out; `described` are all rules there are.
#[must_use]
pub fn sarif(findings: &[Told], count: Count, described: &[Described], version: &str) -> String {
    let rules: Vec<Value> = described
        .iter()
        .map(|(name, meaning)| json!({ "id": name, "shortDescription": { "text": meaning } }))
        .collect();
    let told = findings.get(..TOLD_MAX).unwrap_or(findings);
    let run = Run {
        tool: json!({ "driver": { "name": "wetside", "version": version, "rules": rules } }),
        column_kind: "unicodeCodePoints",
        original_uri_base_ids: json!({ ROOT: { "description": { "text": "the root of the recipes" } } }),
        invocations: count.left_out(told.len()).map(left_out),
        results: Results(told, described),
    };
    let log = Log { schema: SCHEMA, version: "2.1.0", runs: [run] };
    let mut text = serde_json::to_string_pretty(&log).expect("every key is a word");
    text.push('\n');
    escaped(text)
}

/// What the standard has for what a tool says of its own run.
fn left_out(left: usize) -> Value {
    let words = format!("and {left} more, which are counted and not told");
    let notification = json!({ "level": "note", "message": { "text": words } });
    json!([{ "executionSuccessful": true, "toolExecutionNotifications": [notification] }])
}

fn result(told: &Told, described: &[Described]) -> Value {
    let words = std::iter::once(told.message.as_str()).chain(told.help.iter().map(String::as_str));
    let mut result = json!({
        "ruleId": told.name,
        "level": match told.level {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Advice => "note",
        },
        "message": { "text": words.collect::<Vec<_>>().join("; ") },
        "locations": [{ "physicalLocation": location(&told.at) }],
        "partialFingerprints": { "wetside/v1": format!("{}:{}:{}", told.at.file, told.name, told.message) },
    });
    let Some(object) = result.as_object_mut() else { return result };
    if let Some(index) = described.iter().position(|(name, _)| *name == told.name) {
        object.insert("ruleIndex".to_owned(), json!(index));
    }
    if !told.others.is_empty() {
        let others = told
            .others
            .iter()
            .map(|(at, words)| json!({ "physicalLocation": location(at), "message": { "text": words } }));
        object.insert("relatedLocations".to_owned(), others.collect());
    }
    if !told.fixes.is_empty() {
        object.insert("fixes".to_owned(), told.fixes.iter().map(fix).collect());
    }
    result
}

fn fix(mend: &Mend) -> Value {
    let changes = mend.edits.iter().map(|(at, text)| {
        json!({
            "artifactLocation": artifact(&at.file),
            "replacements": [{ "deletedRegion": region(at), "insertedContent": { "text": text } }],
        })
    });
    json!({ "description": { "text": mend.title }, "artifactChanges": changes.collect::<Vec<_>>() })
}

fn location(at: &Where) -> Value {
    json!({ "artifactLocation": artifact(&at.file), "region": region(at) })
}

fn region(at: &Where) -> Value {
    json!({
        "startLine": at.line,
        "startColumn": at.column,
        "endLine": at.end_line,
        "endColumn": at.end_column,
    })
}

/// A file below the root by its path from there; one outside by the path that it was called by.
fn artifact(file: &str) -> Value {
    if file.starts_with('/') {
        return json!({ "uri": format!("file://{}", uri(file)) });
    }
    let is_outside = file == STDIN || file.split('/').next() == Some("..");
    if is_outside { json!({ "uri": uri(file) }) } else { json!({ "uri": uri(file), "uriBaseId": ROOT }) }
}

/// A path as the reference of a URI: what may not stand in one is written as its bytes.
fn uri(path: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'-' | b'.' | b'_' | b'~');
    path.bytes()
        .map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect()
}
