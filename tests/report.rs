//! The reports of `check` in each form, with the severities of a config file, and of whole folders. The JSON and SARIF
//! forms must match their schemas.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

mod config;
mod folders;
mod json;
mod limits;
mod lines;
mod names;
mod rules;
mod sarif;
mod severities;
mod waiting;

use std::fs;

use serde_json::Value;

use crate::program::Run;

/// A development of a minute, which is a warning at line 5, column 9.
const HASTY: &str = "\
wetside 1
recipe hasty \"Hasty\" {
    develop {
        in        water
        time      1:00
        between   18 C and 24 C
        agitate   first 10 s, then 5 s every 30 s
    }
}
";

/// Two characters outside the basic plane before an error at column 13 of line 2: two characters, four units of UTF-16,
/// eight bytes. Then an error with a certain fix.
const WIDE: &str = "\
wetside 1
film f \"\u{1d49c}\u{1d49c}\" stray {
    speeed    ISO 200
}
";

/// Files with errors of every stage, with folders and unusual names, and one file without errors.
fn faulty() -> Run {
    let run = Run::new()
        .folders_of_repo("tests/faults")
        .file("wide.wet", WIDE)
        .file("hasty.wet", HASTY)
        .file("a b/\u{e4}%#?.wet", WIDE)
        .file("sound.wet", "wetside 1\n");
    // This file cannot be read, which is an error of the call.
    fs::remove_dir_all(run.folder().join("tests/faults/check/used-file-is-of-another-encoding")).unwrap();
    run
}

/// A finding: file, line, column, severity and name.
type Finding = (String, u64, u64, String, String);

/// The findings of a report in JSON.
fn findings(json: &Value) -> Vec<Finding> {
    let text = |value: &Value, key: &str| value[key].as_str().unwrap().to_owned();
    let finding = |value: &Value| {
        let (line, column) = (value["line"].as_u64().unwrap(), value["column"].as_u64().unwrap());
        (text(value, "file"), line, column, text(value, "level"), text(value, "name"))
    };
    json["findings"].as_array().unwrap().iter().map(finding).collect()
}
