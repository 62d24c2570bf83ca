//! Lets every rule look at what it is for: recipes, solutions, films, tanks, the darkroom, files.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::build::Built;
use super::gather::Units;
use super::level::Allowances;
use super::rules::{Look, RULES, Written};
use crate::model::{Darkroom, Recipe, Shelf};
use crate::source::{Diagnostic, FileId, Level, Sources, Span};

/// Looks at a recipe, and at its parent with it; whether it may be compiled.
pub(super) fn at_recipe(
    recipe: &Recipe,
    parent: Option<&Arc<Recipe>>,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) -> bool {
    let before = faults.len();
    for rule in RULES {
        let mut found = Vec::new();
        match (&rule.look, parent) {
            (Look::Recipe(look), _) => look(recipe, &mut found),
            (Look::Derived(look), Some(parent)) => look(recipe, parent, &mut found),
            (
                Look::Derived(_)
                | Look::Solution(_)
                | Look::Film(_)
                | Look::Tank(_)
                | Look::Darkroom(_)
                | Look::File(_),
                _,
            ) => {}
        }
        allowances.weigh(recipe.span, found, faults);
    }
    faults.iter().skip(before).all(|fault| fault.level != Level::Error)
}

/// The recipe that one is derived from, if it is sound.
pub(super) fn parent<'a>(shelf: &'a Shelf, recipe: &Recipe) -> Option<&'a Arc<Recipe>> {
    recipe.parent.as_ref().and_then(|(file, name)| shelf.recipe(*file, name))
}

/// Looks at everything that is no recipe.
pub(super) fn at_the_rest(
    units: &Units,
    (built, darkroom): (&Built<'_>, &Darkroom),
    sources: &Sources,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) {
    let used: BTreeSet<FileId> = units.values().flat_map(|unit| &unit.uses).map(|used| used.file).collect();
    // A file that was not read may use any other.
    let all_read = units.values().all(|unit| !unit.incomplete);
    let written: Vec<Written<'_>> = units
        .values()
        .map(|unit| Written {
            all_read,
            ..Written::of(unit, sources.text(unit.file), used.contains(&unit.file))
        })
        .collect();
    for rule in RULES {
        let mut each = |span: Span, found: Vec<Diagnostic>| allowances.weigh(span, found, faults);
        match &rule.look {
            Look::Solution(look) => {
                built.solutions.values().for_each(|it| each(it.span, seen(|out| look(it, out))))
            }
            Look::Film(look) => built.films.values().for_each(|it| each(it.span, seen(|out| look(it, out)))),
            Look::Tank(look) => built.tanks.values().for_each(|it| each(it.span, seen(|out| look(it, out)))),
            Look::Darkroom(look) => {
                seen(|out| look(darkroom, out)).into_iter().for_each(|one| each(one.span, vec![one]));
            }
            Look::File(look) => {
                for written in &written {
                    let start = Span { file: written.unit.file, start: 0, end: 0 };
                    each(start, seen(|out| look(written, out)));
                }
            }
            Look::Recipe(_) | Look::Derived(_) => {}
        }
    }
}

fn seen(look: impl FnOnce(&mut Vec<Diagnostic>)) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    look(&mut found);
    found
}
