//! Finds the recipe, the tank and the bottles that a call names, and compiles them.

use std::path::Path;
use std::sync::Arc;

use super::find::{Sought, not_one};
use super::given::Evening;
use super::levels::levels;
use super::{Failure, Reader, darkroom, find};
use crate::check::Levels;
use crate::compile::{Doubt, Schedule, Tonight, by_index, compile};
use crate::model::{Date, Format, Recipe, Rolls, Shelf, Step, StepKind, Tank};
use crate::source::{Diagnostic, FileId, Level};
use crate::vocabulary::Declared;

/// The most files that are read for another recipe.
const FILES_MAX: usize = 1000;
/// And the most bytes of them.
const BYTES_MAX: u64 = 4 << 20;

/// A recipe to compile.
#[derive(Debug)]
pub(super) struct Choice {
    shelf: Shelf,
    recipe: Arc<Recipe>,
    pub(super) conditions: Tonight,
    doubts: Vec<Doubt>,
}

/// Reads and checks the files of a call. Only labels and the time of day are still missing from the conditions.
pub(super) fn choose(
    command: &str,
    evening: &Evening,
    day: Option<Date>,
    reader: &mut Reader,
) -> Result<Choice, Failure> {
    let text = evening.recipe.to_string_lossy();
    let index = darkroom::index(Path::new(".")).with(Declared::Recipe, &text);
    let index = evening.tank.iter().fold(index, |index, tank| index.with(Declared::Tank, tank));
    let sought = Sought::below(Declared::Recipe, &text).called(format!("wetside {command} FILE.wet {text}"));
    let (path, name) = find::file_and_name(&evening.recipe, evening.name.clone(), &sought, &index)?;
    let file = reader.read(&path)?;
    let root = darkroom::root_for(reader, file);
    let levels = levels(&[path], evening.no_config)?;
    let mut roots = vec![file];
    let (mut shelf, mut findings) = reader.check_darkroom(&root, &roots, &levels);
    let elsewhere = |name: &&String| !shelf.tanks_of(file).any(|(own, _)| own == *name);
    if let Some(tank) = evening.tank.as_ref().filter(elsewhere) {
        let path = index.find(&Sought::below(Declared::Tank, tank))?;
        roots.push(reader.read(&path)?);
        (shelf, findings) = reader.check_darkroom(&root, &roots, &levels);
    }
    if is_in_doubt(evening, &shelf, &findings, file, name.as_deref()) {
        return Err(reader.refused(findings));
    }
    let mut recipe = named(evening, &shelf, file, name.as_deref(), reader)?;
    if darkroom::has_part(evening, &recipe) {
        // The sessions that used a bottle are in other files. Their errors do not affect the recipe.
        roots.extend(darkroom::files_or_none(&root, &index, reader));
        (shelf, findings) = reader.check_darkroom(&root, &roots, &levels);
        let Some(again) = shelf.recipe(recipe.file, &recipe.name).cloned() else {
            return Err(reader.refused(findings));
        };
        recipe = again;
    }
    let tank = tank(evening, &shelf, &roots)?;
    for step in &evening.at.steps {
        let is = |own: &Step| step.kind == own.kind && (step.name.is_none() || step.name == own.name);
        if !recipe.steps.iter().any(is) {
            return Err(no_step(&recipe, step.kind, step.name.as_deref()));
        }
    }
    let mut conditions = conditions(evening, tank)?;
    conditions.bottles = darkroom::bottles(evening, day, &shelf, &recipe)?;
    let doubts = Doubt::of(&findings, &shelf, &recipe);
    Ok(Choice { shelf, recipe, conditions, doubts })
}

/// Whether errors affect the recipe, or, if the call does not name a recipe or a tank, any that it could mean.
fn is_in_doubt(
    evening: &Evening,
    shelf: &Shelf,
    findings: &[Diagnostic],
    file: FileId,
    name: Option<&str>,
) -> bool {
    let is_sound = match name.filter(|_| evening.index.is_none()) {
        Some(name) => shelf.recipe(file, name).is_some(),
        None => {
            let here = shelf.recipes.iter().any(|recipe| recipe.file == file);
            here && !shelf.unsound.recipes.contains(&file)
        }
    };
    // A file that could not be read may declare the tank.
    let unread = || findings.iter().any(|finding| finding.name.starts_with("use-"));
    findings.iter().any(|finding| finding.level == Level::Error)
        && (!is_sound || unread() || evening.tank.is_none() && !shelf.unsound.tanks.is_empty())
}

