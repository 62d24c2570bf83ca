//! Checks recipe files: reads the values in them, resolves names and runs the rules. The result is a [`Shelf`] of the
//! declarations without errors, and a [`Diagnostic`] for each finding.

mod gather;
mod read;
mod scope;
mod derive;
mod merge;
mod outdated;
mod build;
mod mixture;
mod rules;
mod level;
mod local;
mod survey;
mod faults;

use std::ops::Deref;
use std::sync::Arc;

use build::{Builder, declared};
use derive::Deriver;
pub use gather::Use;
use gather::{Unit, Units, gather};
use level::Allowances;
use local::Reached;
use scope::Scopes;

use crate::model::{Recipe, Shelf, Tank};
use crate::report::{Look, draw};
use crate::source::{Diagnostic, FileId, Files, Level, Map, NotRead, Set, Sources, Span, first_few};
use crate::syntax::{FINDINGS_MAX, too_many_findings};
use crate::vocabulary::Declared;

pub use derive::{Member, MemberKind, Members, Said};
pub use faults::faults;
pub use level::{ABOUT_SESSIONS, Levels, QUIET_IF_USED};
pub(crate) use read::value;
pub(crate) use read::{Want, following, has_development_time, older, read_file, stated, units_of};
pub use read::{is_dated_name, is_free_name};
pub(crate) use rules::dangerous;
pub use rules::{RULES, Rule, rule};
pub use survey::{Declaration, Mention, Names, Survey, declared_names, is_only_planned};

/// Checks the files `roots` and all files that they use, with the severities in `levels`. Returns the declarations
/// without errors, and the findings of all files, each once, sorted by file and position.
pub fn check_all(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    levels: &Levels,
) -> (Shelf, Vec<Diagnostic>) {
    let mut findings = Vec::new();
    let (units, whole) = gather(sources, roots, files, &mut Unit::parsed, &mut findings);
    let shelf = if whole { resolved(&units, sources, levels, &mut findings) } else { Shelf::default() };
    (shelf, in_order(findings))
}

/// The recipes of the files `roots` and of all files that they use. The rules have not run, so a recipe may still have
/// errors that only a rule finds.
#[cfg(feature = "cli")]
pub(crate) fn recipes_as_stated(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
) -> Vec<Arc<Recipe>> {
    let mut faults = Vec::new();
    let (units, whole) = gather(sources, roots, files, &mut Unit::parsed, &mut faults);
    if !whole {
        return Vec::new();
    }
    let scopes = Scopes::of(&units, &mut faults);
    recipes(&units, &scopes, &mut Builder::new(&units, &scopes, Vec::new()))
}

fn recipes(units: &Units, scopes: &Scopes, built: &mut Builder<'_>) -> Vec<Arc<Recipe>> {
    let mut deriver = Deriver { units, scopes, done: Map::new(), inherited: 0 };
    let mut recipes = Vec::new();
    for (key, _) in declared(units, Declared::Recipe) {
        if built.faults.len() >= FINDINGS_MAX {
            break;
        }
        let merged = deriver.recipe(key, &mut built.faults);
        let recipe = merged.and_then(|merged| built.recipe(&merged));
        recipes.extend(recipe.map(Arc::new));
    }
    recipes
}

