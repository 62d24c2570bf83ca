//! One finding a line, `file:line:column: level[name]: message`, whatever the names of files.

use serde_json::Value;

use super::{Finding, HASTY, WIDE, faulty, findings};
use crate::program::Run;

/// The parts of a line; the file is everything before the first `:LINE:COLUMN: `.
#[track_caller]
fn parsed(line: &str) -> Finding {
    let (file, rest) = line.split_once(".wet:").unwrap_or_else(|| panic!("no file in {line}"));
    let mut pieces = rest.splitn(3, ':');
    let mut number = || pieces.next().unwrap().parse::<u64>().unwrap_or_else(|_| panic!("{line}"));
    let (row, column) = (number(), number());
    let (level, rest) = pieces.next().unwrap().strip_prefix(' ').unwrap().split_once('[').unwrap();
    let (name, message) = rest.split_once("]: ").unwrap();
    assert!(["error", "warning", "advice"].contains(&level), "{line}");
    assert!(name.chars().all(|letter| letter.is_ascii_lowercase() || letter == '-'), "{line}");
    assert!(!message.is_empty(), "{line}");
    (format!("{file}.wet"), row, column, level.to_owned(), name.to_owned())
}

#[test]
fn a_line_has_location_severity_name_and_message() {
    let run = Run::new().file("hasty.wet", HASTY).file("wide.wet", WIDE).args(["check", "--as", "lines"]);
    let expected = "\
        hasty.wet:5:9: warning[short-development]: a development of 1:00 is shorter than any published\n\
        wide.wet:2:13: error[unexpected-words]: this text does not belong to 'film'\n\
        wide.wet:3:5: error[unknown-word]: 'speeed' is not a statement of a film\n";
    assert_eq!(run.fails(1), (expected.to_owned(), String::new()));
}

#[test]
fn a_file_without_findings_has_no_line() {
    let run = Run::new().file("sound.wet", "wetside 1\n").args(["check", "--as", "lines"]);
    assert_eq!(run.succeeds(), "");
}

#[test]
fn lines_and_json_report_the_same_errors() {
    let run = faulty().args(["check", "--as", "lines"]);
    let lines: Vec<Finding> = run.fails(1).0.lines().map(parsed).collect();
    assert!(lines.len() > 100, "{}", lines.len());
    let json: Value = serde_json::from_str(&run.again().args(["check", "--as", "json"]).fails(1).0).unwrap();
    assert_eq!(lines, findings(&json));
}

/// Names of files and in files are untrusted.
#[cfg(unix)]
#[test]
fn a_line_break_in_a_file_name_starts_no_line() {
    let forged = "x\nb.wet:1:1: error[forged]: nothing\r\u{1b}[2J\u{202e}.wet";
    let run = Run::new().file(forged, WIDE).args(["check", "--as", "lines"]);
    let (lines, _) = run.fails(1);
    assert_eq!(lines.lines().count(), 2, "{lines}");
    for line in lines.lines() {
        assert!(line.starts_with("x b.wet:1:1: error[forged]: nothing"), "{line}");
        assert!(!line.contains(['\r', '\u{1b}', '\u{202e}']), "{line:?}");
    }
}

#[test]
fn a_line_break_in_a_message_starts_no_line() {
    let text = "wetside 1\nfilm f {\n    x\u{b}b.wet:1:1:\u{2028}error[forged]:\u{85}nothing\n}\n";
    let (lines, _) = Run::new().file("a.wet", text).args(["check", "--as", "lines"]).fails(1);
    for line in lines.lines() {
        assert!(line.starts_with("a.wet:"), "{lines:?}");
    }
    assert!(!lines.contains(['\u{b}', '\u{2028}', '\u{85}', '\r']), "{lines:?}");
}

#[test]
fn standard_input_is_named_in_the_report() {
    let run = Run::new().args(["check", "-", "--as", "lines"]).stdin(HASTY);
    assert!(run.succeeds().starts_with("standard input:5:9: warning[short-development]: "));
}
