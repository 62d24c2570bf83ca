//! A small shelf to write to, and calls that a [`Run`] does not have: killed ones, and several at once.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::program::Run;

/// A journal written by hand, with comments and a layout of its own.
pub(crate) const JOURNAL: &str = "\
wetside 1
use \"darkroom.wet\"   # bottles and rolls

# The first of the winter.
session evening-2026-11-10 {
  date 2026-11-10
     recipe  estuary-400-mq, fingerprint \"358f7dfb\"
  slot 1 120   # a test roll
}
";

const RECIPE: &str = "\
wetside 1

film plain-film {
    speed     ISO 100
}

solution dev {
    role      developer
    contains  metol
    needs     250 ml per roll
}

tank tall-five {
    reels     120 x 2, 500 ml each
}

recipe estuary-400-mq {
    film      plain-film

    develop {
        in        dev 1+1, one-shot
        time      10:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
}
";

/// A recipe and a journal, so small that a call is short and kills during it are close together.
pub(crate) fn small() -> Run {
    small_below("")
}

/// The same in a folder, whose name ends in a slash.
pub(crate) fn small_below(folder: &str) -> Run {
    let journal = JOURNAL.replace("use \"darkroom.wet\"   # bottles and rolls\n", "");
    Run::new().file(&format!("{folder}plain.wet"), RECIPE).file(&format!("{folder}journal.wet"), journal)
}

/// A silent call of the program with these arguments.
pub(crate) fn call(folder: &Path, args: &[&str]) -> Command {
    let mut call = Command::new(env!("CARGO_BIN_EXE_wetside"));
    call.args(args).current_dir(folder).env_clear();
    call.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    call
}

/// The arguments of a session on the small shelf.
pub(crate) const RECORD: [&str; 10] = [
    "record",
    "estuary-400-mq",
    "--at",
    "21.5C",
    "--rolls",
    "1x120",
    "--tank",
    "tall-five",
    "--date",
    "2026-11-12",
];

/// A call of `record` on the small shelf.
pub(crate) fn recording(folder: &Path) -> Command {
    call(folder, &RECORD)
}

/// The names in a folder, sorted, with the hidden ones.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}
