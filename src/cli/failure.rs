//! What went wrong with the call, where there is no recipe line to point at: told by miette, with
//! what to do. Exit status 2.

use std::fmt;

use miette::{GraphicalReportHandler, GraphicalTheme};

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

    /// As a person reads it; what came from outside is made safe here.
    pub(super) fn drawn(&self) -> String {
        let safe = |text: &str| sanitise(text).replace('\n', " ");
        let shown = Failure { message: safe(&self.message), help: safe(&self.help), example: self.example };
        let mut text = String::new();
        let handler = GraphicalReportHandler::new_themed(GraphicalTheme::none())
            .with_links(false)
            .with_break_words(false)
            .with_word_splitter(textwrap::WordSplitter::NoHyphenation)
            .with_word_separator(textwrap::WordSeparator::AsciiSpace)
            .with_width(80);
        let drawn = match handler.render_report(&mut text, &shown) {
            Ok(()) => text,
            Err(_) => format!("{}\n  help: {}\n", shown.message, shown.help),
        };
        if shown.example.is_empty() { drawn } else { format!("{drawn}\n{}", shown.example) }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Failure {}

impl miette::Diagnostic for Failure {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(&self.help))
    }
}
