//! Single answers about a recipe, without an evening: how long one step takes at a temperature, and
//! what the card would caution of. They come by the same rules as the card's own.

use std::sync::Arc;

use super::evening::Evening;
use super::tonight::Tonight;
use super::{caution, duration, temperature};
use crate::model::{Film, Recipe, Shelf, Step, Temperature, Time};

/// How long a step takes where the evening is at that temperature; `None` if it may not have it, or
/// if the changes of its wash have no time but a tank's. No tank, no drift.
#[must_use]
pub fn time_at(recipe: &Recipe, step: &Step, at: Temperature) -> Option<Time> {
    with_evening(recipe, at, |evening| {
        let mut faults = Vec::new();
        let course = temperature::course(evening, step);
        if course.is_some_and(|course| !temperature::holds(step, course)) {
            return None;
        }
        duration::reckon(evening, step, course, &mut faults).map(|reckoned| reckoned.time)
    })
}

/// What the recipe's card cautions of, whatever the tank; none twice.
#[must_use]
pub fn cautions_of(recipe: &Recipe) -> Vec<String> {
    with_evening(recipe, Temperature::celsius_whole(20), caution::cautions)
}

/// Asks with an evening that has nothing but its temperature. A base has a film of no name in it.
fn with_evening<T>(recipe: &Recipe, at: Temperature, ask: impl FnOnce(&Evening<'_>) -> T) -> T {
    let film = recipe.film.as_ref().map_or_else(|| no_film(recipe), |film| Arc::clone(&film.value));
    let (shelf, tonight) = (Shelf::default(), Tonight::new(at, Vec::new()));
    ask(&Evening { shelf: &shelf, recipe, film: &film, tank: None, conditions: &tonight })
}

fn no_film(recipe: &Recipe) -> Arc<Film> {
    Arc::new(Film {
        name: String::new(),
        title: String::new(),
        span: recipe.span,
        extent: recipe.span,
        grain: None,
        speed: None,
        clears: Vec::new(),
        sources: Vec::new(),
        cautions: Vec::new(),
        notes: Vec::new(),
    })
}
