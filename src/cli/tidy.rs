//! `tidy`: writes recipes in the standard layout, or with `--dry` shows what would change.

use std::path::{Path, PathBuf};

use super::batches::{batches, spread};
use super::find::OtherRoots;
use super::root::printable;
use super::write::Lock;
use super::{Ended, Failure, Reader, Terminal, fail, find, output, raise, write};
use crate::report::{self, Look, sanitise};
use crate::source::{Diagnostic, Level};
use crate::tidy::{Refusal, tidy};
use crate::vocabulary::EDITION;

/// Give recipes the standard layout
///
/// No value changes. A line that cannot be read stays as it is.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside tidy\n  wetside tidy --dry recipes\n  wetside tidy --edition 2 recipes\n  wetside tidy - < rough.wet > tidy.wet"
)]
pub(super) struct Arguments {
    /// Files, folders, or - to tidy standard input to standard output; this folder if none is named
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Change no file; show what would change, and exit with status 1 if anything would
    #[arg(long)]
    dry: bool,
    /// Instead of the layout, bring files over to this edition of the language; every fingerprint stays as it is
    #[arg(long, value_parser = clap::value_parser!(u32).range(i64::from(EDITION)..=i64::from(EDITION)), value_name = "EDITION")]
    edition: Option<u32>,
}

/// The maximum number of files in a batch, which one thread tidies.
const BATCH: usize = 64;
/// The maximum number of changes shown for one file.
const SHOWN_MAX: usize = 20;

pub(super) enum Action {
    Nothing,
    /// Print this text: the tidy text of standard input, or in a dry run the changes of a file.
    Print(String),
    Replace {
        name: String,
        before: String,
        after: String,
    },
    /// Leave the file as it is, and print this text: for standard input its unchanged text, for a file nothing.
    Refuse(String),
}

#[derive(Default)]
pub(super) struct Tally {
    same: usize,
    changed: usize,
    refused: usize,
    pub(super) failed: usize,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let Arguments { paths, dry, edition } = arguments;
    if edition.is_some() {
        return raise::run(paths, *dry, terminal);
    }
    let others = OtherRoots::default();
    let batches = batches(find::files(paths, &others)?, BATCH);
    let mut tally = Tally::default();
    let work = |batch: Vec<PathBuf>| {
        let mut reader = Reader::default();
        let mut tidied = |path: PathBuf| (tidied(&path, *dry, terminal.err, &mut reader), path);
        batch.into_iter().map(&mut tidied).collect::<Vec<_>>()
    };
    spread(batches, work, |batch| {
        for (tidied, path) in batch {
            let done = tidied.and_then(|(complaints, action)| {
                output::complain(&complaints);
                carry_out(&path, action, &mut tally)
            });
            if let Err(failure) = done {
                tally.failed += 1;
                terminal.complain(&failure);
            }
        }
    });
    ended(&tally, paths, *dry, &others)
}

/// Prints the summary, unless the rewritten text itself goes to standard output. Fails if a file could not be read or
/// written.
pub(super) fn ended(
    tally: &Tally,
    paths: &[PathBuf],
    dry: bool,
    others: &OtherRoots,
) -> Result<Ended, Failure> {
    if dry || !paths.iter().any(|path| path.as_os_str() == "-") {
        output::print(summary(tally, dry) + &others.line())?;
    }
    if tally.failed > 0 {
        return fail("some files could not be tidied", "see above");
    }
    Ok(Ended::with(tally.refused > 0 || dry && tally.changed > 0))
}

/// Carries out an action and counts it in `tally`. A file that is tidy by now, since the command line named it twice,
/// is not written again.
pub(super) fn carry_out(path: &Path, action: Action, tally: &mut Tally) -> Result<Ended, Failure> {
    let (count, text) = match action {
        Action::Nothing => (&mut tally.same, String::new()),
        Action::Print(text) => (&mut tally.changed, text),
        Action::Refuse(text) => (&mut tally.refused, text),
        Action::Replace { name, before, after } => {
            match write::replace(path, &before, &after, &Lock::of_file(path)?)? {
                true => (&mut tally.changed, format!("tidied {}\n", printable(&name))),
                false => (&mut tally.same, String::new()),
            }
        }
    };
    *count += 1;
    output::print(text)
}

