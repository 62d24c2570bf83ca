//! Finds one's own darkroom: the files below the root of this folder that declare baths, tests, sessions or
//! backlogs. They stand beside the recipes, and no recipe uses them.

use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::failure::Failure;
use super::{find, root};
use crate::source::{FileId, Sources};
use crate::vocabulary::Declared;

/// A darkroom may stand in so many files.
const FILES_MAX: usize = 1_000;
/// And in so many bytes of them, so that one that has grown for decades still goes into the memory.
const BYTES_MAX: u64 = 3 << 20;
/// What only a darkroom's files declare.
const OWN: [Declared; 4] = [Declared::Bath, Declared::Test, Declared::Session, Declared::Backlog];

/// Reads the files of the darkroom, in the order of their paths.
///
/// # Errors
/// One of them cannot be read, or there are too many.
pub(super) fn files(sources: &mut Sources, disk: &mut Disk) -> Result<Vec<FileId>, Failure> {
    let here = std::fs::canonicalize(".").unwrap_or_default();
    files_below(&root::above(&here), sources, disk)
}

/// The same below another root.
///
/// # Errors
/// As above.
pub(super) fn files_below(
    root: &Path,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Result<Vec<FileId>, Failure> {
    let paths: Vec<PathBuf> =
        find::recipes_below(root).filter(|path| declares(path)).take(FILES_MAX + 1).collect();
    if paths.len() > FILES_MAX {
        return Err(Failure::new(
            format!("more than {FILES_MAX} files declare parts of a darkroom"),
            "keep sessions of a year in one file",
        ));
    }
    let bytes = |path: &PathBuf| std::fs::metadata(path).map_or(0, |file| file.len());
    if paths.iter().map(bytes).sum::<u64>() > BYTES_MAX {
        return Err(Failure::new(
            format!("the files of this darkroom have over {} MiB together", BYTES_MAX >> 20),
            "move the sessions of past years out of this folder, with the baths that are gone",
        ));
    }
    paths.iter().map(|path| disk.read(sources, path)).collect()
}

/// Whether a file declares anything of a darkroom, by the beginnings of its lines.
pub(super) fn declares(path: &Path) -> bool {
    !find::declared_in(path, &OWN).is_empty()
}
