//! `check`: all errors, warnings and advice in all files, in one run.

use std::path::PathBuf;

use super::Ended;
use super::failure::Failure;
use super::find::{self, OtherRoots};
use super::inspect::{Inspected, inspect};
use super::levels::{level, levels, set_given};
use super::mend;
use super::output::{self, Terminal, look};
use crate::check;
use crate::report::{self, DRAWN_MAX, FINDINGS_MAX};
use crate::source::Level;

/// Report errors, warnings and advice in recipes and in the files they use
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside check\n  wetside check recipes/films.wet\n  wetside check --fail-on warning --as lines\n  git show HEAD:a.wet | wetside check -"
)]
pub(super) struct Arguments {
    /// Files, folders, or - for standard input; this folder if none is named
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// How to write the findings
    #[arg(long = "as", value_enum, default_value_t = Form::Text, value_name = "FORM")]
    form: Form,
    /// Exit with status 1 for this severity too: warning or advice
    #[arg(long, value_parser = fail_on, value_name = "SEVERITY")]
    fail_on: Option<Level>,
    /// Set a rule's severity for this run, as in wet-after-dry=off; off, advice, warning or error
    #[arg(long = "level", value_name = "RULE=SEVERITY")]
    levels: Vec<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    /// Apply the fixes that are certain, and show the other findings as text
    #[arg(long, conflicts_with = "form")]
    mend: bool,
    /// With --mend: change no file, and exit with 1 if there are fixes
    #[arg(long, requires = "mend")]
    dry: bool,
}

/// What findings are written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// With the lines of the recipe, for people
    Text,
    /// One a line, file:line:column: severity[name]: message
    Lines,
    /// One object, for programs
    Json,
    /// SARIF 2.1.0
    Sarif,
}

/// Reads, checks, prints.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let Arguments { paths, form, fail_on, .. } = arguments;
    let mut levels = levels(paths, arguments.no_config)?;
    set_given(&mut levels, &arguments.levels)?;
    if arguments.mend {
        return mend::run(paths, arguments.dry, &levels, *fail_on, terminal);
    }
    let others = OtherRoots::default();
    let is_text = *form == Form::Text;
    let look = is_text.then_some(look(terminal.out));
    let mut inspected = inspect(find::files(paths, &others)?, &levels, look, terminal.err_is_terminal);
    let unread = std::mem::take(&mut inspected.failures);
    unread.iter().for_each(|failure| terminal.complain(failure));
    let count = inspected.count();
    output::print(written(*form, inspected, count) + &if is_text { others.line() } else { String::new() })?;
    if !unread.is_empty() {
        return Err(Failure::new("some files could not be read", "see above; the others were checked"));
    }
    Ok(if count.at_least(*fail_on) > 0 { Ended::WithFindings } else { Ended::Done })
}

fn written(form: Form, inspected: Inspected, count: report::Count) -> String {
    let (files, all) = (inspected.files, count.errors + count.warnings + count.advice);
    let findings = inspected.findings.into_iter();
    if form == Form::Text {
        let mut text: String = findings.filter_map(|(_, drawn)| drawn).take(DRAWN_MAX).collect();
        if all > DRAWN_MAX {
            text.push_str(&format!("and {} more\n\n", all - DRAWN_MAX));
        }
        return text + &report::summary(count, files) + "\n";
    }
    let findings: Vec<report::Finding> = findings.take(FINDINGS_MAX).map(|(finding, _)| finding).collect();
    match form {
        Form::Text | Form::Lines => report::lines(&findings, count),
        Form::Json => report::json(&findings, count, files),
        Form::Sarif => report::sarif(&findings, count, &check::faults(), env!("CARGO_PKG_VERSION")),
    }
}

fn fail_on(word: &str) -> Result<Level, String> {
    match level(word) {
        Ok(Some(Level::Error)) => {
            Err("an error always ends with status 1; write warning or advice".to_owned())
        }
        Ok(Some(level)) => Ok(level),
        Ok(None) | Err(_) => Err(format!("'{word}' is not warning or advice")),
    }
}
