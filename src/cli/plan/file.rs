//! The rolls of a plan as a recipe file with a backlog.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Found;
use crate::check::Levels;
use crate::cli::{Failure, Reader, fail, root};
use crate::editor::Desk as _;
use crate::model::Recipe;
use crate::source::{FileId, Level};

/// The backlog as the text of a recipe file to be written at `to`, or else in the current folder.
pub(super) fn recipe_file(found: &Found, reader: &Reader, to: Option<&Path>) -> Result<String, Failure> {
    let name = valid_name(&found.backlog.name);
    let path = to.map_or_else(|| PathBuf::from(format!("{name}.wet")), Path::to_owned);
    let real = root::real(&path);
    let path_to =
        |file: FileId| root::relative(&reader.disk.path(reader.name(file))?, root::folder_of(&real));
    let mut error = None;
    // The second attempt uses prefixes, since two used files may declare the same name.
    for prefixed in [false, true] {
        let Some(text) = text(found, &name, prefixed, path_to) else { break };
        let mut alone = Reader::default();
        let own = alone.read_as(&path, &real, &text);
        let (_, findings) = alone.check(&[own], &Levels::default());
        error = findings.into_iter().find(|finding| finding.level == Level::Error);
        if error.is_none() {
            return Ok(text);
        }
    }
    let films = found.backlog.rolls.iter().map(|roll| reader.name(roll.film.span.file)).min();
    let why = error.map(|error| format!(": {}", error.message)).unwrap_or_default();
    fail(
        format!("a file at {} cannot use the films of these rolls{why}", path.display()),
        format!("name a file in the folder of {}, and run wetside check on it", films.unwrap_or_default()),
    )
}

/// The text of the recipe file; `None` if a needed file has no path for a `use` line. With `prefixed`, names from all
/// used files but the first get prefixes.
fn text(
    found: &Found,
    name: &str,
    prefixed: bool,
    path_to: impl Fn(FileId) -> Option<String>,
) -> Option<String> {
    let backlog = &found.backlog;
    let is_for_a_roll = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().map(|film| film.value.span);
        backlog.rolls.iter().any(|roll| Some(roll.film.span) == film)
    };
    let recipes = backlog.recipes.iter().filter_map(|(file, name)| found.shelf.recipe(*file, name));
    let recipes: Vec<_> = recipes.filter(is_for_a_roll).collect();
    let films = backlog.rolls.iter().map(|roll| roll.film.span.file);
    let mut prefixes: BTreeMap<FileId, String> = BTreeMap::new();
    let mut text = "wetside 1\n\n".to_owned();
    for file in films.chain(recipes.iter().map(|recipe| recipe.file)) {
        if prefixes.contains_key(&file) {
            continue;
        }
        let number = prefixes.len() + 1;
        let (alias, prefix) = match prefixed && number > 1 {
            true => (format!(" as file-{number}"), format!("file-{number}/")),
            false => Default::default(),
        };
        text += &format!("use \"{}\"{alias}\n", path_to(file)?);
        prefixes.insert(file, prefix);
    }
    let prefix = |file: FileId| prefixes.get(&file).map_or("", String::as_str);
    let title = if backlog.title == backlog.name { String::new() } else { format!(" \"{}\"", backlog.title) };
    text += &format!("\nbacklog {name}{title} {{\n");
    for recipe in &recipes {
        text += &format!("    recipe    {}{}\n", prefix(recipe.file), recipe.name);
    }
    for roll in &backlog.rolls {
        let film = format!("{}{}", prefix(roll.film.span.file), roll.film.name);
        let index = roll.index.map(|index| format!(" index {index}")).unwrap_or_default();
        let shot = roll.shot.map(|shot| format!(" shot {shot}")).unwrap_or_default();
        let (label, format) = (&roll.label, roll.format.to_string());
        text += &format!("    roll      \"{label}\" {format} of {film}{index}{shot}\n");
    }
    Some(text + "}\n")
}

/// A name that is valid in the language, made from the name of a list of rolls.
fn valid_name(name: &str) -> String {
    let name = name.to_lowercase();
    let words = name.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let name = words.collect::<Vec<_>>().join("-");
    match name.starts_with(|first: char| first.is_ascii_lowercase()) {
        true => name,
        false => format!("rolls-{name}").trim_end_matches('-').to_owned(),
    }
}
