//! Why a command ends without its result: an error in the command line, errors in files, or a bug.

use std::panic::{PanicHookInfo, UnwindSafe, catch_unwind, set_hook};
use std::process::ExitCode;
use std::sync::Once;

use miette::{GraphicalReportHandler, GraphicalTheme, MietteDiagnostic};

use super::output;
use super::refusal::Refusal;
use crate::report::{self, Look, sanitise};
use crate::source::{Diagnostic, Sources};

/// The exit status of an internal error: `EX_SOFTWARE` of `sysexits.h`.
pub const STATUS: u8 = 70;

pub(super) enum Failure {
    /// An error in the command line: exit status 2. `example`, if not empty, is printed for the user to copy.
    Call { message: String, help: String, example: &'static str },
    /// Findings in files: exit status 1. `note` is printed after the findings.
    Files { sources: Sources, findings: Vec<Diagnostic>, note: String },
    /// The card is refused, since a roll in the tank contradicts it: exit status 1.
    Refused(Box<Refusal>),
}

impl Failure {
    /// A failure for an error in the command line. `help` says what to write instead.
    pub(super) fn new(message: impl Into<String>, help: impl Into<String>) -> Failure {
        Failure::Call { message: message.into(), help: help.into(), example: "" }
    }

    /// The error message without the help text. Of several findings, only the first is given.
    pub(super) fn message(&self) -> String {
        match self {
            Failure::Call { message, .. } => message.clone(),
            Failure::Files { findings, .. } => {
                findings.first().map(|finding| finding.message.clone()).unwrap_or_default()
            }
            Failure::Refused(refusal) => refusal.text(),
        }
    }

    pub(super) fn status(&self) -> u8 {
        if matches!(self, Failure::Call { .. }) { 2 } else { 1 }
    }

    /// The failure as text for standard error, with control characters escaped.
    pub(super) fn drawn(&self, look: Look) -> String {
        let (message, help, example) = match self {
            Failure::Call { message, help, example } => (message, help, example),
            Failure::Files { sources, findings, note } => {
                return report::draw(sources, findings, look) + note;
            }
            Failure::Refused(refusal) => return refusal.text(),
        };
        let safe = |text: &str| sanitise(text).replace('\n', " ");
        let error = MietteDiagnostic::new(safe(message)).with_help(safe(help));
        let handler = GraphicalReportHandler::new_themed(GraphicalTheme::none())
            .with_links(false)
            .with_break_words(false)
            .with_word_splitter(textwrap::WordSplitter::NoHyphenation)
            .with_word_separator(textwrap::WordSeparator::AsciiSpace)
            .with_width(80);
        let mut drawn = String::new();
        handler.render_report(&mut drawn, &error).expect("a string can be written to");
        if example.is_empty() { drawn } else { format!("{drawn}\n{example}") }
    }
}

pub(super) fn fail<T>(message: impl Into<String>, help: impl Into<String>) -> Result<T, Failure> {
    Err(Failure::new(message, help))
}

/// Runs the program. If a thread panics, prints the first panic on standard error and returns [`STATUS`].
pub fn guarded(work: impl FnOnce() -> ExitCode + UnwindSafe) -> ExitCode {
    static PRINTED: Once = Once::new();
    set_hook(Box::new(|panic| PRINTED.call_once(|| output::complain(&bug_report(panic)))));
    catch_unwind(work).unwrap_or(ExitCode::from(STATUS))
}

fn bug_report(panic: &PanicHookInfo<'_>) -> String {
    let what = sanitise(panic.payload_as_str().unwrap_or("without a message")).replace('\n', " ");
    let place = panic.location().map_or_else(String::new, |at| format!(" at {}:{}", at.file(), at.line()));
    format!(
        "internal error: {what}\n  in wetside {}{place}\n  help: this is a bug in wetside, not in your recipe\n        \
         report it with these lines, the command and its files\n",
        env!("CARGO_PKG_VERSION")
    )
}
