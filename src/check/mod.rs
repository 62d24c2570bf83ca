//! Checks trees: resolves names, reads values, and runs the rules. Sound declarations go onto the [`Shelf`];
//! everything else is a [`Diagnostic`].

mod gather;
mod again;
mod read;
mod scope;
mod derive;
mod merge;
mod inherit;
mod build;
mod rules;
mod level;
mod local;
mod look;
mod members;
mod names;
mod survey;
mod checked;
mod faults;

use std::collections::BTreeMap;
use std::sync::Arc;

use build::{Builder, declared};
use derive::Deriver;
use gather::{Parsed, Units, gather};
use level::Allowances;
use local::Reached;
use scope::Scopes;

use crate::model::{Recipe, Shelf};
use crate::source::{Diagnostic, FileId, Files, Level, Sources, Span};
use crate::syntax::{FINDINGS_MAX, too_many_findings};
use crate::vocabulary::Declared;

pub use again::{Checker, Work};
pub use checked::{Checked, CheckedRecipe, check_file};
pub use faults::faults;
pub use level::{Levels, QUIET_IF_USED};
pub use members::{Member, MemberKind, Members, Said};
pub use names::{Declaration, Mention, Names, Use};
#[cfg(feature = "cli")]
pub(crate) use read::value;
pub(crate) use read::{Want, following, read_file, units_of};
pub use rules::{RULES, Rule, rule};
pub use survey::{Survey, declared_names, is_free_name};

/// Checks files and those they use, with each rule at the severity that `levels` gives it. Returns what is
/// sound, and all findings of all files, each once, in the order of files and places.
pub fn check(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    levels: &Levels,
) -> (Shelf, Vec<Diagnostic>) {
    let mut findings = Vec::new();
    let (units, whole) = gather(sources, roots, files, &mut Parsed::of, &mut findings);
    let mut shelf = Shelf::default();
    if whole {
        shelf = resolved(&units, sources, levels, &mut findings);
    }
    (shelf, in_order(findings))
}

/// The shelf of what is sound in these files, which include all that they use. Adds its findings to those of
/// reading, which do not count against the limit.
fn resolved(units: &Units, sources: &Sources, levels: &Levels, findings: &mut Vec<Diagnostic>) -> Shelf {
    let mut faults = Vec::new();
    let scopes = Scopes::of(units, &mut faults);
    let mut built = Builder::new(units, &scopes, faults);
    let allowances = Allowances::of(units, levels, &mut built.faults);
    let mut shelf = Shelf { tanks: built.named_in_files(Declared::Tank, &built.tanks), ..Shelf::default() };
    shelf.solutions = built.solutions.iter().map(|(key, one)| (key.file, Arc::clone(one))).collect();
    let mut deriver = Deriver { units, scopes: &scopes, sources, done: BTreeMap::new(), inherited: 0 };
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
        look::check_recipe(recipe, parent, &allowances, &mut faults)
    });
    let sound: Vec<bool> = sound.collect();
    look::check_rest(&built, &shelf.darkroom, sources, &allowances, &mut faults);
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

/// The findings in the order of a report, each once: several recipes may inherit one step.
fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    faults.dedup_by(|a, b| (a.span, a.name, &a.message) == (b.span, b.name, &b.message));
    faults
}

/// An error with one help line.
fn error(name: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::error(name, span, message).help(help)
}