/// The findings about a file, as text for standard error, and the action for the file.
fn tidied(path: &Path, dry: bool, look: Look, reader: &mut Reader) -> Result<(String, Action), Failure> {
    let file = reader.read(path)?;
    let sources = &reader.sources;
    let (name, before) = (sources.name(file), sources.text(file));
    let draw = |findings: &[Diagnostic]| match findings {
        [] => String::new(),
        findings => report::draw(sources, findings, look),
    };
    let to_stdout = !dry && path.as_os_str() == "-";
    let tidied = match tidy(sources, file) {
        Ok(tidied) => tidied,
        Err(Refusal::Damaged(errors)) => {
            let complaints =
                format!("{}{} was not changed: fix this first\n", draw(&errors), printable(name));
            let unchanged = if to_stdout { before } else { "" };
            return Ok((complaints, Action::Refuse(unchanged.to_owned())));
        }
        Err(Refusal::OwnFault) => {
            return fail(
                format!("{} was not changed: its tidy form would have another meaning", printable(name)),
                "this is a bug in wetside, not in the recipe",
            );
        }
    };
    let left_alone = tidied.left_alone.into_iter().map(|span| {
        let words = "this line could not be read and stays as it is";
        let advice = Diagnostic::warning("left-alone", span, words).help("wetside check shows its error");
        Diagnostic { level: Level::Advice, ..advice }
    });
    let complaints = draw(&left_alone.collect::<Vec<_>>());
    // Tidying removes a byte-order mark, so a file with a mark is not tidy.
    let marked = reader.disk.had_mark(name);
    let action = if to_stdout {
        Action::Print(tidied.text)
    } else if tidied.text == before && !marked {
        Action::Nothing
    } else if dry {
        Action::Print(changes(name, before, &tidied.text, marked))
    } else {
        Action::Replace { name: name.to_owned(), before: before.to_owned(), after: tidied.text }
    };
    Ok((complaints, action))
}

/// The changes of a file, at most `SHOWN_MAX`, with line numbers of the old text. Tidying keeps every line that is not
/// blank, so each old line that is not blank has its new line.
fn changes(name: &str, old: &str, new: &str, marked: bool) -> String {
    let name = printable(name);
    let mut all = Vec::new();
    if marked {
        all.push(format!("{name}:1: its byte-order mark goes\n"));
    }
    let (mut old_above, mut new_above) = (0, 0);
    for ((old_at, old), (new_at, new)) in written(old).zip(written(new)) {
        let (was, is) = (old_at - old_above - 1, new_at - new_above - 1);
        if was != is {
            all.push(format!("{name}:{old_at}: blank lines above it: {was}, in the tidy form {is}\n"));
        }
        if old != new {
            all.push(format!("{name}:{old_at}:\n- {}\n+ {}\n", sanitise(old), sanitise(new)));
        }
        (old_above, new_above) = (old_at, new_at);
    }
    if all.is_empty() {
        return format!("{name}: its line endings, or blank lines at the end\n");
    }
    let more = all.len().saturating_sub(SHOWN_MAX);
    all.truncate(SHOWN_MAX);
    if more > 0 {
        all.push(format!("{name}: and {more} more changes\n"));
    }
    all.concat()
}

/// The lines of a text that are not blank, with their line numbers.
fn written(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.lines()).filter(|(_, line)| !line.trim_matches([' ', '\t', '\r']).is_empty())
}

fn summary(tally: &Tally, dry: bool) -> String {
    let all = match tally.same + tally.changed + tally.refused {
        1 => "1 file".to_owned(),
        count => format!("{count} files"),
    };
    match (tally.changed, dry) {
        (0, _) if tally.refused > 0 => format!("{} of {all} not tidied\n", tally.refused),
        (0, _) => format!("nothing to tidy in {all}\n"),
        (changed, true) => format!("{changed} of {all} would change; wetside tidy changes them\n"),
        (changed, false) => format!("{changed} of {all} tidied\n"),
    }
}
