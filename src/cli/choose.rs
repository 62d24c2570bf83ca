//! What a call means: which recipe, which tank, which rolls. Names are looked for below this folder.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::Disk;
use super::evening::Evening;
use super::failure::Failure;
use super::find::{self, Index};
use super::levels::levels;
use super::sought::{Sought, not_one};
use super::{bottles, darkroom};
use crate::check::check;
use crate::compile::{Doubt, Tonight, by_index};
use crate::model::{Date, Recipe, Rolls, Shelf, Step, Tank};
use crate::source::{Diagnostic, FileId, Level, Sources};
use crate::vocabulary::Declared;

/// What there is to compile.
#[derive(Debug)]
pub(super) struct Choice {
    pub(super) shelf: Shelf,
    pub(super) recipe: Arc<Recipe>,
    pub(super) conditions: Tonight,
    pub(super) doubts: Vec<Doubt>,
}

/// Reads and checks what the call names, and settles what it leaves open but labels and the clock on the
/// wall, which are the card's own; advice is a call of the same command. The inner error is the
/// recipe's, the outer the call's.
pub(super) fn choose(
    command: &str,
    evening: &Evening,
    day: Option<Date>,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Result<Result<Choice, Vec<Diagnostic>>, Failure> {
    let index = index(evening);
    let (path, name) = file_and_name(command, evening, &index)?;
    let file = disk.read(sources, &path)?;
    let root = bottles::root(sources.name(file), disk);
    let levels = levels(&[path], &[], evening.no_config)?;
    let mut roots = vec![file];
    let (mut shelf, mut findings) = darkroom::checked(&root, &roots, (sources, disk), &levels);
    if let Some(path) = tank_file(evening, &shelf, file, &index)? {
        roots.push(disk.read(sources, &path)?);
    }
    let own = roots.len();
    if own > 1 && at_fault(&findings) {
        (shelf, findings) = darkroom::checked(&root, &roots, (sources, disk), &levels);
    }
    if is_in_doubt(evening, (&shelf, &findings), file, name.as_deref()) {
        return Ok(Err(findings));
    }
    let in_file = sources.name(file).to_owned();
    let mut recipe = match chosen(evening, &shelf, (file, &in_file), name.as_deref())? {
        Ok(recipe) => recipe,
        Err(fault) => return Ok(Err(vec![*fault])),
    };
    if bottles::wanted(evening, &recipe) {
        roots.extend(bottles::files(&root, &index, sources, disk));
    }
    if roots.len() > 1 {
        // What a bottle holds is told by what its file says, so all of it has to be read as one.
        (shelf, findings) = darkroom::checked(&root, &roots, (sources, disk), &levels);
        // An error in the darkroom alone stands in the way of no card.
        if at_fault(&findings) {
            let own = roots.get(..own).unwrap_or(&roots);
            let (alone, told) = check(sources, own, disk, &levels);
            if is_in_doubt(evening, (&alone, &told), file, name.as_deref()) {
                return Ok(Err(told));
            }
        }
        recipe = match chosen(evening, &shelf, (file, &in_file), name.as_deref())? {
            Ok(recipe) => recipe,
            Err(fault) => return Ok(Err(vec![*fault])),
        };
    }
    let tank = tank(evening, &shelf, &roots)?;
    steps_named(evening, &recipe)?;
    let mut conditions = conditions(evening, tank.as_ref())?;
    conditions.bottles = bottles::chosen(evening, day, &shelf, &recipe)?;
    let doubts = Doubt::of(&findings, &shelf, &recipe);
    Ok(Ok(Choice { shelf, recipe, conditions, doubts }))
}

/// Whether errors leave open what a call means or what it gets: a recipe that has one or needs something that has,
/// and where the call leaves the recipe or the tank open, any that it could mean.
fn is_in_doubt(
    evening: &Evening,
    (shelf, findings): (&Shelf, &[Diagnostic]),
    file: FileId,
    name: Option<&str>,
) -> bool {
    // What is not read may be the tank.
    let unread = || findings.iter().any(|finding| finding.name.starts_with("use-"));
    let named = || name.filter(|_| evening.index.is_none());
    let is_sound = match named() {
        Some(name) => shelf.recipe(file, name).is_some(),
        None => {
            let here = shelf.recipes.iter().any(|recipe| recipe.file == file);
            here && !shelf.unsound.recipes.contains(&file)
        }
    };
    at_fault(findings) && (!is_sound || unread() || evening.tank.is_none() && !shelf.unsound.tanks.is_empty())
}

fn at_fault(findings: &[Diagnostic]) -> bool {
    findings.iter().any(|finding| finding.level == Level::Error)
}

/// What a call of an evening can want of the files below this folder.
fn index(evening: &Evening) -> Index {
    let index = darkroom::index(Path::new(".")).with(Declared::Recipe, &evening.recipe.to_string_lossy());
    evening.tank.iter().fold(index, |index, tank| index.with(Declared::Tank, tank))
}

/// RECIPE is a file, a file and a name, or a name that is looked for.
fn file_and_name(
    command: &str,
    evening: &Evening,
    index: &Index,
) -> Result<(PathBuf, Option<String>), Failure> {
    let text = evening.recipe.to_string_lossy();
    let sought = Sought::below(Declared::Recipe, &text).called(format!("wetside {command} FILE.wet {text}"));
    find::file_and_name(&evening.recipe, evening.name.clone(), &sought, index)
}

/// The file of a tank that the recipe's own file, whose shelf this is, does not name.
fn tank_file(
    evening: &Evening,
    shelf: &Shelf,
    file: FileId,
    index: &Index,
) -> Result<Option<PathBuf>, Failure> {
    let wanted = evening.tank.as_deref().filter(|name| !shelf.tanks_of(file).any(|(own, _)| own == *name));
    wanted.map(|name| index.find(&Sought::below(Declared::Tank, name))).transpose()
}

/// The recipe of a file, whose name is given too, that the call means.
fn chosen(
    evening: &Evening,
    shelf: &Shelf,
    (file, in_file): (FileId, &str),
    name: Option<&str>,
) -> Result<Result<Arc<Recipe>, Box<Diagnostic>>, Failure> {
    let here = || shelf.recipes.iter().filter(|recipe| recipe.file == file);
    let chosen = match name {
        Some(name) => here().find(|recipe| recipe.name == name).ok_or_else(|| {
            let sought = Sought::within(Declared::Recipe, name, format!("in {in_file}"));
            sought.absent(here().map(|recipe| recipe.name.as_str()))
        })?,
        None => the_only(
            &here().filter(|recipe| recipe.film.is_some()).collect::<Vec<_>>(),
            evening,
            shelf,
            in_file,
        )?,
    };
    Ok(match evening.index {
        Some(index) => by_index(shelf, chosen, index).map(Arc::clone),
        None => Ok(Arc::clone(chosen)),
    })
}

/// The recipe of a file that was named without one: the only one, or the head of the one family that
/// `--index` picks from.
fn the_only<'a>(
    whole: &[&'a Arc<Recipe>],
    evening: &Evening,
    shelf: &Shelf,
    in_file: &str,
) -> Result<&'a Arc<Recipe>, Failure> {
    let family = |head: &Recipe| {
        let members = shelf.family(head);
        whole.iter().all(|one| members.iter().any(|member| Arc::ptr_eq(member, one)))
    };
    match whole {
        [one] => Ok(one),
        [first, ..] if evening.index.is_some() && family(first) => Ok(first),
        [] => Err(Failure::new(
            "this file has no recipe for a film",
            "name a file with a recipe that says its film",
        )),
        several => {
            let names: Vec<&str> = several.iter().map(|recipe| recipe.name.as_str()).collect();
            Err(not_one(Declared::Recipe, in_file, &names))
        }
    }
}

