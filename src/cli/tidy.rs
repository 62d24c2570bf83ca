//! `tidy`: recipes in their one canonical layout, in place or told only.

use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::failure::Failure;
use super::terminal::Terminal;
use super::{Ended, changes, named, output};
use crate::report;
use crate::source::{Diagnostic, FileId, Level, Sources, Span};
use crate::tidy::{Refusal, tidy};

/// Put recipes into the one canonical layout
///
/// What a recipe says is not changed. A line that cannot be read is left as it stands.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside tidy\n  wetside tidy --dry recipes\n  wetside tidy - < rough.wet > tidy.wet"
)]
pub(super) struct Arguments {
    /// Files, folders, or - to tidy standard input to standard output; this folder if none is named
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Only tell what would change, and exit with 1 if anything would
    #[arg(long)]
    dry: bool,
}

/// What became of one file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fate {
    Same,
    Changed,
    Refused,
}

/// Reads, tidies, writes; one file after the other, so that many cost no more memory than one.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let paths = named::files(&arguments.paths)?;
    let mut fates = Vec::new();
    for path in &paths {
        match one(path, arguments.dry, terminal) {
            Ok(fate) => fates.push(fate),
            Err(failure) => output::complain(&failure.drawn()),
        }
    }
    let to_stdout = !arguments.dry && paths.iter().any(|path| named::is_stdin(path));
    if !to_stdout {
        output::print(&summary(&fates, arguments.dry))?;
    }
    let count = |fate: Fate| fates.iter().filter(|own| **own == fate).count();
    if fates.len() < paths.len() {
        return Err(Failure::new("not every file could be tidied", "see above"));
    }
    let told_of_changes = arguments.dry && count(Fate::Changed) > 0;
    Ok(if told_of_changes || count(Fate::Refused) > 0 { Ended::RecipeAtFault } else { Ended::Done })
}

fn one(path: &Path, dry: bool, terminal: Terminal) -> Result<Fate, Failure> {
    let mut sources = Sources::default();
    let file = Disk::default().read(&mut sources, path)?;
    let before = sources.text(file);
    let to_stdout = named::is_stdin(path) && !dry;
    let tidied = match tidy(&sources, file) {
        Ok(tidied) => tidied,
        Err(refusal) => {
            tell_refusal(&sources, file, refusal, terminal)?;
            if to_stdout {
                output::print(before)?;
            }
            return Ok(Fate::Refused);
        }
    };
    tell(&sources, &tidied.left_alone.into_iter().map(left_alone).collect::<Vec<_>>(), terminal);
    if to_stdout {
        output::print(&tidied.text)?;
        return Ok(Fate::Changed);
    }
    let differs =
        if named::is_stdin(path) { tidied.text != before } else { named::differs(path, &tidied.text)? };
    if !differs {
        return Ok(Fate::Same);
    }
    if dry {
        output::print(&changes::told(sources.name(file), before, &tidied.text))?;
        return Ok(Fate::Changed);
    }
    named::replace(path, before, &tidied.text)?;
    output::print(&format!("tidied {}\n", changes::shown(sources.name(file))))?;
    Ok(Fate::Changed)
}

fn tell(sources: &Sources, findings: &[Diagnostic], terminal: Terminal) {
    if !findings.is_empty() {
        let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
        output::complain(&report::draw(sources, findings, look));
    }
}

fn left_alone(span: Span) -> Diagnostic {
    let mut advice =
        Diagnostic::warning("left-alone", span, "this line could not be read and stays as it is")
            .help("wetside check says what is wrong with it");
    advice.level = Level::Advice;
    advice
}

/// Says why a file is not tidied. That the tidy text would not say the same is no fault of the recipe.
fn tell_refusal(
    sources: &Sources,
    file: FileId,
    refusal: Refusal,
    terminal: Terminal,
) -> Result<(), Failure> {
    let name = changes::shown(sources.name(file));
    match refusal {
        Refusal::Damaged(faults) => {
            tell(sources, &faults, terminal);
            output::complain(&format!("{name} was not changed: mend this first\n"));
            Ok(())
        }
        Refusal::OwnFault => Err(Failure::new(
            format!("{name} was not changed: its tidy form would not say the same"),
            "this is a fault of wetside itself, not of the recipe",
        )),
    }
}

fn summary(fates: &[Fate], dry: bool) -> String {
    let count = |fate: Fate| fates.iter().filter(|own| **own == fate).count();
    let files = |count: usize| if count == 1 { "1 file".to_owned() } else { format!("{count} files") };
    let (changed, refused, all) = (count(Fate::Changed), count(Fate::Refused), files(fates.len()));
    let line = match (changed, dry) {
        (0, _) if refused > 0 => format!("{} of {all} not tidied", refused),
        (0, _) => format!("nothing to tidy in {all}"),
        (changed, true) => format!("{changed} of {all} would change; wetside tidy changes them"),
        (changed, false) => format!("{changed} of {all} tidied"),
    };
    format!("{line}\n")
}
