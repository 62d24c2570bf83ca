//! `check`: every fault and doubt in every file, in one run.

use std::path::{Path, PathBuf};

use super::Ended;
use super::disk::Disk;
use super::failure::Failure;
use super::find::recipes_below;
use super::output;
use super::terminal::Terminal;
use crate::report;
use crate::source::Sources;

/// Find every fault and doubt in recipes, and in what they use
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside check\n  wetside check recipes/films.wet\n  git show HEAD:a.wet | wetside check -"
)]
pub(super) struct Arguments {
    /// Files, folders, or - for standard input; this folder if none is named
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Apply the mends that are certain, and show the rest
    #[arg(long)]
    mend: bool,
    /// With --mend: only tell, and exit with 1 if anything would be mended
    #[arg(long, requires = "mend")]
    dry: bool,
}

/// Reads, checks, prints.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    if arguments.mend {
        return super::mend::run(&arguments.paths, arguments.dry, &crate::check::Levels::default(), terminal);
    }
    let here = [PathBuf::from(".")];
    let named = if arguments.paths.is_empty() { &here[..] } else { &arguments.paths };
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let (mut roots, mut failed) = (Vec::new(), None);
    for path in named.iter().flat_map(|path| files_of(path)) {
        match disk.read(&mut sources, &path) {
            Ok(file) => roots.push(file),
            Err(failure) => {
                output::complain(&failure.drawn());
                failed = Some(failure);
            }
        }
    }
    if roots.is_empty() && failed.is_none() {
        return Err(Failure::new("there is no .wet file here", "name a file or a folder that holds recipes"));
    }
    let (_, findings) =
        crate::check::check(&mut sources, &roots, &mut disk, &crate::check::Levels::default());
    let look = if terminal.out { report::Look::Colour } else { report::Look::Plain };
    let count = report::count(&findings);
    let files = sources.iter().count();
    output::print(&format!(
        "{}{}\n",
        report::draw(&sources, &findings, look),
        report::summary(count, files)
    ))?;
    match failed {
        Some(_) => Err(Failure::new("not every file could be read", "see above")),
        None if count.errors > 0 => Ok(Ended::RecipeAtFault),
        None => Ok(Ended::Done),
    }
}

fn files_of(path: &Path) -> Vec<PathBuf> {
    if path.is_dir() { recipes_below(path) } else { vec![path.to_owned()] }
}
