//! Finds the recipe of a roll by its film and exposure index.

use std::sync::Arc;

use super::Asked;
use crate::model::{Exposed, Recipe};
use crate::source::{Diagnostic, clip, first_few};

pub(super) const FAULTS: &[(&str, &str)] = &[
    ("no-recipe-for-rolls", "rolls of a backlog without a recipe for their film and index"),
    ("several-recipes-for-rolls", "rolls of a backlog with several recipes for their film and index"),
];

/// The one recipe for a roll. A recipe that the backlog names comes first, and one of this root before one of another.
pub(super) fn recipe_for<'a>(
    asked: &Asked<'a>,
    roll: &Exposed,
    alike: usize,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let fits = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(&film.value, &roll.film));
        let index = recipe.index.map(|index| index.value).or(roll.film.speed.map(|speed| speed.value));
        film && (index == roll.exposed_at() || roll.exposed_at().is_none())
    };
    let named = |recipe: &&Arc<Recipe>| {
        asked.backlog.recipes.iter().any(|(file, name)| recipe.file == *file && recipe.name == *name)
    };
    let mut fitting: Vec<&Arc<Recipe>> = asked.shelf.recipes.iter().filter(fits).collect();
    let chosen: Vec<&Arc<Recipe>> = fitting.iter().copied().filter(named).collect();
    let is_own = |recipe: &Arc<Recipe>| !asked.others.contains(&recipe.file);
    if fitting.iter().any(|recipe| is_own(recipe)) {
        fitting.retain(|recipe| is_own(recipe));
    }
    let at = roll.exposed_at().map(|index| format!(" at {index}")).unwrap_or_default();
    let rolls = if alike == 1 { "this roll".to_owned() } else { format!("{alike} rolls like this one") };
    match (chosen.as_slice(), fitting.as_slice()) {
        ([one], _) | ([], [one]) => Ok(one),
        ([], []) => {
            let message = format!("there is no recipe for {rolls}: {}{at}", clip(&roll.film.title));
            Err(Box::new(
                Diagnostic::error("no-recipe-for-rolls", roll.span, message)
                    .other(roll.film.span, "the film")
                    .help("write a recipe for this film and index in this folder, or correct the roll's film and index")
                    .help("recipes with errors are skipped; see wetside check"),
            ))
        }
        (several @ [_, _, ..], _) | ([], several) => {
            let names = first_few(several.iter().map(|recipe| recipe.name.as_str()), ", ");
            let message =
                format!("there are several recipes for {rolls}, {}{at}: {names}", clip(&roll.film.title));
            let help = if chosen.is_empty() {
                "name one in the backlog with a line such as"
            } else {
                "the backlog names several of them; keep one line such as"
            };
            let first = several.first().map_or("", |recipe| recipe.name.as_str());
            Err(Box::new(
                Diagnostic::error("several-recipes-for-rolls", roll.span, message)
                    .other(asked.backlog.span, "the backlog")
                    .help(format!("{help}: recipe {first}")),
            ))
        }
    }
}
