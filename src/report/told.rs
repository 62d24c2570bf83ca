//! A finding by itself: places as lines and columns, every text safe to show, no file needed any
//! more. What prints findings for programs prints these; a long run keeps nothing else.

use super::sanitise::sanitise;
use crate::source::{Diagnostic, FileId, Level, Sources, Span};

/// A report for programs tells this many findings; its count tells of all.
pub const TOLD_MAX: usize = 10_000;
/// What standard input is called.
pub const STDIN: &str = "standard input";

/// A finding that needs no file to be read.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Told {
    /// Where it is.
    pub at: Where,
    /// Its weight.
    pub level: Level,
    /// The name of the fault.
    pub name: &'static str,
    /// What is wrong.
    pub message: String,
    /// Other places that matter, each with its words.
    pub others: Vec<(Where, String)>,
    /// What to write instead.
    pub help: Vec<String>,
    /// Ways to mend it.
    pub fixes: Vec<Mend>,
}

/// A place by its file's name, lines and columns, all from 1; columns count characters, and the end
/// is behind the last.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Where {
    /// The file as people are shown it.
    pub file: String,
    /// The line of its first character.
    pub line: usize,
    /// The column of its first character.
    pub column: usize,
    /// The line of its end.
    pub end_line: usize,
    /// The column of its end.
    pub end_column: usize,
}

/// One way to mend a fault.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mend {
    /// What it does.
    pub title: String,
    /// Whether it may be done unasked.
    pub certain: bool,
    /// What goes and what comes.
    pub edits: Vec<(Where, String)>,
}

/// A finding by itself.
#[must_use]
pub fn told(sources: &Sources, finding: &Diagnostic) -> Told {
    let place = |span: Span| place(sources, span);
    Told {
        at: place(finding.span),
        level: finding.level,
        name: finding.name,
        message: one_line(&finding.message),
        others: finding.others.iter().map(|(span, words)| (place(*span), one_line(words))).collect(),
        help: finding.help.iter().map(|help| one_line(help)).collect(),
        fixes: finding
            .fixes
            .iter()
            .map(|fix| Mend {
                title: one_line(&fix.title),
                certain: fix.certain,
                edits: fix.edits.iter().map(|edit| (place(edit.span), edit.text.clone())).collect(),
            })
            .collect(),
    }
}

fn place(sources: &Sources, span: Span) -> Where {
    let start = sources.place(span);
    let end = sources.place(Span { start: span.end, ..span });
    Where {
        file: file_name(sources, span.file),
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
    }
}

/// A file as it is shown: its name, made safe.
#[must_use]
pub fn file_name(sources: &Sources, file: FileId) -> String {
    one_line(sources.name(file))
}

/// Safe, and on one line: a line ending in a message could pass itself off as another finding.
pub(super) fn one_line(words: &str) -> String {
    sanitise(words).replace(['\n', '\t', '\r'], " ")
}
