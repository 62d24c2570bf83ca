//! The rolls of a plan as a file of the language, with the `use` lines that it needs.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::super::disk::Reader;
use super::super::failure::Failure;
use super::super::root;
use super::find::Found;
use crate::check::Levels;
use crate::editor::Desk;
use crate::model::{Backlog, Recipe};
use crate::source::{Diagnostic, FileId, Level};

/// The rolls as a file at `to`, or in this folder.
///
/// # Errors
/// A file at that path cannot use the films of these rolls.
pub(super) fn file(found: &Found, reader: &Reader, to: Option<&Path>) -> Result<String, Failure> {
    let backlog = found.waiting.backlog();
    let name = name(backlog);
    let path = to.map_or_else(|| PathBuf::from(format!("{name}.wet")), Path::to_owned);
    let folder = std::fs::canonicalize(root::folder_of(&path)).unwrap_or_default();
    let real = folder.join(path.file_name().unwrap_or_default());
    let path_to = |file| root::relative(&reader.disk.path(reader.name(file))?, &folder);
    let mut told = Vec::new();
    // Files that declare the same names are told apart by a prefix.
    for prefixes in [Prefixes::None, Prefixes::Numbers] {
        let text = text(found, &name, |file| Some((path_to(file)?, prefixes)));
        let (Ok(text), mut alone) = (text, Reader::default()) else { break };
        let own = alone.read_as(&path, &real, &text);
        let (_, findings) = alone.check(&[own], &Levels::default());
        told = findings.into_iter().filter(|finding| finding.level == Level::Error).collect();
        if told.is_empty() {
            return Ok(text);
        }
    }
    let films = backlog.rolls.iter().map(|roll| reader.name(roll.film.span.file)).min().unwrap_or("");
    let why = told.first().map(|told: &Diagnostic| format!(": {}", told.message)).unwrap_or_default();
    Err(Failure::new(
        format!("a file at {} could not name the films of these rolls{why}", path.display()),
        format!("name a file behind -o beside {films}, and run wetside check on that"),
    ))
}

/// The prefix of a used file.
#[derive(Debug, Clone, Copy)]
enum Prefixes {
    /// Nothing.
    None,
    /// A number, from the second file on.
    Numbers,
}

/// The text; `Err` where a file cannot be reached.
fn text(found: &Found, name: &str, way: impl Fn(FileId) -> Option<(String, Prefixes)>) -> Result<String, ()> {
    let backlog = found.waiting.backlog();
    let recipes: Vec<&Recipe> = settled(found).collect();
    let films = backlog.rolls.iter().map(|roll| roll.film.span.file);
    let mut files: BTreeMap<FileId, String> = BTreeMap::new();
    let mut text = "wetside 1\n\n".to_owned();
    for file in films.chain(recipes.iter().map(|recipe| recipe.file)) {
        if files.contains_key(&file) {
            continue;
        }
        let (path, prefixes) = way(file).ok_or(())?;
        let prefix = match prefixes {
            Prefixes::Numbers if !files.is_empty() => format!("file-{}", files.len() + 1),
            Prefixes::None | Prefixes::Numbers => String::new(),
        };
        let under = if prefix.is_empty() { String::new() } else { format!(" as {prefix}") };
        text.push_str(&format!("use \"{path}\"{under}\n"));
        files.insert(file, if prefix.is_empty() { prefix } else { format!("{prefix}/") });
    }
    let under = |file: FileId| files.get(&file).map_or("", String::as_str);
    let title = if backlog.title == backlog.name { String::new() } else { format!(" \"{}\"", backlog.title) };
    text.push_str(&format!("\nbacklog {name}{title} {{\n"));
    for recipe in &recipes {
        text.push_str(&format!("    recipe    {}{}\n", under(recipe.file), recipe.name));
    }
    for roll in &backlog.rolls {
        let index = roll.index.map(|index| format!(" index {index}")).unwrap_or_default();
        let shot = roll.shot.map(|shot| format!(" shot {shot}")).unwrap_or_default();
        let film = format!("{}{}", under(roll.film.span.file), roll.film.name);
        text.push_str(&format!(
            "    roll      \"{}\" {} of {film}{index}{shot}\n",
            roll.label,
            roll.format.word()
        ));
    }
    Ok(text + "}\n")
}

/// The recipes that the backlog chooses for its rolls.
fn settled(found: &Found) -> impl Iterator<Item = &Recipe> {
    let backlog = found.waiting.backlog();
    let named = backlog.recipes.iter().filter_map(|(file, name)| found.shelf.recipe(*file, name));
    named.map(|recipe| &**recipe).filter(|recipe| {
        let film = recipe.film.as_ref();
        let is_its = |film: &crate::model::Film| backlog.rolls.iter().any(|roll| roll.film.span == film.span);
        film.is_some_and(|film| is_its(&film.value))
    })
}

/// The backlog's name, made valid.
fn name(backlog: &Backlog) -> String {
    let name: String = backlog
        .name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .collect();
    let pieces: Vec<&str> = name.split('-').filter(|piece| !piece.is_empty()).collect();
    let name = pieces.join("-");
    match name.starts_with(|first: char| first.is_ascii_lowercase()) {
        true => name,
        false => format!("rolls-{name}").trim_end_matches('-').to_owned(),
    }
}
