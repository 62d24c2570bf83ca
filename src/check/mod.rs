//! Trees to [`Shelf`]: names resolved, units and ranges held, rules kept. All that is wrong comes
//! back in one list; what is sound is on the shelf. After this no name is only a string.

mod gather;
mod read;
mod scope;
mod derive;
mod merge;
mod inherit;
mod build;
mod rules;

use std::collections::BTreeMap;
use std::sync::Arc;

use build::{Built, declared, recipe};
use derive::Deriver;
use gather::{Units, gather};
use scope::Scopes;

use crate::model::{Recipe, Shelf};
use crate::source::{Diagnostic, FileId, Library, Sources};
use crate::syntax;
use crate::vocabulary::Declared;

pub use rules::{RULES, Rule};

/// Checks files and all that they use. What comes back is complete: every finding of every file, in
/// the order of files and places, none twice; and the shelf of what is sound.
pub fn check(sources: &mut Sources, roots: &[FileId], library: &mut dyn Library) -> (Shelf, Vec<Diagnostic>) {
    let mut faults = Vec::new();
    let units = gather(sources, roots, library, &mut faults);
    let scopes = Scopes::of(&units, &mut faults);
    let built = Built::of(&units, &scopes, &mut faults);
    let recipes = recipes(&units, &scopes, &built, sources, &mut faults);
    let shelf = Shelf { recipes, tanks: tanks(&units, &scopes, &built) };
    (shelf, in_order(faults))
}

/// The names of all faults and rules, each with its meaning, in the order of the stages.
#[must_use]
pub fn faults() -> Vec<(&'static str, &'static str)> {
    let tables: [&[(&str, &str)]; 6] =
        [syntax::FAULTS, read::FAULTS, gather::FAULTS, scope::FAULTS, derive::FAULTS, merge::FAULTS];
    let built = build::FAULTS.iter().copied().chain([inherit::FAULTS]);
    let rules = RULES.iter().map(|rule| (rule.name, rule.meaning));
    tables.into_iter().chain(built).flatten().copied().chain(rules).collect()
}

fn recipes(
    units: &Units,
    scopes: &Scopes,
    built: &Built<'_>,
    sources: &Sources,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Arc<Recipe>> {
    let mut deriver = Deriver { units, scopes, sources, done: BTreeMap::new() };
    let mut recipes = Vec::new();
    for (key, _) in declared(units, Declared::Recipe) {
        let Some(merged) = deriver.recipe(key, faults) else { continue };
        if let Some(recipe) = recipe(&merged, built, faults)
            && rules::keep(&recipe, faults)
        {
            recipes.push(Arc::new(recipe));
        }
    }
    recipes
}

fn tanks(
    units: &Units,
    scopes: &Scopes,
    built: &Built<'_>,
) -> Vec<(FileId, String, Arc<crate::model::Tank>)> {
    let of_file = |file: FileId| {
        let names = scopes.all(file, Declared::Tank);
        names.filter_map(move |(name, key)| Some((file, name.to_owned(), Arc::clone(built.tanks.get(&key)?))))
    };
    units.keys().flat_map(|file| of_file(*file)).collect()
}

/// The report's order, each finding once: a step that several recipes inherit is told where it stands.
fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    faults.dedup_by(|a, b| (a.span, a.name, &a.message) == (b.span, b.name, &b.message));
    faults
}