/// Resolves names and runs the rules in `units`, which include every used file. Returns the declarations without
/// errors. `findings` already has the findings of reading the files; the findings about names and of the rules are
/// added to it.
fn resolved(units: &Units, sources: &Sources, levels: &Levels, findings: &mut Vec<Diagnostic>) -> Shelf {
    let mut faults = Vec::new();
    let scopes = Scopes::of(units, &mut faults);
    let mut built = Builder::new(units, &scopes, faults);
    built.clears_tonight = levels.clears_tonight;
    let allowances = Allowances::of(units, levels, &mut built.faults);
    let mut shelf = Shelf { tanks: built.named_in_files(Declared::Tank, &built.tanks), ..Shelf::default() };
    shelf.solutions = built.solutions.iter().map(|(key, one)| (key.file, Arc::clone(one))).collect();
    shelf.films = built.films.iter().map(|(key, one)| (key.file, Arc::clone(one))).collect();
    shelf.trials = built.trials.iter().map(|(key, one)| (key.file, Arc::clone(one))).collect();
    shelf.thermometers = built.thermometers();
    shelf.recipes = recipes(units, &scopes, &mut built);
    shelf.collections = built.collections(sources);
    shelf.darkroom = built.darkroom();
    let partial = std::mem::take(&mut built.partial);
    let mut faults = std::mem::take(&mut built.faults);
    if let Some(last) = faults.last().filter(|_| faults.len() >= FINDINGS_MAX) {
        faults.push(too_many_findings(last.span));
    }
    // If there are errors, an `allow` without effect is not reported: the rule that it allows may not have run.
    let all_checked = findings.iter().chain(&faults).all(|fault| fault.level != Level::Error);
    let sound = shelf.recipes.iter().map(|recipe| {
        let parent = recipe.parent.as_ref().and_then(|(file, name)| shelf.recipe(*file, name));
        level::check_recipe(recipe, parent, &allowances, &mut faults)
    });
    let sound: Vec<bool> = sound.collect();
    for partial in &partial {
        let parent = partial.known().parent.as_ref().and_then(|(file, name)| shelf.recipe(*file, name));
        level::check_partial(partial, parent, &allowances, &mut faults);
    }
    level::check_rest(&built, (&shelf, &partial), sources, &allowances, &mut faults);
    if all_checked {
        allowances.without_effect(&mut faults);
    }
    findings.append(&mut faults);
    let reached = Reached::of(units, findings.iter());
    let whole = |recipe: &Recipe| reached.is_empty() || !reached.holds_recipe(recipe, &shelf, units);
    let sound =
        shelf.recipes.iter().zip(sound).filter(|(_, sound)| *sound).map(|(recipe, _)| Arc::clone(recipe));
    let (recipes, sound_alone) = sound.partition(|recipe| whole(recipe));
    (shelf.recipes, shelf.unsound.sound_alone) = (recipes, sound_alone);
    reached.clear(&mut shelf, units);
    shelf
}

/// Sorts findings and drops repetitions: a finding about an inherited step is found again in each derived recipe.
fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    Diagnostic::sort(&mut faults);
    faults.dedup_by(|a, b| (a.span, a.name, &a.message) == (b.span, b.name, &b.message));
    one_per_capacity(&mut faults);
    faults
}

/// Keeps one finding for a solution without a capacity. If `reused-without-capacity` reports the solution, the findings
/// of `developer-without-capacity` and `uncounted-bath` about it are removed.
fn one_per_capacity(faults: &mut Vec<Diagnostic>) {
    let reused = faults.iter().filter(|fault| fault.name == "reused-without-capacity");
    let solutions: Set<Span> = reused.map(|fault| fault.span).collect();
    faults.retain(|fault| match fault.name {
        "developer-without-capacity" => !solutions.contains(&fault.span),
        "uncounted-bath" => !fault.others.iter().any(|(solution, _)| solutions.contains(solution)),
        _ => true,
    });
}

/// The result of checking a file and the files it uses.
#[derive(Debug)]
pub struct Checked {
    /// The texts of the checked file and of all files that it uses.
    pub sources: Sources,
    /// The file whose name was given to [`check_file`].
    pub file: FileId,
    /// The declarations without errors.
    pub shelf: Shelf,
    /// The findings of all files, sorted by file and position.
    pub findings: Vec<Diagnostic>,
}

/// A recipe without errors in a checked file; it can be compiled.
#[derive(Debug, Clone, Copy)]
pub struct CheckedRecipe<'a> {
    pub(crate) checked: &'a Checked,
    pub(crate) recipe: &'a Arc<Recipe>,
}

impl Deref for CheckedRecipe<'_> {
    type Target = Recipe;

    fn deref(&self) -> &Recipe {
        self.recipe
    }
}

