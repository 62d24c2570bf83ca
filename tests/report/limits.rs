//! The limits of each form: findings over the limit are counted and decide the exit status. Fixes arrive unchanged.

use serde_json::{Value, json};
use wetside::report::{self, Count, Finding, Location};
use wetside::source::{Edit, Fix, Level, is_hidden};

use crate::program::Run;

/// 12,000 unused films, each with a piece of advice.
fn unnamed() -> Run {
    let own = "wetside 1\nrecipe own {\n    wash {\n        fills     10 inversions\n    }\n}\n";
    let films: String = (0..12_000).map(|at| format!("film f{at} {{\n    speed     ISO 100\n}}\n")).collect();
    Run::new().file("films.wet", format!("{own}{films}"))
}

/// 12,000 are found and 50 or 10,000 shown, so 11,950 or 2,000 are left out.
#[test]
fn advice_past_the_limit_is_counted_in_every_form() {
    let run = unnamed().args(["check"]);
    let text = run.succeeds();
    assert!(text.ends_with("\nand 11950 more\n\n12000 pieces of advice in 1 file\n"));
    assert_eq!(text.matches("advice[never-used]").count(), 50);

    let run = run.again().args(["check", "--as", "lines"]);
    let lines = run.succeeds();
    assert_eq!(lines.matches(": advice[never-used]: ").count(), 10_000);
    assert!(lines.ends_with("'f9999' is never used in this file\nand 2000 more\n"));

    let run = run.again().args(["check", "--as", "json"]);
    let json: Value = serde_json::from_str(&run.succeeds()).unwrap();
    assert_eq!((&json["advice"], &json["truncated"]), (&json!(12_000), &json!(2_000)));
    assert_eq!(json["findings"].as_array().unwrap().len(), 10_000);

    let run = run.again().args(["check", "--as", "sarif"]);
    let sarif: Value = serde_json::from_str(&run.succeeds()).unwrap();
    let first_run = &sarif["runs"][0];
    assert_eq!(first_run["results"].as_array().unwrap().len(), 10_000);
    let notification = &first_run["invocations"][0]["toolExecutionNotifications"][0];
    assert_eq!(notification["message"]["text"], "2000 more findings are counted but not listed");
    assert_eq!(first_run["invocations"][0]["executionSuccessful"], true);
}

/// The one error comes after 12,000 pieces of advice, so no form shows it.
#[test]
fn an_error_past_the_limit_gives_status_one() {
    let mut run = unnamed().file("last.wet", "wetside 1\nfilm last {\n    speed     ISO 0\n}\n");
    for form in ["text", "lines", "json", "sarif"] {
        run = run.again().args(["check", "--as", form]);
        let (printed, _) = run.fails(1);
        assert!(!printed.contains("last.wet"), "{form}");
        if form == "text" {
            assert!(printed.ends_with("\n1 error, 12000 pieces of advice in 2 files\n"));
        }
    }
}

/// 300 files in three batches use the file with 9,000 errors; another file has 3,000.
#[test]
fn a_shared_file_is_reported_and_counted_once_past_the_limit() {
    let odd = |count: usize| -> String {
        std::iter::once("wetside 1\n".to_owned())
            .chain((0..count).map(|at| format!("odd-{at} 1\n")))
            .collect()
    };
    let mut run = Run::new().file("a.wet", odd(3_000)).file("used.wet", odd(9_000));
    for at in 0..300 {
        run = run.file(&format!("by-{at:03}.wet"), "wetside 1\nuse \"used.wet\"\n");
    }
    let run = run.args(["check"]);
    let (text, _) = run.fails(1);
    assert!(text.ends_with("\nand 11950 more\n\n12000 errors in 302 files\n"));

    let run = run.again().args(["check", "--as", "lines"]);
    let (lines, _) = run.fails(1);
    assert_eq!(lines.lines().count(), 10_001);
    assert!(lines.starts_with("a.wet:2:1: error[unknown-word]: 'odd-0' is not a statement of a file\n"));
    assert!(lines.ends_with(
        "used.wet:7001:1: error[unknown-word]: 'odd-6999' is not a statement of a file\nand 2000 more\n"
    ));
}

#[test]
fn a_complete_report_has_no_truncation_note() {
    let run = Run::new().file("hasty.wet", super::HASTY).args(["check", "--as", "sarif"]);
    let sarif: Value = serde_json::from_str(&run.succeeds()).unwrap();
    assert!(sarif["runs"][0].get("invocations").is_none());
    let run = run.again().args(["check", "--as", "lines"]);
    assert_eq!(run.succeeds().lines().count(), 1);
}

/// Each hidden character is escaped: U+202E by one unit of UTF-16, U+E0041 by two, which are
/// DB40 and DC41.
#[test]
fn the_text_of_a_fix_is_complete_with_hidden_characters_escaped() {
    let text = "a\u{202e}b\u{1b}c\u{9b}d\u{7f}e\u{2066}f\u{200b}g\u{e0041}h\n\"\u{e9}";
    let at = Location { file: "a.wet".to_owned(), line: 1, column: 1, end_line: 1, end_column: 2 };
    let edits = vec![Edit { span: at.clone(), text: text.to_owned() }];
    let fix = Fix { title: "t".to_owned(), certain: false, edits };
    let finding = Finding {
        at,
        level: Level::Error,
        name: "unknown-word",
        message: "m".to_owned(),
        others: Vec::new(),
        help: Vec::new(),
        fixes: vec![fix],
    };
    let count = Count { errors: 1, ..Count::default() };
    let json = report::json(std::slice::from_ref(&finding), count, 1);
    let sarif = report::sarif(&[finding], count, &[], "0");
    for printed in [&json, &sarif] {
        assert!(!printed.contains(is_hidden), "{printed:?}");
        assert!(!printed.contains(['\u{202e}', '\u{2066}', '\u{9b}', '\u{7f}', '\u{e0041}']), "{printed:?}");
        let written = r#""a\u202eb\u001bc\u009bd\u007fe\u2066f\u200bg\udb40\udc41h\n\"é""#;
        assert!(printed.contains(written), "{printed}");
    }
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["findings"][0]["fixes"][0]["edits"][0]["text"], text);
    let sarif: Value = serde_json::from_str(&sarif).unwrap();
    let change = &sarif["runs"][0]["results"][0]["fixes"][0]["artifactChanges"][0]["replacements"][0];
    assert_eq!(change["insertedContent"]["text"], text);
}
