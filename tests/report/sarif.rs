//! The SARIF report holds to the standard's schema, and agrees with the JSON report.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;

use jsonschema::draft7;
use serde_json::{Value, json};

use super::{WIDE, faulty, findings};
use crate::program::Run;

/// The standard's schema, from the package `serde-sarif` in cargo's cache, without one invalid pattern of a property
/// that these reports lack.
fn schema() -> &'static Value {
    static SCHEMA: LazyLock<Value> = LazyLock::new(|| {
        let platform = ["--filter-platform", "host-tuple", "--format-version", "1", "--offline", "--locked"];
        let metadata = Command::new(env!("CARGO"))
            .arg("metadata")
            .args(platform)
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .unwrap();
        assert!(metadata.status.success(), "{}", String::from_utf8_lossy(&metadata.stderr));
        let metadata: Value = serde_json::from_slice(&metadata.stdout).unwrap();
        let mut packages = metadata["packages"].as_array().unwrap().iter();
        let package = packages.find(|package| package["name"] == "serde-sarif").unwrap();
        let folder = Path::new(package["manifest_path"].as_str().unwrap()).parent().unwrap();
        let schema = fs::read_to_string(folder.join("src/schema.json")).unwrap();
        let mut schema: Value = serde_json::from_str(&schema).unwrap();
        for part in ["run", "toolComponent"] {
            let language = &mut schema["definitions"][part]["properties"]["language"];
            let pattern = language.as_object_mut().unwrap().remove("pattern").unwrap();
            assert_eq!(pattern, "^[a-zA-Z]{2}|^[a-zA-Z]{2}-[a-zA-Z]{2}]?$");
        }
        schema
    });
    &SCHEMA
}

