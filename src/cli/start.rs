//! `start`: a small shelf in a folder of its own, to begin from. Its files teach the language by their remarks;
//! the folder is there whole or not at all, and one that holds anything is let be.

use std::fs::File;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use super::Ended;
use super::failure::Failure;
use super::output;
use super::root::printable;

/// The shelf, in the order in which it is read.
const FILES: [(&str, &str); 6] = [
    ("films.wet", include_str!("start/films.wet")),
    ("solutions.wet", include_str!("start/solutions.wet")),
    ("recipes.wet", include_str!("start/recipes.wet")),
    ("darkroom.wet", include_str!("start/darkroom.wet")),
    ("backlog.wet", include_str!("start/backlog.wet")),
    ("journal.wet", include_str!("start/journal.wet")),
];

/// Calls that work in the new folder.
const NEXT: &str = "\
In that folder these calls work:

  wetside check
  wetside card jetty-400-first --at 21C --rolls 2x120 --tank two-reel
  wetside record jetty-400-first --at 21C --rolls 2x120 --tank two-reel --label J-01,J-02 --bath stop-a,fix-a --date 2026-11-12
";

/// Make a folder with a small shelf to begin from
///
/// It holds a film, its solutions, a recipe, a darkroom, a backlog of eleven rolls and an empty journal, with
/// comments that teach the language. The folder must be empty or new.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  wetside start ../shelf")]
pub(super) struct Arguments {
    /// The folder, which is not there yet or empty
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

/// Makes the folder, and says what to do next.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let given = &arguments.folder;
    let place = vacant(given)?;
    make(&place).map_err(|error| not_made(given, &error.to_string()))?;
    let files: String = FILES.iter().map(|(name, _)| format!("  {name}\n")).collect();
    let name = printable(&given.to_string_lossy());
    output::print(&format!("made {name}; its files, in the order to read them:\n\n{files}\n{NEXT}"))?;
    Ok(Ended::Done)
}

/// Where the folder is to be: nothing is there, or an empty folder that nobody stands in.
fn vacant(given: &Path) -> Result<PathBuf, Failure> {
    if std::fs::symlink_metadata(given).is_err() {
        let above = given.parent().filter(|above| !above.as_os_str().is_empty() && !above.is_dir());
        return match above {
            Some(above) => Err(not_made(given, &format!("{} is no folder", above.display()))),
            None => Ok(given.to_owned()),
        };
    }
    let real = std::fs::canonicalize(given).map_err(|error| not_made(given, &error.to_string()))?;
    let told = given.display();
    if !real.is_dir() {
        return Err(Failure::new(
            format!("{told} is there already, and is no folder"),
            "nothing was changed; name a folder that is not there yet",
        ));
    }
    let mut entries = std::fs::read_dir(&real).map_err(|error| not_made(given, &error.to_string()))?;
    if entries.next().is_some() {
        return Err(Failure::new(
            format!("the folder {told} is not empty"),
            "nothing was changed; name a folder that is not there yet",
        ));
    }
    // It is replaced, and whoever stands in it would stand in a folder that is gone.
    if std::fs::canonicalize(".").is_ok_and(|here| here == real) {
        return Err(Failure::new(
            format!("{told} is the folder that this is called in"),
            "nothing was changed; name one that is not there yet: wetside start ../shelf",
        ));
    }
    Ok(real)
}

/// Writes all files into a hidden folder beside, and moves their folder into its place; the system refuses a place that
/// holds something by then.
fn make(place: &Path) -> std::io::Result<()> {
    let above = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let hidden = tempfile::Builder::new().prefix(".wetside-").tempdir_in(above)?;
    let shelf = hidden.path().join("shelf");
    std::fs::create_dir(&shelf)?;
    for (name, text) in FILES {
        let mut file = File::create_new(shelf.join(name))?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
    }
    std::fs::rename(&shelf, place)?;
    // The folder holds the name; a system that cannot sync one keeps it anyway.
    let _ = File::open(above).and_then(|above| above.sync_all());
    Ok(())
}

fn not_made(given: &Path, why: &str) -> Failure {
    Failure::new(
        format!("the folder {} could not be made: {why}", given.display()),
        "see whether the folder that it is to be in is there, may be written to, and has room; nothing was \
         changed",
    )
}