/// The recipe of a file with that name, else the only one, or of the only family the one for `--index`.
fn named(
    evening: &Evening,
    shelf: &Shelf,
    file: FileId,
    name: Option<&str>,
    reader: &mut Reader,
) -> Result<Arc<Recipe>, Failure> {
    let here = || shelf.recipes.iter().filter(|recipe| recipe.file == file);
    let whole: Vec<&Arc<Recipe>> = here().filter(|recipe| recipe.film.is_some()).collect();
    let is_family = |head: &Recipe| {
        let members = shelf.family(head);
        whole.iter().all(|one| members.iter().any(|member| Arc::ptr_eq(member, one)))
    };
    let chosen = match (name, whole.as_slice()) {
        (Some(name), _) => here().find(|recipe| recipe.name == name).ok_or_else(|| {
            let sought = Sought::within(Declared::Recipe, name, format!("in {}", reader.name(file)));
            sought.absent(here().map(|recipe| recipe.name.as_str()))
        })?,
        (None, [one]) => one,
        (None, [first, ..]) if evening.index.is_some() && is_family(first) => first,
        (None, []) => {
            let help = "name a file with a recipe that states its film";
            return Err(Failure::new("this file has no recipe for a film", help));
        }
        (None, several) => {
            let names: Vec<&str> = several.iter().map(|recipe| recipe.name.as_str()).collect();
            return Err(not_one(Declared::Recipe, reader.name(file), &names));
        }
    };
    match evening.index.map(|index| by_index(shelf, chosen, index)) {
        Some(Err(error)) => Err(reader.refused(vec![*error])),
        Some(Ok(member)) => Ok(Arc::clone(member)),
        None => Ok(Arc::clone(chosen)),
    }
}

/// The named tank, else the only one that the recipe's file can name.
fn tank(evening: &Evening, shelf: &Shelf, roots: &[FileId]) -> Result<Option<Arc<Tank>>, Failure> {
    if let Some(name) = &evening.tank {
        let mut known = roots.iter().flat_map(|file| shelf.tanks_of(*file));
        let tank = known.find(|(own, _)| own == name).map(|(_, tank)| Arc::clone(tank));
        return tank.map(Some).ok_or_else(|| {
            Failure::new(format!("the tank '{name}' has errors"), "run wetside check on its file")
        });
    }
    let known = roots.first().into_iter().flat_map(|file| shelf.tanks_of(*file));
    let (names, tanks): (Vec<&str>, Vec<&Arc<Tank>>) = known.unzip();
    if let [_, _, ..] = tanks.as_slice() {
        let message = format!("the recipe's file knows several tanks: {}", names.join(", "));
        return Err(Failure::new(message, "say which with --tank"));
    }
    Ok(tanks.first().map(|tank| Arc::clone(tank)))
}

/// The failure of a call that names a step which the recipe does not have.
pub(super) fn no_step(recipe: &Recipe, kind: StepKind, name: Option<&str>) -> Failure {
    let name = name.map(|name| format!(" {name}")).unwrap_or_default();
    let steps: Vec<String> = recipe.steps.iter().map(Step::title).collect();
    Failure::new(
        format!("'{}' has no step {}{name}", recipe.name, kind.word()),
        format!("its steps are {}; write a step and its name with a hyphen: wash-last", steps.join(", ")),
    )
}

fn conditions(evening: &Evening, tank: Option<Arc<Tank>>) -> Result<Tonight, Failure> {
    let formats: Vec<Format> = tank.iter().flat_map(|tank| &tank.reels).map(|reels| reels.format).collect();
    let rolls = evening.rolls.iter().map(|(count, format)| {
        let format = format.or(if let [one] = formats.as_slice() { Some(*one) } else { None });
        let format = format.ok_or_else(|| {
            let words: Vec<&str> = formats.iter().map(|format| format.word()).collect();
            let takes =
                tank.as_ref().map(|tank| format!(", as '{}' takes {}", tank.name, words.join(" and ")));
            Failure::new(
                format!("the format of {count} rolls is not known{}", takes.unwrap_or_default()),
                format!("write --rolls {count}x{}", words.first().unwrap_or(&"120")),
            )
        })?;
        Ok(Rolls { count: *count, format })
    });
    let rolls = rolls.collect::<Result<Vec<_>, Failure>>()?;
    Ok(Tonight {
        scale: evening.at.scale,
        step_temperatures: evening.at.steps.clone(),
        ending: evening.ending,
        tank,
        volume: evening.volume,
        ..Tonight::new(evening.at.temperature, rolls)
    })
}

/// The schedule of a choice. If the tank is too small, the errors offer other recipes of any file below this folder.
pub(super) fn compiled(choice: Choice, reader: &mut Reader) -> Result<Schedule, Failure> {
    let Choice { shelf, recipe, conditions, doubts } = choice;
    let errors = match compile(&shelf, &recipe, &conditions, doubts) {
        Ok(schedule) => return Ok(schedule),
        Err(errors) => errors,
    };
    if !errors.iter().any(|error| error.name == "tank-too-small") {
        return Err(reader.refused(errors));
    }
    let mut roots = vec![recipe.file];
    roots.extend(files_below(reader));
    let (wider, _) = reader.check(&roots, &Levels::default());
    let again = wider.recipe(recipe.file, &recipe.name);
    let again = again.and_then(|recipe| compile(&wider, recipe, &conditions, Vec::new()).err());
    Err(reader.refused(again.unwrap_or(errors)))
}

/// The recipe files below this folder, within the limits; one that cannot be read is skipped.
pub(super) fn files_below(reader: &mut Reader) -> Vec<FileId> {
    let mut left = BYTES_MAX;
    let mut files = Vec::new();
    for path in find::recipes_below(Path::new("."), &Default::default()).take(FILES_MAX) {
        let length = std::fs::metadata(&path).map_or(u64::MAX, |file| file.len());
        if length <= left {
            left -= length;
            files.extend(reader.read(&path).ok());
        }
    }
    files
}
