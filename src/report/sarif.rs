//! Findings as SARIF 2.1.0, the standard format for results of static analysis.

use serde::{Serialize, Serializer};
use serde_json::{Value, json};

use super::finding::{Finding, Location, STDIN};
use super::sanitise::escaped;
use super::summary::Count;
use crate::source::{Fix, Level};

/// The name of an error or a rule, and its meaning in one line.
pub type Described = (&'static str, &'static str);

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
/// The name that SARIF files usually give to the root folder of a repository.
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

/// All findings to list, and the descriptions of all errors and rules. Each finding is converted to JSON only when it
/// is written, to save memory.
struct Results<'a>(&'a [Finding], &'a [Described]);

impl Serialize for Results<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(|finding| result(finding, self.1)))
    }
}

/// The first 10,000 findings as a SARIF log, with a note that counts the findings that are left out. `described` has
/// all errors and rules; `version` is the version of the program.
pub fn sarif(findings: &[Finding], count: Count, described: &[Described], version: &str) -> String {
    let rules: Vec<Value> = described
        .iter()
        .map(|(name, meaning)| json!({ "id": name, "shortDescription": { "text": meaning } }))
        .collect();
    let (shown, left) = count.listed(findings);
    let run = Run {
        tool: json!({ "driver": { "name": "wetside", "version": version, "rules": rules } }),
        column_kind: "unicodeCodePoints",
        original_uri_base_ids: json!({ ROOT: { "description": { "text": "the root of the recipes" } } }),
        invocations: left.map(left_out),
        results: Results(shown, described),
    };
    let log = Log { schema: SCHEMA, version: "2.1.0", runs: [run] };
    escaped(serde_json::to_string_pretty(&log).expect("every key is a word") + "\n")
}

fn left_out(left: usize) -> Value {
    let words = format!("{left} more findings are counted but not listed");
    let notification = json!({ "level": "note", "message": { "text": words } });
    json!([{ "executionSuccessful": true, "toolExecutionNotifications": [notification] }])
}

fn result(finding: &Finding, described: &[Described]) -> Value {
    let words = std::iter::once(finding.message.as_str()).chain(finding.help.iter().map(String::as_str));
    let others = finding
        .others
        .iter()
        .map(|other| json!({ "physicalLocation": location(&other.at), "message": { "text": other.words } }));
    let mut result = json!({
        "ruleId": finding.name,
        "ruleIndex": described.iter().position(|(name, _)| *name == finding.name),
        "level": match finding.level {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Advice => "note",
        },
        "message": { "text": words.collect::<Vec<_>>().join("; ") },
        "locations": [{ "physicalLocation": location(&finding.at) }],
        "partialFingerprints": { "wetside/v1": format!("{}:{}:{}", finding.at.file, finding.name, finding.message) },
        "relatedLocations": others.collect::<Value>(),
        "fixes": finding.fixes.iter().map(fix).collect::<Value>(),
    });
    if let Some(object) = result.as_object_mut() {
        object.retain(|_, value| *value != json!(null) && *value != json!([]));
    }
    result
}

fn fix(fix: &Fix<Location>) -> Value {
    let changes = fix.edits.iter().map(|edit| {
        json!({
            "artifactLocation": artifact(&edit.span.file),
            "replacements": [{ "deletedRegion": region(&edit.span), "insertedContent": { "text": edit.text } }],
        })
    });
    json!({ "description": { "text": fix.title }, "artifactChanges": changes.collect::<Value>() })
}

fn location(at: &Location) -> Value {
    json!({ "artifactLocation": artifact(&at.file), "region": region(at) })
}

fn region(at: &Location) -> Value {
    json!({
        "startLine": at.line,
        "startColumn": at.column,
        "endLine": at.end_line,
        "endColumn": at.end_column,
    })
}

/// The location of a file in SARIF: its URI, marked as relative to [`ROOT`] if the file is below the root folder.
fn artifact(file: &str) -> Value {
    if file.starts_with('/') {
        return json!({ "uri": format!("file://{}", uri(file)) });
    }
    let is_outside = file == STDIN || file.split('/').next() == Some("..");
    if is_outside { json!({ "uri": uri(file) }) } else { json!({ "uri": uri(file), "uriBaseId": ROOT }) }
}

fn uri(path: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'-' | b'.' | b'_' | b'~');
    path.bytes()
        .map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect()
}
