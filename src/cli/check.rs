//! `check`: every fault and doubt in every file, in one run.

use std::path::PathBuf;

use super::Ended;
use super::failure::Failure;
use super::find::OtherRoots;
use super::inspect::{Inspected, inspect};
use super::levels::{level, levels};
use super::progress::Progress;
use super::terminal::Terminal;
use super::{named, output};
use crate::check;
use crate::report::{self, DRAWN_MAX, FINDINGS_MAX, Look};
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
    /// How to tell what was found
    #[arg(long = "as", value_enum, default_value_t = Form::Text, value_name = "FORM")]
    form: Form,
    /// End with status 1 at this level too: warning or advice
    #[arg(long, value_parser = fail_on, value_name = "LEVEL")]
    fail_on: Option<Level>,
    /// Weigh a rule for this run, as in wet-after-dry=off; off, advice, warning or error
    #[arg(long = "level", value_name = "RULE=WEIGHT")]
    levels: Vec<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    /// Apply the mends that are certain, and show the rest, as text
    #[arg(long, conflicts_with = "form")]
    mend: bool,
    /// With --mend: only tell, and exit with 1 if anything would be mended
    #[arg(long, requires = "mend")]
    dry: bool,
}

/// How findings are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// Under the recipe's own lines, for people
    Text,
    /// One a line, file:line:column: weight[name]: message
    Lines,
    /// One object, for programs
    Json,
    /// SARIF 2.1.0
    Sarif,
}

/// Reads, checks, prints.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let levels = levels(&arguments.paths, &arguments.levels, arguments.no_config)?;
    if arguments.mend {
        return super::mend::run(&arguments.paths, arguments.dry, &levels, arguments.fail_on, terminal);
    }
    let others = OtherRoots::default();
    let paths = named::files(&arguments.paths, &others)?;
    let look =
        (arguments.form == Form::Text).then_some(if terminal.out { Look::Colour } else { Look::Plain });
    let progress = terminal.err_is_terminal.then(Progress::new);
    let mut inspected = inspect(paths, &levels, look, progress);
    let unread = std::mem::take(&mut inspected.failures);
    unread.iter().for_each(|failure| output::complain(&failure.drawn()));
    let count = inspected.count();
    let told = if arguments.form == Form::Text { others.told() } else { String::new() };
    output::print(&(printed(arguments.form, inspected, count) + &told))?;
    if !unread.is_empty() {
        return Err(Failure::new(
            "not every file could be read",
            "see above; what could be read was checked",
        ));
    }
    if count.at_least(arguments.fail_on) > 0 { Ok(Ended::WithFindings) } else { Ok(Ended::Done) }
}

fn printed(form: Form, inspected: Inspected, count: report::Count) -> String {
    let (files, all) = (inspected.files, count.errors + count.warnings + count.advice);
    let findings = inspected.findings.into_iter();
    if form == Form::Text {
        let mut text: String = findings.filter_map(|(_, drawn)| drawn).take(DRAWN_MAX).collect();
        if all > DRAWN_MAX {
            text.push_str(&format!("and {} more\n\n", all - DRAWN_MAX));
        }
        return text + &report::summary(count, files) + "\n";
    }
    let told: Vec<report::Finding> = findings.take(FINDINGS_MAX).map(|(told, _)| told).collect();
    match form {
        Form::Text | Form::Lines => report::lines(&told, count),
        Form::Json => report::json(&told, count, files),
        Form::Sarif => report::sarif(&told, count, &check::faults(), env!("CARGO_PKG_VERSION")),
    }
}

fn fail_on(word: &str) -> Result<Level, String> {
    match level(word) {
        Ok(Some(Level::Error)) => {
            Err("an error always ends the call with status 1; write warning or advice".to_owned())
        }
        Ok(Some(level)) => Ok(level),
        Ok(None) | Err(_) => Err(format!("'{word}' is not a level; write warning or advice")),
    }
}
