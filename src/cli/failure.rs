//! An error in the call itself, where there is no line of a recipe to point at. Exit status 2.

use miette::{GraphicalReportHandler, GraphicalTheme, MietteDiagnostic};

use crate::report::sanitise;

/// A call that could not be carried out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Failure {
    message: String,
    help: String,
    /// What can be copied, line by line.
    example: &'static str,
}

impl Failure {
    /// What went wrong, and what to do about it.
    pub(super) fn new(message: impl Into<String>, help: impl Into<String>) -> Failure {
        Failure { message: message.into(), help: help.into(), example: "" }
    }

    /// The same with lines to copy below it.
    pub(super) fn showing(self, example: &'static str) -> Failure {
        Failure { example, ..self }
    }

    /// What went wrong, without what to do about it.
    pub(super) fn into_message(self) -> String {
        self.message
    }

    /// The message and its help as a terminal shows them. Control characters of the caller are made safe.
    pub(super) fn drawn(&self) -> String {
        let safe = |text: &str| sanitise(text).replace('\n', " ");
        let error = MietteDiagnostic::new(safe(&self.message)).with_help(safe(&self.help));
        let handler = GraphicalReportHandler::new_themed(GraphicalTheme::none())
            .with_links(false)
            .with_break_words(false)
            .with_word_splitter(textwrap::WordSplitter::NoHyphenation)
            .with_word_separator(textwrap::WordSeparator::AsciiSpace)
            .with_width(80);
        let mut drawn = String::new();
        handler.render_report(&mut drawn, &error).expect("a string can be written to");
        if self.example.is_empty() { drawn } else { format!("{drawn}\n{}", self.example) }
    }
}
