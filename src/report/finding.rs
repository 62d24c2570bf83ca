//! Findings that can be shown without their source files: places are lines and columns, and all texts are safe to show.
//! A long run keeps only findings in memory, not the files.

use serde::Serialize;

use super::sanitise::sanitise;
use crate::source::{Diagnostic, Edit, FileId, Fix, Level, Sources, Span};

/// The most findings that a report for programs lists. Its counts include the others.
pub const FINDINGS_MAX: usize = 10_000;
/// The file name that reports give to standard input.
pub const STDIN: &str = "standard input";

/// A diagnostic in the form for reports. The fields are those of the JSON report.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Finding {
    /// The file, lines and columns of the problem.
    #[serde(flatten)]
    pub at: Location,
    /// The severity.
    pub level: Level,
    /// The name of the problem, such as `unknown-unit`.
    pub name: &'static str,
    /// What is wrong.
    pub message: String,
    /// Other places that the problem concerns.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<Other>,
    /// What to write instead.
    pub help: Vec<String>,
    /// Ways to fix the problem.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub fixes: Vec<Fix<Location>>,
}

/// A range of text in a file. Lines and columns count from 1, and columns count characters. The end column is excluded.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Location {
    /// The name of the file.
    pub file: String,
    /// The line on which the range begins.
    pub line: usize,
    /// The column of the first character.
    pub column: usize,
    /// The line on which the range ends.
    pub end_line: usize,
    /// The column after the last character.
    pub end_column: usize,
}

/// Another place that a finding concerns, with a text about it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Other {
    /// The location.
    #[serde(flatten)]
    pub at: Location,
    /// The text about this location.
    pub words: String,
}

/// Converts a diagnostic into a finding, with lines and columns in place of spans.
pub fn finding(sources: &Sources, diagnostic: &Diagnostic) -> Finding {
    let location = |span: Span| location(sources, span);
    let fixes = diagnostic.fixes.iter().map(|fix| Fix {
        title: one_line(&fix.title),
        certain: fix.certain,
        edits: fix.edits.iter().map(|it| Edit { span: location(it.span), text: it.text.clone() }).collect(),
    });
    let others =
        diagnostic.others.iter().map(|(span, words)| Other { at: location(*span), words: one_line(words) });
    Finding {
        at: location(diagnostic.span),
        level: diagnostic.level,
        name: diagnostic.name,
        message: one_line(&diagnostic.message),
        others: others.collect(),
        help: diagnostic.help.iter().map(|help| one_line(help)).collect(),
        fixes: fixes.collect(),
    }
}

fn location(sources: &Sources, span: Span) -> Location {
    let start = sources.place(span);
    let end = sources.place(span.after());
    Location {
        file: file_name(sources, span.file),
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
    }
}

/// The name of a file on one line, without control and invisible characters.
pub fn file_name(sources: &Sources, file: FileId) -> String {
    one_line(sources.name(file))
}

/// The text on one line without control and invisible characters, so that it cannot imitate another finding.
pub(super) fn one_line(words: &str) -> String {
    sanitise(words).replace(['\n', '\t', '\r'], " ")
}
