//! The films and recipes that a list can name.

use std::sync::Arc;

use super::cells;
use crate::model::{Film, Recipe, Shelf};
use crate::source::{FileId, Map};

/// The recipes that declared backlogs name, as file and name. A recipe is left out if the list names a recipe (`own`)
/// for the same film.
pub(super) fn named<'a>(
    shelf: &'a Shelf,
    own: &'a [Arc<Recipe>],
) -> impl Iterator<Item = (FileId, String)> + 'a {
    let film = |recipe: &Recipe| recipe.film.as_ref().map(|film| film.value.span);
    let is_free = move |(file, name): &&(FileId, String)| {
        let recipe = shelf.recipe(*file, name);
        recipe.is_none_or(|recipe| own.iter().all(|own| film(own) != film(recipe)))
    };
    shelf.darkroom.backlogs_once().flat_map(|backlog| &backlog.recipes).filter(is_free).cloned()
}

/// The recipes by their names. Recipes in several files may have the same name.
pub(super) fn recipes(shelf: &Shelf) -> Map<String, Vec<Arc<Recipe>>> {
    let mut recipes: Map<String, Vec<Arc<Recipe>>> = Map::new();
    for recipe in &shelf.recipes {
        recipes.value_of(recipe.name.clone()).push(Arc::clone(recipe));
    }
    recipes
}

/// The films that have recipes. The keys are the spellings of their names and titles; several films may share a key.
pub(super) fn films(shelf: &Shelf) -> Map<String, Vec<Arc<Film>>> {
    let mut films: Map<String, Vec<Arc<Film>>> = Map::new();
    for recipe in &shelf.recipes {
        let Some(film) = recipe.film.as_ref().map(|film| &film.value) else { continue };
        for name in [&film.name, &film.title] {
            let known = films.value_of(cells::spelling(name));
            if !known.iter().any(|known| Arc::ptr_eq(known, film)) {
                known.push(Arc::clone(film));
            }
        }
    }
    films
}
