//! What every rule of a compilation looks at: the recipe, its film, the tank and the conditions.

use std::sync::Arc;

use super::tonight::Tonight;
use crate::model::{Bath, Film, Recipe, Shelf, Solution, Tank};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("base-recipe", "a recipe without a film, which cannot be compiled"),
    ("schedule-too-long", "a schedule of more than seven days or 100,000 actions"),
];

/// One evening.
#[derive(Debug, Clone, Copy)]
pub(super) struct Evening<'a> {
    pub(super) shelf: &'a Shelf,
    pub(super) recipe: &'a Recipe,
    pub(super) film: &'a Arc<Film>,
    pub(super) tank: Option<&'a Arc<Tank>>,
    pub(super) conditions: &'a Tonight,
}

impl<'a> Evening<'a> {
    pub(super) fn of(
        shelf: &'a Shelf,
        recipe: &'a Recipe,
        tonight: &'a Tonight,
    ) -> Result<Evening<'a>, Box<Diagnostic>> {
        let Some(film) = &recipe.film else {
            let derived = shelf.family(recipe);
            let names: Vec<&str> =
                derived.iter().filter(|one| one.film.is_some()).map(|one| &*one.name).collect();
            let message = format!("'{}' is a base: it names no film, so there is no card of it", recipe.name);
            let fault = Diagnostic::error("base-recipe", recipe.span, message);
            return Err(Box::new(if names.is_empty() {
                fault.help("derive a recipe from it that says its film: film estuary-400")
            } else {
                fault.help(format!("take one that is derived from it: {}", names.join(", ")))
            }));
        };
        Ok(Evening { shelf, recipe, film: &film.value, tank: tonight.tank.as_ref(), conditions: tonight })
    }

    /// Tonight's film in twelfths of a roll of 80 square inches (R12).
    pub(super) fn twelfths(&self) -> i64 {
        self.conditions
            .rolls
            .iter()
            .map(|rolls| i64::from(rolls.count) * i64::from(rolls.format.twelfths()))
            .sum()
    }

    /// The solutions of the recipe, each once, in the order of the steps.
    pub(super) fn solutions(&self) -> Vec<&'a Arc<Solution>> {
        let mut all: Vec<&Arc<Solution>> = Vec::new();
        let of_steps = self.recipe.steps.iter().filter_map(|step| step.bath.as_ref());
        for solution in of_steps.filter_map(|bath: &Bath| bath.solution.as_ref()) {
            if !all.iter().any(|known| Arc::ptr_eq(known, solution)) {
                all.push(solution);
            }
        }
        all
    }
}

/// A schedule past all measure.
pub(super) fn too_long(span: Span) -> Diagnostic {
    Diagnostic::error(
        "schedule-too-long",
        span,
        "this comes to more than seven days, or to more than 100,000 actions",
    )
    .help("look for a time in the wrong unit, or a period that is too short")
}
