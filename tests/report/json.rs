//! The JSON report matches its schema, and its locations match the text.

use std::fs;

use jsonschema::draft202012;
use serde_json::{Value, json};

use super::{HASTY, WIDE, faulty, findings};
use crate::program::Run;

fn schema() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/report.schema.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// The report, valid to the schema.
#[track_caller]
fn valid(printed: &str) -> Value {
    let json: Value = serde_json::from_str(printed).unwrap();
    let validator = draft202012::new(&schema()).unwrap();
    let errors: Vec<String> =
        validator.iter_errors(&json).map(|error| format!("{error} at {}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    json
}

#[test]
fn the_schema_of_reports_is_itself_valid() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(draft202012::meta::is_valid(&schema));
}

#[test]
fn a_report_of_every_kind_of_error_matches_its_schema() {
    let json = valid(&faulty().args(["check", "--as", "json"]).fails(1).0);
    let levels = |level: &str| findings(&json).iter().filter(|finding| finding.3 == level).count();
    assert_eq!(json["errors"], levels("error"));
    assert_eq!(json["warnings"], levels("warning"));
    assert_eq!(json["advice"], levels("advice"));
    assert!(levels("error") > 100 && levels("warning") > 1, "{}", levels("error"));
}

#[test]
fn an_empty_report_matches_its_schema() {
    let run = Run::new().file("sound.wet", "wetside 1\n").args(["check", "--as", "json"]);
    let json = json!({ "report": 1, "files": 1, "errors": 0, "warnings": 0, "advice": 0, "findings": [] });
    assert_eq!(valid(&run.succeeds()), json);
}

/// Columns count characters and the end is excluded: `stray` is the characters 13 to 17.
#[test]
fn a_finding_has_its_location_help_and_fix() {
    let run = Run::new().file("wide.wet", WIDE).args(["check", "--as", "json"]);
    let json = valid(&run.fails(1).0);
    let stray = &json["findings"][0];
    let place = ["line", "column", "end_line", "end_column"].map(|key| stray[key].as_u64().unwrap());
    assert_eq!((stray["name"].as_str().unwrap(), place), ("unexpected-words", [2, 13, 2, 18]));
    let fix = &json["findings"][1]["fixes"][0];
    assert_eq!(fix["certain"], true);
    let edit = json!({
        "file": "wide.wet", "line": 3, "column": 5, "end_line": 3, "end_column": 11, "text": "speed"
    });
    assert_eq!(fix["edits"], json!([edit]));
}

/// A text report shows at most 50 findings, so each folder is checked by itself.
#[test]
fn locations_in_json_match_the_text() {
    let mut run = faulty();
    let mut compared = 0;
    for folder in ["tests/faults/syntax", "a b", "wide.wet", "hasty.wet"] {
        run = run.again().args(["check", folder, "--fail-on", "advice"]);
        let (text, _) = run.fails(1);
        run = run.again().args(["check", folder, "--fail-on", "advice", "--as", "json"]);
        let json = valid(&run.fails(1).0);
        // A line too long to draw is reported by its location.
        let place = |line: &str| {
            let line = line.trim_start();
            let undrawn = || line.strip_suffix(": contains");
            line.strip_prefix("at ").or_else(undrawn).map(str::to_owned)
        };
        let places = text.lines().filter_map(place);
        let of_json = findings(&json);
        let of_json: Vec<String> =
            of_json.iter().map(|(file, line, column, ..)| format!("{file}:{line}:{column}")).collect();
        compared += of_json.len();
        let of_json: Vec<&str> = of_json.iter().take(50).map(String::as_str).collect();
        assert_eq!(places.collect::<Vec<_>>(), of_json, "{folder}");
    }
    assert!(compared > 20, "{compared}");
}

/// Each location with its new text; `null` removes the old text.
#[test]
fn the_schema_refuses_an_invalid_report() {
    let run = Run::new().file("wide.wet", WIDE).file("hasty.wet", HASTY).args(["check", "--as", "json"]);
    let sound = valid(&run.fails(1).0);
    let validator = draft202012::new(&schema()).unwrap();
    let invalid_values = [
        ("/report", json!(2)),
        ("/files", json!(-1)),
        ("/errors", json!(null)),
        ("/truncated", json!(0)),
        ("/stray", json!(1)),
        ("/findings/0/level", json!("note")),
        ("/findings/0/name", json!("Unknown word")),
        ("/findings/0/message", json!("a\u{1b}[2Jb")),
        ("/findings/0/message", json!("two\nlines")),
        ("/findings/0/file", json!("a\u{202e}b")),
        ("/findings/0/line", json!(0)),
        ("/findings/0/end_column", json!(null)),
        ("/findings/0/help", json!(null)),
        ("/findings/0/others", json!([])),
        ("/findings/0/stray", json!(1)),
        ("/findings/2/fixes", json!([])),
        ("/findings/2/fixes/0/certain", json!("yes")),
        ("/findings/2/fixes/0/edits", json!([])),
        ("/findings/2/fixes/0/edits/0/text", json!(null)),
        ("/findings/2/fixes/0/edits/0/stray", json!(1)),
    ];
    for (place, value) in invalid_values {
        let mut json = sound.clone();
        let (above, last) = place.rsplit_once('/').unwrap();
        let object = json.pointer_mut(above).unwrap().as_object_mut().unwrap();
        match value.is_null() {
            true => assert!(object.remove(last).is_some(), "{place}"),
            false => _ = object.insert(last.to_owned(), value.clone()),
        }
        assert!(!validator.is_valid(&json), "{value} is accepted at {place}");
    }
}

/// Two files with 7,200 errors each: eight blocks of 900 lines with an unknown word.
#[test]
fn findings_that_are_left_out_are_counted() {
    let block = |number: usize| format!("film f-{number} {{\n{}}}\n", "    x\n".repeat(900));
    let file = |from: usize| format!("wetside 1\n{}", (from..from + 8).map(block).collect::<String>());
    let run = Run::new().file("a.wet", file(0)).file("b.wet", file(8)).args(["check", "--as", "json"]);
    let json = valid(&run.fails(1).0);
    assert_eq!((&json["errors"], &json["truncated"]), (&json!(14_400), &json!(4_400)));
    assert_eq!(json["findings"].as_array().unwrap().len(), 10_000);
    let text = run.again().args(["check"]).fails(1).0;
    assert!(text.ends_with("\nand 14350 more\n\n14400 errors in 2 files\n"));
}
