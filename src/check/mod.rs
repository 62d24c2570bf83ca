//! Checks trees: resolves names, reads values, and runs the rules. Sound declarations go onto the [`Shelf`];
//! everything else is a [`Diagnostic`].

mod gather;
mod again;
mod read;
mod scope;
mod derive;
mod merge;
mod build;
mod rules;
mod level;
mod local;
mod survey;
mod faults;

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

use build::{Builder, declared};
use derive::Deriver;
use gather::{Unit, Units, gather};
use level::Allowances;
use local::Reached;
use scope::Scopes;

use crate::model::{Recipe, Shelf, Tank};
use crate::report::{Look, draw};
use crate::source::{Diagnostic, FileId, Files, Level, NotRead, Sources, Span, first_few};
use crate::syntax::{FINDINGS_MAX, too_many_findings};
use crate::vocabulary::Declared;

pub use again::{Checker, Work};
pub use derive::{Member, MemberKind, Members, Said};
pub use faults::faults;
pub use level::{Levels, QUIET_IF_USED};
#[cfg(feature = "cli")]
pub(crate) use read::value;
pub(crate) use read::{Want, following, read_file, units_of};
pub use rules::{RULES, Rule, rule};
pub use survey::{Declaration, Mention, Names, Survey, Use, declared_names, is_free_name};

/// Checks files and those they use, with each rule at the severity that `levels` gives it. Returns what is
/// sound, and all findings of all files, each once, in the order of files and places.
pub fn check(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    levels: &Levels,
) -> (Shelf, Vec<Diagnostic>) {
    let mut findings = Vec::new();
    let (units, whole) = gather(sources, roots, files, &mut Unit::parsed, &mut findings);
    let mut shelf = Shelf::default();
    if whole {
        shelf = resolved(&units, sources, levels, &mut findings);
    }
    (shelf, in_order(findings))
}

/// The sound declarations of these files, which include all that they use. Adds its findings to those of
/// reading, which do not count against the limit.
fn resolved(units: &Units, sources: &Sources, levels: &Levels, findings: &mut Vec<Diagnostic>) -> Shelf {
    let mut faults = Vec::new();
    let scopes = Scopes::of(units, &mut faults);
    let mut built = Builder::new(units, &scopes, faults);
    let allowances = Allowances::of(units, levels, &mut built.faults);
    let mut shelf = Shelf { tanks: built.named_in_files(Declared::Tank, &built.tanks), ..Shelf::default() };
    shelf.solutions = built.solutions.iter().map(|(key, one)| (key.file, Arc::clone(one))).collect();
    let mut deriver = Deriver { units, scopes: &scopes, done: BTreeMap::new(), inherited: 0 };
    for (key, _) in declared(units, Declared::Recipe) {
        if built.faults.len() >= FINDINGS_MAX {
            break;
        }
        let merged = deriver.recipe(key, &mut built.faults);
        let recipe = merged.and_then(|merged| built.recipe(&merged));
        shelf.recipes.extend(recipe.map(Arc::new));
    }
    shelf.darkroom = built.darkroom();
    let mut faults = std::mem::take(&mut built.faults);
    if let Some(last) = faults.last().filter(|_| faults.len() >= FINDINGS_MAX) {
        faults.push(too_many_findings(last.span));
    }
    // The rules do not see a declaration with errors, so an allowance there may look needless.
    let all_checked = findings.iter().chain(&faults).all(|fault| fault.level != Level::Error);
    let sound = shelf.recipes.iter().map(|recipe| {
        let parent = recipe.parent.as_ref().and_then(|(file, name)| shelf.recipe(*file, name));
        level::check_recipe(recipe, parent, &allowances, &mut faults)
    });
    let sound: Vec<bool> = sound.collect();
    level::check_rest(&built, &shelf.darkroom, sources, &allowances, &mut faults);
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

/// The findings in order, each once: several recipes may inherit one step.
fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    faults.dedup_by(|a, b| (a.span, a.name, &a.message) == (b.span, b.name, &b.message));
    faults
}

/// A checked file, with those it uses.
#[derive(Debug)]
pub struct Checked {
    /// The texts that were read.
    pub sources: Sources,
    /// The named file.
    pub file: FileId,
    /// Their sound declarations.
    pub shelf: Shelf,
    /// The findings, in the order of files and places.
    pub findings: Vec<Diagnostic>,
}

/// A sound recipe of a checked file, which can be compiled.
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
    let (shelf, findings) = check(&mut sources, &[file], files, &Levels::default());
    Ok(Checked { sources, file, shelf, findings })
}

impl Checked {
    /// Whether there is an error; recipes without errors are sound nevertheless.
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|finding| finding.level == Level::Error)
    }

    /// These diagnostics as text, each with its lines.
    pub fn report(&self, diagnostics: &[Diagnostic]) -> String {
        draw(&self.sources, diagnostics, Look::Plain)
    }

    /// The sound recipes of the file, in its order.
    pub fn recipes(&self) -> impl Iterator<Item = CheckedRecipe<'_>> {
        let own = self.shelf.recipes.iter().filter(|recipe| recipe.file == self.file);
        own.map(|recipe| CheckedRecipe { checked: self, recipe })
    }

    /// The sound recipe of this name in the file.
    pub fn recipe(&self, name: &str) -> Option<CheckedRecipe<'_>> {
        self.recipes().find(|recipe| recipe.name == name)
    }

    /// The tank of this name that the file declares or uses.
    pub fn tank(&self, name: &str) -> Option<&Arc<Tank>> {
        self.shelf.tanks_of(self.file).find(|(own, _)| *own == name).map(|(_, tank)| tank)
    }
}

/// An error with one help line.
fn error(name: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::error(name, span, message).help(help)
}

/// The most places of a circle that are shown besides the first.
const CIRCLE_MAX: usize = 32;

/// The error of a circle of references: the names, with the first again at the end, and the span of each.
fn circle<'n>(
    name: &'static str,
    (what, between): (&str, &str),
    names: impl Iterator<Item = &'n str>,
    mut spans: impl Iterator<Item = Span>,
    help: &str,
) -> Option<Diagnostic> {
    let fault =
        error(name, spans.next()?, format!("a circle of {what}: {}", first_few(names, between)), help);
    Some(spans.take(CIRCLE_MAX).fold(fault, |fault, span| fault.other(span, "and this")))
}