/// The tank that was named, or the only one that the recipe's file can name.
fn tank(evening: &Evening, shelf: &Shelf, roots: &[FileId]) -> Result<Option<Arc<Tank>>, Failure> {
    if let Some(name) = &evening.tank {
        let mut known = roots.iter().flat_map(|file| shelf.tanks_of(*file));
        let tank = known.find(|(own, _)| own == name).map(|(_, tank)| Arc::clone(tank));
        return tank.map(Some).ok_or_else(|| {
            Failure::new(format!("the tank '{name}' could not be used"), "run wetside check on its file")
        });
    }
    let Some(file) = roots.first() else { return Ok(None) };
    let known: Vec<(&str, &Arc<Tank>)> = shelf.tanks_of(*file).collect();
    match known.as_slice() {
        [] => Ok(None),
        [(_, one)] => Ok(Some(Arc::clone(one))),
        several => {
            let names: Vec<&str> = several.iter().map(|(name, _)| *name).collect();
            Err(Failure::new(
                format!("the recipe's file knows several tanks: {}", names.join(", ")),
                "say which with --tank",
            ))
        }
    }
}

/// Every step that `--at` names is one of the recipe's.
fn steps_named(evening: &Evening, recipe: &Recipe) -> Result<(), Failure> {
    for named in &evening.at.steps {
        let is = |step: &Step| step.kind == named.kind && (named.name.is_none() || named.name == step.name);
        if recipe.steps.iter().any(is) {
            continue;
        }
        let name = named.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        let steps: Vec<String> = recipe.steps.iter().map(Step::title).collect();
        return Err(Failure::new(
            format!("'{}' has no step {}{name} to give a temperature to", recipe.name, named.kind.word()),
            format!("its steps are {}; a step's own name follows a hyphen: wash-last=22C", steps.join(", ")),
        ));
    }
    Ok(())
}

fn conditions(evening: &Evening, tank: Option<&Arc<Tank>>) -> Result<Tonight, Failure> {
    let rolls = evening.rolls.0.iter().map(|asked| {
        let format = match (asked.format, tank) {
            (Some(format), _) => format,
            (None, Some(tank)) => match tank.reels.as_slice() {
                [one] => one.format,
                several => {
                    let known: Vec<&str> = several.iter().map(|reels| reels.format.word()).collect();
                    let count = asked.count;
                    return Err(Failure::new(
                        format!(
                            "'{}' takes {}, so {count} rolls do not say which",
                            tank.name,
                            known.join(" and ")
                        ),
                        format!("write --rolls {count}x{}", known.first().unwrap_or(&"120")),
                    ));
                }
            },
            (None, None) => {
                return Err(Failure::new(
                    format!("{} rolls of what? no tank was named that takes but one format", asked.count),
                    format!("write --rolls {}x120", asked.count),
                ));
            }
        };
        Ok(Rolls { count: asked.count, format })
    });
    let rolls = rolls.collect::<Result<Vec<_>, _>>()?;
    Ok(Tonight {
        scale: evening.at.scale,
        step_temperatures: evening.at.steps.clone(),
        ending: evening.ending,
        tank: tank.cloned(),
        volume: evening.volume,
        ..Tonight::new(evening.at.temperature, rolls)
    })
}
