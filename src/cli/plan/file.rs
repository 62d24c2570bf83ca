//! The files that `plan` writes in the language: the loads as planned sessions, or the rolls of a list as a backlog.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::super::entry::{self, Line, Name};
use super::super::record::is_second;
use super::super::{Failure, Reader, each_once, root};
use crate::check::Levels;
use crate::editor::Desk as _;
use crate::model::{Backlog, Darkroom, Recipe, Shelf};
use crate::plan::{Load, Plan};
use crate::source::{FileId, Level, Map};

/// The text of a file that declares the rolls of a list as a backlog. The file is for the path `to`; if `to` is `None`,
/// for the current folder.
pub(super) fn of_rolls(
    backlog: &Backlog,
    shelf: &Shelf,
    reader: &Reader,
    to: Option<&Path>,
) -> Result<String, Failure> {
    let name = valid_name(&backlog.name);
    let made = sound(&name, reader, to, |prefixed, path_to| text(backlog, shelf, &name, prefixed, path_to));
    made.map_err(|(path, why)| {
        let films = backlog.rolls.iter().map(|roll| reader.name(roll.film.span.file)).min();
        Failure::new(
            format!("a file at {} cannot use the films of these rolls{why}", path.display()),
            format!(
                "name a file in the folder of {}, and run wetside check on it",
                films.unwrap_or_default()
            ),
        )
    })
}

/// The text of a file that declares a planned session `load-NUMBER` for each load. The file is for the path `to`; if
/// `to` is `None`, for the current folder.
pub(super) fn of_loads(
    plan: &Plan,
    (shelf, backlog): (&Shelf, &Backlog),
    reader: &Reader,
    to: Option<&Path>,
) -> Result<String, Failure> {
    let first = first_number(&shelf.darkroom);
    let loads: Vec<(String, Vec<Line>)> = (first..)
        .zip(&plan.loads)
        .map(|(number, load)| (format!("load-{number}"), lines(load, plan, (shelf, backlog))))
        .collect();
    let sessions: Vec<(&str, &[Line])> =
        loads.iter().map(|(name, lines)| (name.as_str(), lines.as_slice())).collect();
    let made = sound("loads", reader, to, |prefixed, path_to| {
        entry::text(None, &sessions, prefixed, path_to).map(|(text, _)| text)
    });
    made.map_err(|(path, why)| {
        let list = reader.name(backlog.span.file);
        Failure::new(
            format!("a file at {} cannot use the backlog and the bottles of this plan{why}", path.display()),
            format!("name a file in the folder of {list}"),
        )
    })
}

/// One more than the highest number of any `load-NUMBER` in the darkroom, planned or done; 1 if there is none.
fn first_number(darkroom: &Darkroom) -> u32 {
    let planned = darkroom.planned.iter().map(|session| session.name.as_str());
    let done = darkroom.sessions.iter().filter_map(|session| session.planned_as.as_deref());
    let numbers = planned.chain(done).filter_map(|name| name.strip_prefix("load-")?.parse::<u32>().ok());
    numbers.max().unwrap_or(0).saturating_add(1)
}

/// The lines of a load's planned session. They state no temperature, since the user reads the temperature when the load
/// is developed.
fn lines(load: &Load, plan: &Plan, (shelf, backlog): (&Shelf, &Backlog)) -> Vec<Line> {
    let schedule = &load.schedule;
    let (recipe, fingerprint) = (&schedule.recipe.name, schedule.fingerprint.full());
    let mut lines = vec![
        Line::Plain(format!("planned {}", load.on)),
        Line::Plain(format!("recipe {recipe}, fingerprint \"{fingerprint}\"")),
        Line::Plain(format!("tank {}", plan.tank.name)),
        Line::Backlog(Name { file: backlog.span.file, name: backlog.name.clone() }),
    ];
    let both_sides = schedule.film.both_sides;
    lines.extend((1..).zip(&load.rolls).map(|(slot, roll)| {
        let label = Some(roll.label.clone());
        Line::Slot { slot, label, format: roll.format, both_sides, doubt: None }
    }));
    let poured = schedule.steps.iter().filter_map(|step| step.bath.as_ref()?.bottle.as_ref());
    for name in each_once(poured.map(|bottle| bottle.name.as_str())) {
        let Some(bottle) = shelf.darkroom.bottles().find(|bottle| bottle.name == name) else { continue };
        let bath = Name { file: bottle.span.file, name: bottle.name.clone() };
        lines.push(Line::Bath { bath, is_second: is_second(schedule, name), doubt: None });
    }
    lines
}

/// Returns the text that `write` makes, if it has no errors at the path `to`, or else at `NAME.wet` in the current
/// folder. The error is that path and the first error in the text. The arguments of `write` are whether names get
/// prefixes, and a function that returns the path of a used file.
fn sound(
    name: &str,
    reader: &Reader,
    to: Option<&Path>,
    write: impl Fn(bool, &dyn Fn(FileId) -> Option<String>) -> Option<String>,
) -> Result<String, (PathBuf, String)> {
    let path = to.map_or_else(|| PathBuf::from(format!("{name}.wet")), Path::to_owned);
    let real = root::real(&path);
    let path_to =
        |file: FileId| root::relative(&reader.disk.path(reader.name(file))?, root::folder_of(&real));
    let mut error = None;
    // The second attempt uses prefixes, since two used files may declare the same name.
    for prefixed in [false, true] {
        let Some(text) = write(prefixed, &path_to) else { break };
        let mut alone = Reader::default();
        let own = alone.read_as(&path, &real, &text);
        let (_, findings) = alone.check(&[own], &Levels::default());
        error = findings.into_iter().find(|finding| finding.level == Level::Error);
        if error.is_none() {
            return Ok(text);
        }
    }
    Err((path, error.map(|error| format!(": {}", error.message)).unwrap_or_default()))
}

/// The text of a file with a backlog; `None` if `path_to` finds no path for a `use` line. With `prefixed`, names from
/// each used file but the first get a prefix.
fn text(
    backlog: &Backlog,
    shelf: &Shelf,
    name: &str,
    prefixed: bool,
    path_to: impl Fn(FileId) -> Option<String>,
) -> Option<String> {
    let is_for_a_roll = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().map(|film| film.value.span);
        backlog.rolls.iter().any(|roll| Some(roll.film.span) == film)
    };
    let recipes = backlog.recipes.iter().filter_map(|(file, name)| shelf.recipe(*file, name));
    let recipes: Vec<_> = recipes.filter(is_for_a_roll).collect();
    let films = backlog.rolls.iter().map(|roll| roll.film.span.file);
    let mut prefixes: Map<FileId, String> = Map::new();
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
