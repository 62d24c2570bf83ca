//! What went wrong with the call, where there is no recipe line to point at: told with what to do.
//! Exit status 2.

use textwrap::{Options, WordSeparator, WordSplitter};

use crate::report::sanitise;

/// The columns that a message takes at most.
const WIDTH: usize = 78;

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

    /// As a person reads it; what came from outside is made safe here.
    pub(super) fn drawn(&self) -> String {
        let safe = |text: &str| sanitise(text).replace('\n', " ");
        let options = Options::new(WIDTH)
            .break_words(false)
            .word_splitter(WordSplitter::NoHyphenation)
            .word_separator(WordSeparator::AsciiSpace);
        let wrapped = |text: &str, first, next| {
            textwrap::fill(&safe(text), options.clone().initial_indent(first).subsequent_indent(next)) + "\n"
        };
        let drawn = wrapped(&self.message, "  x ", "  | ") + &wrapped(&self.help, "  help: ", "        ");
        if self.example.is_empty() { drawn } else { format!("{drawn}\n{}", self.example) }
    }
}
