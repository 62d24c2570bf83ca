//! The recipe that a roll is meant for: by its film and the index it was exposed at.

use std::sync::Arc;

use super::Asked;
use crate::model::{Exposed, Recipe};
use crate::source::{Diagnostic, clip, first_few};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("no-recipe-for-rolls", "rolls of a backlog for whose film and index there is no recipe"),
    ("several-recipes-for-rolls", "rolls of a backlog for which several recipes would do"),
];

/// The one recipe for a roll. What the backlog names goes before all else, and a recipe of one's own before one of
/// another root.
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
    let rolls = if alike == 1 { "this roll".to_owned() } else { format!("{alike} rolls as this one") };
    match (chosen.as_slice(), fitting.as_slice()) {
        ([one], _) | ([], [one]) => Ok(one),
        ([], []) => {
            let message = format!("there is no recipe for {rolls}: {}{at}", clip(&roll.film.title));
            Err(Box::new(
                Diagnostic::error("no-recipe-for-rolls", roll.span, message)
                    .other(roll.film.span, "the film")
                    .help("write a recipe for this film and index below this folder, or put the roll's film and index right")
                    .help("a recipe that is at fault counts for none: wetside check tells of it"),
            ))
        }
        (several @ [_, _, ..], _) | ([], several) => {
            let names = first_few(several.iter().map(|recipe| recipe.name.as_str()), ", ");
            let message =
                format!("several recipes would do for {rolls}, {}{at}: {names}", clip(&roll.film.title));
            let help = if chosen.is_empty() {
                "say in the backlog which is meant, with a line such as"
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
