//! Findings as one JSON object, for programs. The shape is a promise of its own, apart from the
//! types of the stages.

use serde::Serialize;

use super::sanitise::escaped;
use super::summary::Count;
use super::told::{Mend, TOLD_MAX, Told, Where};

#[derive(Serialize)]
struct Report<'a> {
    report: u32,
    files: usize,
    errors: usize,
    warnings: usize,
    advice: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    truncated: Option<usize>,
    findings: Vec<Finding<'a>>,
}

#[derive(Serialize)]
struct Finding<'a> {
    #[serde(flatten)]
    at: Place<'a>,
    level: &'static str,
    name: &'static str,
    message: &'a str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    others: Vec<Other<'a>>,
    help: &'a [String],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Fix<'a>>,
}

#[derive(Serialize)]
struct Place<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Serialize)]
struct Other<'a> {
    #[serde(flatten)]
    at: Place<'a>,
    words: &'a str,
}

#[derive(Serialize)]
struct Fix<'a> {
    title: &'a str,
    certain: bool,
    edits: Vec<Edit<'a>>,
}

#[derive(Serialize)]
struct Edit<'a> {
    #[serde(flatten)]
    at: Place<'a>,
    text: &'a str,
}

/// The findings of so many files, in the order given, at most [`TOLD_MAX`], and how many of that count are
/// left out.
#[must_use]
pub fn json(findings: &[Told], count: Count, files: usize) -> String {
    let told = findings.get(..TOLD_MAX).unwrap_or(findings);
    let report = Report {
        report: 1,
        files,
        errors: count.errors,
        warnings: count.warnings,
        advice: count.advice,
        truncated: count.left_out(told.len()),
        findings: told.iter().map(finding).collect(),
    };
    let mut text = serde_json::to_string_pretty(&report).expect("every key is a word");
    text.push('\n');
    escaped(text)
}

fn finding(told: &Told) -> Finding<'_> {
    Finding {
        at: place(&told.at),
        level: told.level.word(),
        name: told.name,
        message: &told.message,
        others: told.others.iter().map(|(at, words)| Other { at: place(at), words }).collect(),
        help: &told.help,
        fixes: told.fixes.iter().map(fix).collect(),
    }
}

fn fix(mend: &Mend) -> Fix<'_> {
    let edits = mend.edits.iter().map(|(at, text)| Edit { at: place(at), text }).collect();
    Fix { title: &mend.title, certain: mend.certain, edits }
}

fn place(at: &Where) -> Place<'_> {
    Place {
        file: &at.file,
        line: at.line,
        column: at.column,
        end_line: at.end_line,
        end_column: at.end_column,
    }
}
