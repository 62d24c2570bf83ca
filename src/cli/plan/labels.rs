//! Reads a list of rolls from a spreadsheet.

use std::path::Path;

use super::super::disk::Reader;
use super::super::failure::Failure;
use crate::disk;
use crate::model::{Backlog, Shelf};
use crate::plan::listed;

/// The rolls of a list, or what is wrong with it.
pub(super) fn read(path: &Path, shelf: &Shelf, reader: &mut Reader) -> Result<Backlog, Failure> {
    let file = reader.sources.add(path.display().to_string(), text_of(path)?);
    let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    listed(&reader.sources, file, &name, shelf).map_err(|findings| reader.refused(findings))
}

fn text_of(path: &Path) -> Result<String, Failure> {
    let shown = path.display();
    let unread = |why: String| {
        Failure::new(
            format!("{shown} cannot be read: {why}"),
            "name a file of comma-separated values, UTF-8, under 1 MiB",
        )
    };
    disk::text_of(path).map(|(text, _)| text).map_err(|why| unread(why.to_string()))
}
