//! Finds the recipe, the tank and the bottles that a command line means, and compiles the recipe for them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::has_errors;
use super::evening::Evening;
use super::find::{Index, Sought};
use super::levels::levels;
use super::lift::lifted;
use super::personal::{Settings, personal};
use super::unread::DarkroomFiles;
use super::{Failure, Reader, darkroom, fail, find, rolls, root, unread, usual};
use crate::compile::asked::in_formats;
use crate::compile::{Objection, Schedule, Tonight, Warning, by_index, compile, objections};
use crate::editor::Desk as _;
use crate::model::{Fingerprint, Recipe, Shelf, Step, StepKind, Tank};
use crate::source::{Diagnostic, FileId, first_few};
use crate::vocabulary::Declared;

const FILES_MAX: usize = 1000;
const BYTES_MAX: u64 = 4 << 20;

pub(super) struct Chosen {
    pub(super) shelf: Shelf,
    pub(super) recipe: Arc<Recipe>,
    pub(super) conditions: Tonight,
    warnings: Vec<Warning>,
    advice: Vec<Warning>,
}

impl Chosen {
    pub(super) fn compiled(&self) -> Result<Schedule, Vec<Diagnostic>> {
        let mut schedule = compile(&self.shelf, &self.recipe, &self.conditions, self.warnings.clone())?;
        schedule.advice.extend(self.advice.iter().cloned());
        Ok(schedule)
    }
}

pub(super) fn schedule(command: &str, evening: &Evening, reader: &mut Reader) -> Result<Schedule, Failure> {
    let chosen = chosen(command, evening, reader)?;
    let schedule = chosen.compiled().map_err(|errors| reader.refused(errors))?;
    if evening.clears.is_some() && schedule.leader.is_none() {
        return fail(
            format!("--clears is for a fixer, and '{}' has no fixing step", chosen.recipe.name),
            "leave --clears out",
        );
    }
    let develops = |step: &Step| step.kind == StepKind::Develop && step.solution().is_some();
    if evening.dunk.is_some() && !chosen.recipe.steps.iter().any(develops) {
        return fail(
            format!("--dunk is for a developer, and '{}' has no developing step", chosen.recipe.name),
            "leave --dunk out",
        );
    }
    Ok(schedule)
}

/// Finds and checks the recipe, the tank and the bottles of an evening.
pub(super) fn chosen(command: &str, evening: &Evening, reader: &mut Reader) -> Result<Chosen, Failure> {
    let settings = settings(command, evening.no_config)?;
    let Evening { recipe, name, known: index, .. } = evening;
    let (path, name) = find::file_and_name(recipe, name.clone(), Declared::Recipe, command, index)?;
    let file = reader.read(&path)?;
    let root = darkroom::root_for(reader, file);
    let mut roots = vec![file];
    // If the recipe was found by its name, `index` has already searched the files below the current folder, so the
    // tank's file costs no second search.
    if path != evening.recipe
        && let Some(tank) = &evening.tank
        && let [other] = index.declaring(&[Declared::Tank], Some(tank)).as_slice()
    {
        roots.push(reader.read(other)?);
    }
    let known = roots.len();
    let mut levels = levels(&[path], evening.no_config)?;
    levels.clears_tonight = evening.clears.is_some();
    let (mut shelf, mut findings) = reader.check_darkroom(&root, &roots, &levels);
    if has_relevant_errors(evening, &shelf, &findings, file, name.as_deref()) {
        return Err(reader.refused(findings));
    }
    let mut recipe = named(evening, &shelf, file, name.as_deref(), reader)?;
    // The tank, and the sessions that used a bottle, may be in other files. These files are read after the check above,
    // so that their errors do not count as errors of the recipe.
    let has = |root: &FileId, name: &str| shelf.tanks_of(*root).any(|(own, _)| own == name);
    let elsewhere = |name: &&String| !roots.iter().any(|root| has(root, name));
    if let Some(tank) = evening.tank.as_ref().filter(elsewhere) {
        roots.push(reader.read(&index.find(&Sought::below(Declared::Tank, tank))?)?);
    } else if evening.tank.is_none() {
        roots.extend(usual::files(&settings, evening, reader)?);
    }
    let mut files = DarkroomFiles::default();
    if !evening.bath.is_empty() || !evening.label.is_empty() || darkroom::kept(&recipe).next().is_some() {
        files = darkroom::files_for_card(&root, index, reader)?;
        roots.extend(&files.read);
    }
    if roots.len() > known {
        (shelf, findings) = reader.check_darkroom(&root, &roots, &levels);
        let Some(again) = shelf.recipe(recipe.file, &recipe.name).cloned() else {
            return Err(reader.refused(findings));
        };
        recipe = again;
    }
    if let Some(path) = last_recipe(&shelf) {
        roots.push(reader.read(&path)?);
        let (with_last, found) = reader.check_darkroom(&root, &roots, &levels);
        if let Some(again) = with_last.recipe(recipe.file, &recipe.name).cloned() {
            (shelf, findings, recipe) = (with_last, found, again);
        }
    }
    has_steps(evening, &recipe)?;
    let mut conditions = with_settings(settings, evening, (&shelf, &recipe), &roots)?;
    conditions.bottles = darkroom::bottles(evening, &shelf, &recipe)?;
    let mut warnings =
        contradictions((command, evening), (&shelf, &recipe), &files, &mut conditions, reader)?;
    warnings.extend(changed_since_plan(evening, &recipe));
    warnings.extend(Warning::of(&findings, &shelf, &recipe));
    let mut advice = Vec::from_iter(rolls::unknown(&shelf, &conditions));
    let unnamed = conditions.tank.as_deref().filter(|_| !conditions.usual.tank);
    advice.extend(other_tank(evening, unnamed, index, reader));
    Ok(Chosen { shelf, recipe, conditions, warnings, advice })
}

