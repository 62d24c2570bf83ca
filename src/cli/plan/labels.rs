//! A roll list from a spreadsheet, read; and the rolls of a plan, written as a backlog in the language.

use std::path::Path;

use super::super::disk;
use super::super::failure::Failure;
use crate::model::{Backlog, Shelf};
use crate::plan::listed;
use crate::source::{Diagnostic, Sources};

/// The rolls of a list, or what is wrong with it.
pub(super) fn read(
    path: &Path,
    shelf: &Shelf,
    sources: &mut Sources,
) -> Result<Result<Backlog, Vec<Diagnostic>>, Failure> {
    let file = sources.add(path.display().to_string(), text_of(path)?);
    let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    Ok(listed(sources, file, &name, shelf))
}

fn text_of(path: &Path) -> Result<String, Failure> {
    let shown = path.display();
    let unread = |why: String| {
        Failure::new(
            format!("{shown} cannot be read: {why}"),
            "name a file of comma-separated values, UTF-8, under 1 MiB",
        )
    };
    let kind = std::fs::metadata(path).map_err(|error| unread(disk::reason(&error)))?;
    disk::text_of(path, &kind).map(|(text, _)| text).map_err(|why| unread(disk::words(&why)))
}

/// The rolls as a backlog in the language, in the tidy form.
pub(super) fn block(backlog: &Backlog) -> String {
    let name: String = backlog
        .name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .collect();
    let pieces: Vec<&str> = name.split('-').filter(|piece| !piece.is_empty()).collect();
    let name = pieces.join("-");
    let name = if name.starts_with(|first: char| first.is_ascii_lowercase()) {
        name
    } else {
        format!("rolls-{name}")
    };
    let mut text = format!("backlog {} {{\n", name.trim_end_matches('-'));
    for roll in &backlog.rolls {
        let index = roll.index.map(|index| format!(" index {index}")).unwrap_or_default();
        let shot = roll.shot.map(|shot| format!(" shot {shot}")).unwrap_or_default();
        let (label, format, film) = (&roll.label, roll.format.word(), &roll.film.name);
        text.push_str(&format!("    roll      \"{label}\" {format} of {film}{index}{shot}\n"));
    }
    text + "}\n"
}
