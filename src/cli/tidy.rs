//! `tidy`: recipes in their one canonical layout, in place or told only.

use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::failure::Failure;
use super::find::OtherRoots;
use super::spread::spread;
use super::terminal::Terminal;
use super::write::{self, Lock};
use super::{Ended, changes, named, output, root};
use crate::report;
use crate::source::{Diagnostic, FileId, Level, Sources, Span};
use crate::tidy::{Refusal, tidy};

/// Give recipes the standard layout
///
/// No value changes. A line that cannot be read stays as it is.
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

/// So many files are tidied by one core before it looks for more.
const BATCH: usize = 64;

/// What became of one file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fate {
    Same,
    Changed,
    Refused,
}

/// How many files had which fate.
#[derive(Debug, Default)]
struct Tally {
    same: usize,
    changed: usize,
    refused: usize,
    failed: usize,
}

impl Tally {
    fn add(&mut self, fate: Fate) {
        match fate {
            Fate::Same => self.same += 1,
            Fate::Changed => self.changed += 1,
            Fate::Refused => self.refused += 1,
        }
    }
}

/// What was read of a batch; its files share what is known of their folders.
#[derive(Debug, Default)]
struct Read {
    sources: Sources,
    disk: Disk,
}

/// What is to be said of a file and done to it.
#[derive(Debug, Default)]
struct Outcome {
    complaints: String,
    printed: String,
    /// The text that was read, the tidy one, and the file's name, where the one replaces the other.
    replaced: Option<(String, String, String)>,
}

/// Reads and tidies on all cores; speaks and writes in the order of the files as they are done, so that
/// many files cost no more memory than a few.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let others = OtherRoots::default();
    let batches = named::batches(named::files(&arguments.paths, &others)?, BATCH);
    let mut tally = Tally::default();
    let work = |batch: Vec<PathBuf>| {
        let mut read = Read::default();
        let tidied = |path: PathBuf| {
            let mut outcome = Outcome::default();
            let fate = one(&path, arguments.dry, terminal, &mut read, &mut outcome);
            (path, fate, outcome)
        };
        batch.into_iter().map(tidied).collect::<Vec<_>>()
    };
    spread(batches, work, |batch| {
        for (path, fate, outcome) in batch {
            output::complain(&outcome.complaints);
            match fate.and_then(|fate| settled(&path, fate, outcome)) {
                Ok(fate) => tally.add(fate),
                Err(failure) => {
                    tally.failed += 1;
                    output::complain(&failure.drawn());
                }
            }
        }
    });
    let to_stdout = !arguments.dry && arguments.paths.iter().any(|path| named::is_stdin(path));
    if !to_stdout {
        output::print(&(summary(&tally, arguments.dry) + &others.told()))?;
    }
    if tally.failed > 0 {
        return Err(Failure::new("not every file could be tidied", "see above"));
    }
    let told_of_changes = arguments.dry && tally.changed > 0;
    Ok(if told_of_changes || tally.refused > 0 { Ended::WithFindings } else { Ended::Done })
}

/// Speaks of a file and writes it; a file that was tidied meanwhile, as when it is named twice, is as
/// it was to be.
fn settled(path: &Path, fate: Fate, outcome: Outcome) -> Result<Fate, Failure> {
    if let Some((read, text, name)) = outcome.replaced {
        if !write::replace(path, &read, &text, &Lock::of_file(path)?)? {
            return Ok(Fate::Same);
        }
        output::print(&format!("tidied {}\n", root::printable(&name)))?;
    }
    output::print(&outcome.printed)?;
    Ok(fate)
}

fn one(
    path: &Path,
    dry: bool,
    terminal: Terminal,
    read: &mut Read,
    outcome: &mut Outcome,
) -> Result<Fate, Failure> {
    let file = read.disk.read(&mut read.sources, path)?;
    let sources = &read.sources;
    let before = sources.text(file);
    let to_stdout = named::is_stdin(path) && !dry;
    let tidied = match tidy(sources, file) {
        Ok(tidied) => tidied,
        Err(refusal) => {
            outcome.complaints = refused(sources, file, refusal, terminal)?;
            if to_stdout {
                outcome.printed = before.to_owned();
            }
            return Ok(Fate::Refused);
        }
    };
    let left_alone: Vec<Diagnostic> = tidied.left_alone.into_iter().map(left_alone).collect();
    outcome.complaints = drawn(sources, &left_alone, terminal);
    if to_stdout {
        outcome.printed = tidied.text;
        return Ok(Fate::Changed);
    }
    // The tidy form has no byte-order mark, so one in the file is a difference too.
    if tidied.text == before && !read.disk.had_mark(sources.name(file)) {
        return Ok(Fate::Same);
    }
    if dry {
        let name = sources.name(file);
        let mark = if read.disk.had_mark(name) { changes::of_a_mark(name) } else { String::new() };
        let told = (tidied.text != before).then(|| changes::told(name, before, &tidied.text));
        outcome.printed = mark + &told.unwrap_or_default();
        return Ok(Fate::Changed);
    }
    outcome.replaced = Some((before.to_owned(), tidied.text, sources.name(file).to_owned()));
    Ok(Fate::Changed)
}

fn drawn(sources: &Sources, findings: &[Diagnostic], terminal: Terminal) -> String {
    if findings.is_empty() {
        return String::new();
    }
    let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
    report::draw(sources, findings, look)
}

fn left_alone(span: Span) -> Diagnostic {
    let mut advice =
        Diagnostic::warning("left-alone", span, "this line could not be read and stays as it is")
            .help("wetside check says what is wrong with it");
    advice.level = Level::Advice;
    advice
}

/// Why a file is not tidied. That the tidy text would not say the same is no fault of the recipe.
fn refused(sources: &Sources, file: FileId, refusal: Refusal, terminal: Terminal) -> Result<String, Failure> {
    let name = root::printable(sources.name(file));
    match refusal {
        Refusal::Damaged(faults) => {
            let faults = drawn(sources, &faults, terminal);
            Ok(format!("{faults}{name} was not changed: mend this first\n"))
        }
        Refusal::OwnFault => Err(Failure::new(
            format!("{name} was not changed: its tidy form would not say the same"),
            "this is a fault of wetside itself, not of the recipe",
        )),
    }
}

fn summary(tally: &Tally, dry: bool) -> String {
    let files = |count: usize| if count == 1 { "1 file".to_owned() } else { format!("{count} files") };
    let all = files(tally.same + tally.changed + tally.refused);
    let line = match (tally.changed, dry) {
        (0, _) if tally.refused > 0 => format!("{} of {all} not tidied", tally.refused),
        (0, _) => format!("nothing to tidy in {all}"),
        (changed, true) => format!("{changed} of {all} would change; wetside tidy changes them"),
        (changed, false) => format!("{changed} of {all} tidied"),
    };
    format!("{line}\n")
}
