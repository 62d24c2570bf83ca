//! Finds one's own darkroom: the files below the root of this folder that declare baths, tests, sessions or
//! backlogs. They stand beside the recipes, and no recipe uses them. The darkroom of a root below that one is
//! another's, even where a recipe uses the file that it stands in.

use std::path::Path;

use super::disk::Disk;
use super::failure::Failure;
use super::find::Index;
use super::root;
use crate::check::{Levels, check};
use crate::model::Shelf;
use crate::source::{Diagnostic, FileId, Sources};
use crate::vocabulary::Declared;

/// A darkroom may stand in so many files.
const FILES_MAX: usize = 1_000;
/// And in so many bytes of them, so that one that has grown for decades still goes into the memory.
const BYTES_MAX: u64 = 3 << 20;
/// What only a darkroom's files declare.
pub(super) const OWN: [Declared; 4] = [Declared::Bath, Declared::Test, Declared::Session, Declared::Backlog];

/// An index of the files below a root that has all of a darkroom.
pub(super) fn index(root: &Path) -> Index {
    Index::below(root, &OWN)
}

/// Reads the files of a darkroom, in the order of their paths.
///
/// # Errors
/// One of them cannot be read, or there are too many.
pub(super) fn files(index: &Index, sources: &mut Sources, disk: &mut Disk) -> Result<Vec<FileId>, Failure> {
    let paths = index.declaring(|kind, _| OWN.contains(&kind));
    if paths.len() > FILES_MAX {
        return Err(Failure::new(
            format!("more than {FILES_MAX} files declare parts of a darkroom"),
            "keep sessions of a year in one file",
        ));
    }
    let bytes = |path: &std::path::PathBuf| std::fs::metadata(path).map_or(0, |file| file.len());
    if paths.iter().map(bytes).sum::<u64>() > BYTES_MAX {
        return Err(Failure::new(
            format!("the files of this darkroom have over {} MiB together", BYTES_MAX >> 20),
            "move the sessions of past years out of this folder, with the baths that are gone",
        ));
    }
    paths.iter().map(|path| disk.read(sources, path)).collect()
}

/// Checks files; the shelf has the darkroom of that root without those of other roots below it.
pub(super) fn checked(
    root: &Path,
    roots: &[FileId],
    (sources, disk): (&mut Sources, &Disk),
    levels: &Levels,
) -> (Shelf, Vec<Diagnostic>) {
    let (mut shelf, findings) = check(sources, roots, disk, levels);
    shelf.darkroom.leave_out(&disk.of_other_roots(root, sources));
    (shelf, findings)
}

/// Refuses a file of a darkroom that belongs to another root below this one.
///
/// # Errors
/// It does.
pub(super) fn own(path: &Path, command: &str) -> Result<(), Failure> {
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let Some(other) = root::other(&real) else { return Ok(()) };
    let other = root::shown(other, other);
    Err(Failure::new(
        format!("{} belongs to {}, which is a root of its own", path.display(), other.display()),
        format!(
            "its bottles, journals and backlogs are not those of this folder; call wetside {command} in {}",
            other.display()
        ),
    ))
}
