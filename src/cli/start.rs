//! `start`: makes a folder of example recipes whose comments teach the language. If a file cannot be written, no folder
//! is made.

use std::fs::File;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use super::root::{HERE, folder_of, printable};
use super::write::{HIDDEN, sync_names};
use super::{Ended, Failure, fail, output};

/// The names and texts of the files of the new folder, in the order in which the user should read them.
const FILES: [(&str, &str); 5] = [
    ("films.wet", include_str!("start/films.wet")),
    ("solutions.wet", include_str!("start/solutions.wet")),
    ("recipes.wet", include_str!("start/recipes.wet")),
    ("darkroom.wet", include_str!("start/darkroom.wet")),
    ("backlog.wet", include_str!("start/backlog.wet")),
];

const NEXT: &str = "\
In that folder these commands work:

  wetside check
  wetside card jetty-400-first --at 21C --rolls 2x120 --tank two-reel
  wetside record jetty-400-first --at 21C --rolls 2x120 --tank two-reel --label J-01,J-02 --bath stop-a,fix-a --date 2026-11-12
";

/// Make a folder of example recipes to begin from
///
/// It holds a film, its solutions, a recipe, a darkroom and a backlog of eleven rolls, with comments that teach
/// the language. The folder must be empty or new.
#[derive(clap::Args)]
#[command(after_help = "Examples:\n  wetside start ../shelf")]
pub(super) struct Arguments {
    /// The folder to make, or an empty one
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let given = &arguments.folder;
    let not_made = |why: String| {
        Failure::new(
            format!("the folder {} could not be made: {why}", given.display()),
            "nothing was changed; check that the folder above exists, may be written to, and has space",
        )
    };
    let place = vacant(given, &not_made)?;
    make(&place).map_err(|error| not_made(error.to_string()))?;
    let files: String = FILES.iter().map(|(name, _)| format!("  {name}\n")).collect();
    let name = printable(&given.to_string_lossy());
    output::print(format!("made {name}; its files, in the order to read them:\n\n{files}\n{NEXT}"))
}

/// The path for the new folder. Fails unless there is nothing at `given`, or an empty folder that is not the current
/// folder.
fn vacant(given: &Path, not_made: &impl Fn(String) -> Failure) -> Result<PathBuf, Failure> {
    if std::fs::symlink_metadata(given).is_err() {
        let above = folder_of(given);
        return match above.is_dir() {
            true => Ok(given.to_owned()),
            false => Err(not_made(format!("{} is not a folder", above.display()))),
        };
    }
    let failed = |error: std::io::Error| not_made(error.to_string());
    let real = std::fs::canonicalize(given).map_err(failed)?;
    let shown = given.display();
    let message = if !real.is_dir() {
        format!("{shown} exists and is not a folder")
    } else if std::fs::read_dir(&real).map_err(failed)?.next().is_some() {
        format!("the folder {shown} is not empty")
    } else if real == *HERE {
        // The new folder would replace the current folder, and the user's shell would stay in the deleted one.
        format!("{shown} is the current folder")
    } else {
        return Ok(real);
    };
    fail(message, "nothing was changed; name a new folder: wetside start ../shelf")
}

/// Writes all files into a hidden folder, then renames that folder to `place`. Renaming fails if files have appeared at
/// `place` meanwhile.
fn make(place: &Path) -> std::io::Result<()> {
    let above = folder_of(place);
    let hidden = tempfile::Builder::new().prefix(HIDDEN).tempdir_in(above)?;
    let shelf = hidden.path().join("shelf");
    std::fs::create_dir(&shelf)?;
    for (name, text) in FILES {
        let mut file = File::create_new(shelf.join(name))?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
    }
    std::fs::rename(&shelf, place)?;
    sync_names(above);
    Ok(())
}