/// Checks the file with this name, and the files that it uses.
///
/// # Errors
/// The named file cannot be read. An unreadable used file is a finding instead.
pub fn check_file(files: &dyn Files, name: &str) -> Result<Checked, NotRead> {
    let mut sources = Sources::default();
    let name = files.resolve("", name)?;
    let text = files.read(&name)?;
    let file = sources.add(name, text);
    let (shelf, findings) = check_all(&mut sources, &[file], files, &Levels::default());
    Ok(Checked { sources, file, shelf, findings })
}

impl Checked {
    /// Whether any of the files has an error. Recipes without errors can be compiled all the same.
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|finding| finding.level == Level::Error)
    }

    /// These diagnostics as a text without colours, each with the source lines that it is about.
    pub fn report(&self, diagnostics: &[Diagnostic]) -> String {
        draw(&self.sources, diagnostics, Look::Plain)
    }

    /// The recipes without errors that are declared in [`Checked::file`], in the order written.
    pub fn recipes(&self) -> impl Iterator<Item = CheckedRecipe<'_>> {
        let own = self.shelf.recipes.iter().filter(|recipe| recipe.file == self.file);
        own.map(|recipe| CheckedRecipe { checked: self, recipe })
    }

    /// The recipe with this name in [`Checked::file`]; `None` if it has errors or does not exist.
    pub fn recipe(&self, name: &str) -> Option<CheckedRecipe<'_>> {
        self.recipes().find(|recipe| recipe.name == name)
    }

    /// The tank that has this name in [`Checked::file`], where it is declared or comes from a used file. `None` if it
    /// has errors or does not exist.
    pub fn tank(&self, name: &str) -> Option<&Arc<Tank>> {
        self.shelf.tanks_of(self.file).find(|(own, _)| *own == name).map(|(_, tank)| tank)
    }
}

/// The largest size, in bytes, of a file whose results a [`Checker`] keeps for the next check.
const KEPT_MAX: usize = 256 << 10;

/// Checks the same files repeatedly, as an editor does, and reuses the results of files that did not change.
#[derive(Debug, Default)]
pub struct Checker {
    files: Map<FileId, Known>,
    groups: Vec<Group>,
    levels: Levels,
    work: Work,
}

/// How much work a [`Checker`] has done since it was made, as numbers of files.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Work {
    /// How many times a file was parsed.
    pub parsed: usize,
    /// How many times the rules ran in a file.
    pub resolved: usize,
}

#[derive(Debug)]
struct Known {
    name: String,
    text: String,
    unit: Unit,
}

/// Files that are connected by `use` lines, and the findings of resolving names and running the rules in them.
#[derive(Debug)]
struct Group {
    units: Units,
    findings: Vec<Diagnostic>,
}

impl Checker {
    /// Returns the findings that [`check_all`] would return. Files that `use` lines connect form a group. If no file of
    /// a group has changed, the earlier findings of the group are reused.
    pub fn check(
        &mut self,
        sources: &mut Sources,
        roots: &[FileId],
        files: &dyn Files,
        levels: &Levels,
    ) -> Vec<Diagnostic> {
        let mut read = Vec::new();
        let (units, whole) = self.gather(sources, roots, files, &mut read);
        self.files.retain(|file, _| units.contains_key(file));
        if self.levels != *levels {
            self.groups.clear();
            self.levels = levels.clone();
        }
        let mut before: Map<FileId, Option<Group>> = std::mem::take(&mut self.groups)
            .into_iter()
            .filter_map(|group| {
                let first = group.units.keys().next().copied()?;
                Some((first, Some(group)))
            })
            .collect();
        let mut findings = Vec::new();
        for units in connected(units).into_iter().filter(|_| whole) {
            let known = units.keys().next().and_then(|first| before.get_mut(first)?.take());
            let known = known.filter(|group| {
                let pairs = units.values().zip(group.units.values());
                units.len() == group.units.len() && pairs.clone().all(|(now, then)| now.is_same(then))
            });
            let group = known.unwrap_or_else(|| {
                self.work.resolved += units.len();
                let own = read.iter().filter(|finding| units.contains_key(&finding.span.file));
                let mut findings: Vec<Diagnostic> = own.cloned().collect();
                let count = findings.len();
                resolved(&units, sources, levels, &mut findings);
                Group { units, findings: findings.split_off(count) }
            });
            findings.extend(group.findings.iter().cloned());
            self.groups.push(group);
        }
        findings.append(&mut read);
        let is_kept = |group: &Group| group.units.keys().all(|file| sources.text(*file).len() <= KEPT_MAX);
        self.groups.retain(is_kept);
        in_order(findings)
    }