/// The report, checked against the schema with its formats and against generated types.
#[track_caller]
fn valid(printed: &str) -> Value {
    let json: Value = serde_json::from_str(printed).unwrap();
    let validator = draft7::options().should_validate_formats(true).build(schema()).unwrap();
    let errors: Vec<String> =
        validator.iter_errors(&json).map(|error| format!("{error} at {}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    let typed: serde_sarif::sarif::Sarif = serde_json::from_value(json.clone()).unwrap();
    assert_eq!(typed.runs.len(), 1);
    json
}

#[test]
fn the_sarif_schema_refuses_invalid_reports() {
    let schema = schema();
    assert_eq!(schema["title"], "Static Analysis Results Format (SARIF) Version 2.1.0 JSON Schema");
    let sound = valid(&Run::new().file("wide.wet", WIDE).args(["check", "--as", "sarif"]).fails(1).0);
    let validator = draft7::options().should_validate_formats(true).build(schema).unwrap();
    let invalid_values = [
        ("/version", json!("2.0.0")),
        ("/runs/0/columnKind", json!("bytes")),
        ("/runs/0/stray", json!(1)),
        ("/runs/0/results/0/level", json!("advice")),
        ("/runs/0/results/0/locations/0/physicalLocation/region/startLine", json!(0)),
        ("/runs/0/results/0/locations/0/physicalLocation/artifactLocation/uri", json!("a b.wet")),
    ];
    for (place, value) in invalid_values {
        let mut json = sound.clone();
        let (above, last) = place.rsplit_once('/').unwrap();
        json.pointer_mut(above).unwrap()[last] = value;
        assert!(!validator.is_valid(&json), "{place}");
    }
}

#[test]
fn a_report_of_every_kind_of_error_is_valid_sarif() {
    let run = faulty().args(["check", "--as", "sarif"]);
    let sarif = valid(&run.fails(1).0);
    let json: Value = serde_json::from_str(&run.again().args(["check", "--as", "json"]).fails(1).0).unwrap();
    let results = sarif["runs"][0]["results"].as_array().unwrap();
    let findings = findings(&json);
    assert_eq!(results.len(), findings.len());
    for (result, (file, line, column, level, name)) in results.iter().zip(findings) {
        let level = if level == "advice" { "note".to_owned() } else { level };
        assert_eq!((&result["level"], &result["ruleId"]), (&json!(level), &json!(name)));
        let place = &result["locations"][0]["physicalLocation"];
        assert_eq!(decoded(place["artifactLocation"]["uri"].as_str().unwrap()), file);
        assert_eq!(place["region"]["startLine"], line);
        assert_eq!(place["region"]["startColumn"], column);
    }
}

/// A path from a URI reference (RFC 3986, section 2.1).
#[track_caller]
fn decoded(uri: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = uri.bytes();
    while let Some(byte) = rest.next() {
        if byte != b'%' {
            bytes.push(byte);
            continue;
        }
        let digits = [rest.next().unwrap(), rest.next().unwrap()];
        bytes.push(u8::from_str_radix(std::str::from_utf8(&digits).unwrap(), 16).unwrap());
    }
    String::from_utf8(bytes).unwrap()
}

#[test]
fn an_empty_report_is_valid_sarif() {
    let run = Run::new().file("sound.wet", "wetside 1\n").args(["check", "--as", "sarif"]);
    let sarif = valid(&run.succeeds());
    assert_eq!(sarif["runs"][0]["results"], json!([]));
}

/// A reader counts as the report states: `stray` begins at the 13th character, after 15 units of UTF-16.
#[test]
fn columns_are_characters_and_the_report_says_so() {
    let run = Run::new().file("wide.wet", WIDE).args(["check", "--as", "sarif"]);
    let sarif = valid(&run.fails(1).0);
    assert_eq!(sarif["runs"][0]["columnKind"], "unicodeCodePoints");
    let region = &sarif["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"];
    assert_eq!(region, &json!({ "startLine": 2, "startColumn": 13, "endLine": 2, "endColumn": 18 }));
    let line: Vec<char> = WIDE.lines().nth(1).unwrap().chars().collect();
    assert_eq!(line[12..17].iter().collect::<String>(), "stray");
}

/// RFC 3986: all but unreserved characters are percent-encoded as UTF-8.
#[test]
fn a_path_is_a_percent_encoded_uri() {
    let run = Run::new().file("a b/\u{e4}%#?[1]:.wet", WIDE).args(["check", "--as", "sarif"]);
    let sarif = valid(&run.fails(1).0);
    let result = &sarif["runs"][0]["results"][1];
    let uri = json!("a%20b/%C3%A4%25%23%3F%5B1%5D%3A.wet");
    assert_eq!(result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], uri);
    assert_eq!(result["fixes"][0]["artifactChanges"][0]["artifactLocation"]["uri"], uri);
}

#[test]
fn a_result_has_its_rule_and_its_fix() {
    let run = Run::new().file("wide.wet", WIDE).args(["check", "--as", "sarif"]);
    let sarif = valid(&run.fails(1).0);
    let (driver, result) = (&sarif["runs"][0]["tool"]["driver"], &sarif["runs"][0]["results"][1]);
    let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
    assert_eq!(driver["rules"][index]["id"], result["ruleId"]);
    assert_eq!(driver["version"], env!("CARGO_PKG_VERSION"));
    let change = &result["fixes"][0]["artifactChanges"][0]["replacements"][0];
    let expected = json!({
        "deletedRegion": { "startLine": 3, "startColumn": 5, "endLine": 3, "endColumn": 11 },
        "insertedContent": { "text": "speed" },
    });
    assert_eq!(change, &expected);
}

/// A finding keeps its fingerprint when a line is inserted above it.
#[test]
fn a_fingerprint_stays_when_its_finding_moves() {
    let prints = |text: &str| -> Vec<Value> {
        let run = Run::new().file("wide.wet", text).args(["check", "--as", "sarif"]);
        let sarif = valid(&run.fails(1).0);
        let results = sarif["runs"][0]["results"].as_array().unwrap().clone();
        results.iter().map(|result| result["partialFingerprints"].clone()).collect()
    };
    let moved = WIDE.replacen('\n', "\n\n# moved\n", 1);
    let before = prints(WIDE);
    assert_eq!(before, prints(&moved));
    assert_ne!(before[0], before[1]);
}