/// The user's settings. If they cannot be read, `record` uses the defaults, so that a finished session is recorded.
fn settings(command: &str, no_config: bool) -> Result<Settings, Failure> {
    match personal(no_config) {
        Err(_) if command == "record" => Ok(Settings::default()),
        settings => settings,
    }
}

/// The conditions of the evening, with what the user's settings add: the usual tank, the scale and the text for the
/// card.
fn with_settings(
    settings: Settings,
    evening: &Evening,
    (shelf, recipe): (&Shelf, &Arc<Recipe>),
    roots: &[FileId],
) -> Result<Tonight, Failure> {
    let usual = usual::tank(&settings, evening, (shelf, recipe), roots)?;
    let is_usual = usual.is_some();
    let tank = if is_usual { usual } else { tank(&settings, evening, shelf, roots)? };
    let mut conditions = conditions(evening, tank)?;
    conditions.usual.tank = is_usual;
    conditions.usual.scale = evening.at.is_bare() && settings.units.is_some();
    conditions.personal = settings.card;
    Ok(conditions)
}

/// The warning that the recipe's work has changed since the load was planned. `None` if it has not, or if no load was
/// planned.
fn changed_since_plan(evening: &Evening, recipe: &Recipe) -> Option<Warning> {
    let planned = evening.planned.as_ref()?;
    let text = format!("the recipe '{}' has changed since '{}' was planned", recipe.name, planned.name);
    (Fingerprint::of(recipe).full() != planned.fingerprint).then_some(Warning { rule: "R12", text })
}

/// Fails if `--at` names a step that the recipe does not have.
fn has_steps(evening: &Evening, recipe: &Recipe) -> Result<(), Failure> {
    for step in &evening.at.steps {
        let is = |own: &Step| step.kind == own.kind && (step.name.is_none() || step.name == own.name);
        if !recipe.steps.iter().any(is) {
            return Err(no_step(recipe, step.kind, step.name.as_deref()));
        }
    }
    Ok(())
}

/// The file of the recipe of the darkroom's last session; `None` if the recipe is in the shelf already, or is not found
/// in exactly one file. The card's safety block needs this recipe to mark what is new since that session.
fn last_recipe(shelf: &Shelf) -> Option<PathBuf> {
    let name = &shelf.darkroom.last_session()?.recipe;
    if shelf.recipes.iter().any(|recipe| recipe.name == *name) {
        return None;
    }
    match Index::of_name(Declared::Recipe, name).declaring(&[Declared::Recipe], Some(name)).as_slice() {
        [only] => Some(only.clone()),
        _ => None,
    }
}

