//! Reports for programs: all findings as one JSON object, or each finding as one line.

use serde::Serialize;

use super::finding::Finding;
use super::sanitise::escaped;
use super::summary::Count;

#[derive(Serialize)]
struct Report<'a> {
    report: u32,
    files: usize,
    #[serde(flatten)]
    count: Count,
    #[serde(skip_serializing_if = "Option::is_none")]
    truncated: Option<usize>,
    findings: &'a [Finding],
}

/// The first 10,000 findings as a JSON object. Its member `truncated` counts the findings that are left out.
pub fn json(findings: &[Finding], count: Count, files: usize) -> String {
    let (findings, truncated) = count.listed(findings);
    let report = Report { report: 1, files, count, truncated, findings };
    escaped(serde_json::to_string_pretty(&report).expect("every key is a word") + "\n")
}

/// The first 10,000 findings, each as a line `file:line:column: level[name]: message`. A last line counts the findings
/// that are left out.
pub fn lines(findings: &[Finding], count: Count) -> String {
    let (findings, left_out) = count.listed(findings);
    let mut text = String::new();
    for Finding { at, level, name, message, .. } in findings {
        let (line, column, level) = (at.line, at.column, level.word());
        text.push_str(&format!("{}:{line}:{column}: {level}[{name}]: {message}\n", at.file));
    }
    if let Some(left) = left_out {
        text.push_str(&format!("and {left} more\n"));
    }
    text
}