    /// The names and values in the files `roots` and in all files that they use, for editors.
    pub fn survey(&mut self, sources: &mut Sources, roots: &[FileId], files: &dyn Files) -> Survey {
        // The findings of reading the files are dropped here, because [`Checker::check`] returns them.
        let (units, _) = self.gather(sources, roots, files, &mut Vec::new());
        Survey::of(&units, sources)
    }

    /// The work done so far.
    pub fn work(&self) -> Work {
        self.work
    }

    fn gather(
        &mut self,
        sources: &mut Sources,
        roots: &[FileId],
        files: &dyn Files,
        findings: &mut Vec<Diagnostic>,
    ) -> (Units, bool) {
        let mut parsed = |sources: &Sources, file: FileId| {
            let (name, text) = (sources.name(file), sources.text(file));
            if let Some(known) = self.files.get(&file).filter(|it| (&*it.name, &*it.text) == (name, text)) {
                return known.unit.clone();
            }
            self.work.parsed += 1;
            let unit = Unit::parsed(sources, file);
            if text.len() <= KEPT_MAX {
                let known = Known { name: name.to_owned(), text: text.to_owned(), unit: unit.clone() };
                self.files.insert(file, known);
            }
            unit
        };
        gather(sources, roots, files, &mut parsed, findings)
    }
}

/// Splits files into groups. No file uses a file of another group.
fn connected(units: Units) -> Vec<Units> {
    let mut beside: Map<FileId, Vec<FileId>> = Map::new();
    for unit in units.values() {
        for used in &unit.uses {
            beside.value_of(unit.file).push(used.file);
            beside.value_of(used.file).push(unit.file);
        }
    }
    let files: Vec<FileId> = units.keys().copied().collect();
    let mut units: Map<FileId, Option<Unit>> =
        units.into_iter().map(|(file, unit)| (file, Some(unit))).collect();
    let mut group_of = |first: FileId| {
        let mut group = vec![(first, units.get_mut(&first)?.take()?)];
        let mut open = vec![first];
        while let Some(file) = open.pop() {
            for other in beside.get(&file).into_iter().flatten() {
                if let Some(unit) = units.get_mut(other).and_then(Option::take) {
                    group.push((*other, unit));
                    open.push(*other);
                }
            }
        }
        Some(group.into_iter().collect())
    };
    files.into_iter().filter_map(&mut group_of).collect()
}

fn error(name: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::error(name, span, message).help(help)
}

/// The most references that an error about a circle marks, besides the first.
const CIRCLE_MAX: usize = 32;

/// The error about names that refer to each other in a circle, such as `a circle of recipes: a from b from a`. There
/// `what` is `recipes`, and `between` separates the names. `names` ends with its first name again; `spans` are the
/// places where the names refer to each other.
fn circle<'n>(
    name: &'static str,
    (what, between): (&str, &str),
    names: impl Iterator<Item = &'n str>,
    mut spans: impl Iterator<Item = Span>,
    help: &str,
) -> Option<Diagnostic> {
    let fault =
        error(name, spans.next()?, format!("a circle of {what}: {}", first_few(names, between)), help);
    Some(spans.take(CIRCLE_MAX).fold(fault, |fault, span| fault.other(span, "a part of the circle")))
}