/// Whether `findings` has errors that affect the recipe `name`. If the evening names no recipe or no tank, an error in
/// any recipe or tank that may be meant counts.
fn has_relevant_errors(
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
    // A finding named `use-…` means that a used file could not be read. The tank may be in that file.
    let unread = || findings.iter().any(|finding| finding.name.starts_with("use-"));
    has_errors(findings)
        && (!is_sound || unread() || evening.tank.is_none() && !shelf.unsound.tanks.is_empty())
}

/// The recipe `name` of a file; without a name, the file's only recipe. With `--index`, the recipe with this exposure
/// index in the family: the chosen recipe and those derived from it. Without a name but with `--index`, the file may
/// have several recipes if they are one family.
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
        (None, [first, ..]) if evening.index.is_some() && is_family(first) => first,
        (None, []) => {
            let help = "name a file with a recipe that states its film";
            return fail("this file has no recipe for a film", help);
        }
        _ => {
            let all = here().filter(|recipe| name.is_some() || recipe.film.is_some());
            let all: Vec<_> = all.map(|recipe| (recipe.name.as_str(), file, recipe)).collect();
            find::one_of(Declared::Recipe, name, reader.name(file), &all, &reader.sources)?
        }
    };
    match evening.index.map(|index| by_index(shelf, chosen, index)) {
        Some(Err(error)) => Err(reader.refused(vec![*error])),
        Some(Ok(member)) => Ok(Arc::clone(member)),
        None => Ok(Arc::clone(chosen)),
    }
}

/// The tank that the command line or the plan names; else the only tank that the recipe's file declares or uses, if
/// any. Fails if the file has several tanks.
fn tank(
    settings: &Settings,
    evening: &Evening,
    shelf: &Shelf,
    roots: &[FileId],
) -> Result<Option<Arc<Tank>>, Failure> {
    if let Some(name) = evening.tank.as_ref().or(evening.other_tank.as_ref()) {
        let mut known = roots.iter().flat_map(|file| shelf.tanks_of(*file));
        let tank = known.find(|(own, _)| own == name).map(|(_, tank)| Arc::clone(tank));
        return tank.map(Some).ok_or_else(|| {
            Failure::new(format!("the tank '{name}' has errors"), "run wetside check on its file")
        });
    }
    let known = roots.first().into_iter().flat_map(|file| shelf.tanks_of(*file));
    let (names, tanks): (Vec<&str>, Vec<&Arc<Tank>>) = known.unzip();
    if tanks.len() > 1 {
        let message = format!("the recipe's file has several tanks: {}", names.join(", "));
        let usual =
            settings.tank.as_ref().map(|usual| format!("; your usual '{usual}' does not take this load"));
        return fail(message, format!("say which with --tank{}", usual.unwrap_or_default()));
    }
    Ok(tanks.first().map(|tank| Arc::clone(tank)))
}

/// Compares tonight's rolls and bottles with the darkroom's files. Fails if a roll contradicts the recipe or the state
/// of a bottle is unknown, unless `--anyway` names it or the command is `record`. Returns warnings about what
/// `--anyway` names, and about sessions and bottles that are not counted because they have errors.
fn contradictions(
    (command, evening): (&str, &Evening),
    (shelf, recipe): (&Shelf, &Arc<Recipe>),
    files: &DarkroomFiles,
    conditions: &mut Tonight,
    reader: &mut Reader,
) -> Result<Vec<Warning>, Failure> {
    let unread = unread::unread(shelf, recipe, conditions, files, reader);
    let wrong = rolls::wrong(shelf, recipe, conditions, reader);
    let mut lifts: Vec<Objection> = wrong.iter().map(|roll| roll.objection(recipe)).collect();
    lifts.extend(unread::objections(&unread));
    lifts.extend(objections(shelf, recipe, conditions));
    conditions.anyway = lifted(&evening.anyway, &lifts)?;
    if command != "record" {
        rolls::refuse(&wrong, recipe, conditions, evening)?;
        unread::refuse(&unread, conditions, reader)?;
    }
    let taken = wrong.iter().filter(|roll| conditions.takes_anyway(roll.label()));
    let warnings = taken.map(|roll| roll.warning(recipe));
    Ok(warnings.chain(unread::warnings(&unread, conditions)).collect())
}

