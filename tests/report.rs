//! What `check` reports, in each of its forms, under each of a house's own weights, and of whole folders. The
//! forms for programs are promises, so each is held to a schema: SARIF to the standard's own.
#![expect(clippy::indexing_slicing, reason = "a key that is not there fails the test, as it should")]

mod folders;
mod house;
mod json;
mod limits;
mod lines;
mod names;
mod rules;
mod sarif;
mod waiting;
mod weights;

use std::fs;

use serde_json::Value;

use crate::program::Run;

/// A development of four minutes, which is a warning: at line 5, column 9.
const HASTY: &str = "\
wetside 1
recipe hasty \"Hasty\" {
    develop {
        in        water
        time      4:00
        between   18 C and 24 C
    }
}
";

/// Two characters beyond the basic plane before a fault at column 13 of line 2, which are two characters, four
/// units of UTF-16 and eight bytes; then a fault whose mend is certain.
const WIDE: &str = "\
wetside 1
film f \"\u{1d49c}\u{1d49c}\" stray {
    speeed    ISO 200
}
";

/// Files with faults of every stage, in folders and with names that want care, and one that is sound.
fn faulty() -> Run {
    let run = Run::new()
        .folders_of_repo("tests/faults")
        .file("wide.wet", WIDE)
        .file("hasty.wet", HASTY)
        .file("a b/\u{e4}%#?.wet", WIDE)
        .file("sound.wet", "wetside 1\n");
    // Of these one cannot be read, which is a call at fault.
    fs::remove_dir_all(run.folder().join("tests/faults/check/used-file-is-of-another-encoding")).unwrap();
    run
}

/// What a file is told of: its place, its weight and its name.
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
