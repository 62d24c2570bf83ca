//! A bath that the tank does not hold leads to another recipe for the film, and that may stand in any file below
//! this folder. They are read only then.

use std::path::Path;

use super::choose::Choice;
use super::disk::Disk;
use super::find::{self, OtherRoots};
use crate::check::{Levels, check};
use crate::compile::{Schedule, compile};
use crate::source::{Diagnostic, FileId, Sources};

/// What is offered may stand in so many files.
const FILES_MAX: usize = 1000;
/// And in so many bytes of them.
const BYTES_MAX: u64 = 4 << 20;

/// The schedule of what was chosen, or every reason against it.
pub(super) fn compiled(
    choice: Choice,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Result<Schedule, Vec<Diagnostic>> {
    let Choice { shelf, recipe, conditions, doubts } = choice;
    let faults = match compile(&shelf, &recipe, &conditions, doubts) {
        Err(faults) if faults.iter().any(|fault| fault.name == "tank-too-small") => faults,
        settled => return settled,
    };
    let mut roots = vec![recipe.file];
    roots.extend(files_below(sources, disk));
    let (wider, _) = check(sources, &roots, disk, &Levels::default());
    let Some(recipe) = wider.recipe(recipe.file, &recipe.name) else { return Err(faults) };
    // It is the same recipe and the same evening; should they part all the same, the first word stands.
    Err(compile(&wider, recipe, &conditions, Vec::new()).err().unwrap_or(faults))
}

/// The files of recipes below this folder, as many as are looked at; what cannot be read offers nothing.
pub(super) fn files_below(sources: &mut Sources, disk: &mut Disk) -> Vec<FileId> {
    let mut left = BYTES_MAX;
    let mut files = Vec::new();
    for path in find::recipes_below(Path::new("."), &OtherRoots::default()).take(FILES_MAX) {
        let length = std::fs::metadata(&path).map_or(u64::MAX, |file| file.len());
        if length > left {
            continue;
        }
        left -= length;
        files.extend(disk.read(sources, &path).ok());
    }
    files
}