/// The advice that another file below the current folder declares a tank too, so that another tank may be meant. `None`
/// if the command line names the tank.
fn other_tank(evening: &Evening, tank: Option<&Tank>, index: &Index, reader: &Reader) -> Option<Warning> {
    let tank = tank.filter(|_| evening.tank.is_none())?;
    let own = reader.disk.path(reader.name(tank.span.file));
    let files = index.declaring(&[Declared::Tank], None).into_iter();
    let other = files.map(|path| (root::real(&path), path)).find(|(real, _)| Some(real) != own.as_ref())?.1;
    let other = root::printable(&other.display().to_string());
    let (name, only) = (&tank.name, "is the only one of the recipe's file");
    Some(Warning {
        rule: "R12",
        text: format!("no tank was named: '{name}' {only}, and {other} has another"),
    })
}

pub(in crate::cli) fn no_step(recipe: &Recipe, kind: StepKind, name: Option<&str>) -> Failure {
    let name = name.map(|name| format!(" {name}")).unwrap_or_default();
    let steps: Vec<String> = recipe.steps.iter().map(Step::title).collect();
    Failure::new(
        format!("'{}' has no step {}{name}", recipe.name, kind.word()),
        format!("its steps are {}; write a step and its name with a hyphen: wash-last", steps.join(", ")),
    )
}

/// Tonight's conditions: those that the command line states, and the tank. Fails if there are more or fewer labels than
/// rolls.
pub(super) fn conditions(evening: &Evening, tank: Option<Arc<Tank>>) -> Result<Tonight, Failure> {
    let rolls =
        in_formats(&evening.rolls, tank.as_deref()).map_err(|(message, help)| Failure::new(message, help))?;
    let count: u32 = rolls.iter().map(|rolls| rolls.count).sum();
    let help = "give each roll one label, from the bottom of the tank up: --label A,B,C";
    let labels: Vec<&str> = evening.label.iter().map(|label| label.trim()).collect();
    if labels.contains(&"") {
        return fail("a label is empty", help);
    }
    if labels.len() > count as usize {
        return fail(format!("there are {} labels, and --rolls has only {count}", labels.len()), help);
    }
    if !labels.is_empty() && labels.len() < count as usize {
        let all = first_few(labels.iter().copied(), ", ");
        return fail(
            format!("which of the {count} rolls have the labels {all}?"),
            format!("{help}; write - for a roll without a label: --label A,-,C"),
        );
    }
    let unlabelled = |label: &&str| if *label == "-" { String::new() } else { (*label).to_owned() };
    Ok(Tonight {
        scale: evening.at.scale,
        step_temperatures: evening.at.steps.clone(),
        ending: evening.ending,
        tank,
        volume: evening.volume,
        clears: evening.clears,
        dunk: evening.dunk.is_some(),
        labels: labels.iter().map(unlabelled).collect(),
        ..Tonight::new(evening.at.temperature, rolls)
    })
}

/// Reads the recipe files below the current folder except `but`, at most `FILES_MAX` files and `BYTES_MAX` bytes.
/// Unreadable files are skipped.
pub(super) fn files_below(but: Option<&Path>, reader: &mut Reader) -> Vec<FileId> {
    let but = but.map(root::real);
    let mut left = BYTES_MAX;
    let mut files = Vec::new();
    let recipes = find::recipes_below(Path::new("."), &Default::default());
    for path in recipes.filter(|path| !find::is_session_file(path)).take(FILES_MAX) {
        if but.is_some() && Some(root::real(&path)) == but {
            continue;
        }
        let length = std::fs::metadata(&path).map_or(u64::MAX, |file| file.len());
        if length <= left {
            left -= length;
            files.extend(reader.read(&path).ok());
        }
    }
    files
}
