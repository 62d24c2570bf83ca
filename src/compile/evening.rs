//! The evening that a recipe is compiled for: its conditions, and what every rule of the arithmetic reads.

use std::sync::Arc;

use super::words;
use crate::model::{Bath, Date, Film, Recipe, Rolls, Shelf, Solution, StepKind, Tank, Temperature, Volume};
use crate::source::{Diagnostic, Span};

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("base-recipe", "a recipe without a film, which cannot be compiled"),
    ("schedule-too-long", "a schedule of more than seven days or 100,000 actions"),
    ("no-such-index", "no recipe of this family is for that exposure index"),
    ("index-twice", "two recipes of this family are for that exposure index"),
];

/// Tonight's conditions: what a recipe is compiled for. The caller has checked their ranges.
#[derive(Debug, Clone)]
pub struct Tonight {
    /// The temperature of the baths (`--at`).
    pub temperature: Temperature,
    /// The scale it was given in; the card shows it first.
    pub scale: Scale,
    /// Temperatures for single steps (`--at 37.8C,wash=30C`).
    pub step_temperatures: Vec<StepTemperature>,
    /// The temperature the baths are expected to end at (`--ending`).
    pub ending: Option<Temperature>,
    /// What is in the tank, in the order it was given; never empty.
    pub rolls: Vec<Rolls>,
    /// The tank, where one is known.
    pub tank: Option<Arc<Tank>>,
    /// Labels of the rolls, from the bottom up; there may be fewer labels than rolls.
    pub labels: Vec<String>,
    /// The volume to fill (`--volume`).
    pub volume: Option<Volume>,
    /// The time of day when it starts, in seconds after midnight.
    pub start: Option<u32>,
    /// The bottles to pour from; `None` where none is known.
    pub bottles: Option<Bottles>,
}

impl Tonight {
    /// An evening at this temperature with these rolls, and nothing else stated.
    pub fn new(temperature: Temperature, rolls: Vec<Rolls>) -> Tonight {
        Tonight {
            temperature,
            scale: Scale::Celsius,
            step_temperatures: Vec::new(),
            ending: None,
            rolls,
            tank: None,
            labels: Vec::new(),
            volume: None,
            start: None,
            bottles: None,
        }
    }
}

/// The darkroom's bottles that an evening pours from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bottles {
    /// The day: it decides what they have treated, and whether they still keep.
    pub on: Date,
    /// Their declarations, in the order they were named.
    pub from: Vec<Span>,
    /// Whether an exhausted bottle, or one past keeping, gives a warning instead of an error.
    pub accept_exhausted: bool,
}

/// The temperature of one step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepTemperature {
    /// The kind of step.
    pub kind: StepKind,
    /// Its name, where it has one.
    pub name: Option<String>,
    /// The temperature.
    pub temperature: Temperature,
}

/// A scale of temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// A recipe on one evening.
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
            let message = format!("'{}' is a base recipe: it has no film, so it has no card", recipe.name);
            let error = Diagnostic::error("base-recipe", recipe.span, message);
            return Err(Box::new(if names.is_empty() {
                error.help("derive a recipe that states its film: film estuary-400")
            } else {
                error.help(format!("choose a recipe derived from it: {}", names.join(", ")))
            }));
        };
        Ok(Evening { shelf, recipe, film: &film.value, tank: tonight.tank.as_ref(), conditions: tonight })
    }

    /// Tonight's film in twelfths of a roll of 80 square inches (R12).
    pub(super) fn twelfths(&self) -> i64 {
        let rolls = self.conditions.rolls.iter();
        rolls.map(|rolls| i64::from(rolls.count) * i64::from(rolls.format.twelfths())).sum()
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

    /// A temperature in the evening's scale: `21.5 °C`.
    pub(super) fn degrees(&self, temperature: Temperature) -> String {
        words::temperature(temperature, self.conditions.scale)
    }
}

/// R17. The recipe for that exposure index, among this one and those derived from it; a time never depends on it.
///
/// # Errors
/// No recipe is for it, or two are.
pub fn by_index<'a>(
    shelf: &'a Shelf,
    recipe: &'a Arc<Recipe>,
    index: u32,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let mut family = shelf.family(recipe);
    family.retain(|one| one.film.is_some());
    let of = |one: &Recipe| one.index.map(|index| index.value);
    let fitting: Vec<&Arc<Recipe>> = family.iter().copied().filter(|one| of(one) == Some(index)).collect();
    let list = |recipes: &[&Arc<Recipe>]| {
        let names = recipes.iter().map(|one| match of(one) {
            Some(index) => format!("{} ({index})", one.name),
            None => format!("{} (no index)", one.name),
        });
        names.collect::<Vec<_>>().join(", ")
    };
    Err(Box::new(match fitting.as_slice() {
        [one] => return Ok(one),
        [] => {
            let message = format!("no recipe here is for an exposure index of {index}");
            Diagnostic::error("no-such-index", recipe.span, message)
                .help(format!("choose one of these recipes: {}", list(&family)))
        }
        [first, second, ..] => {
            let message = format!("two recipes here are for an exposure index of {index}");
            Diagnostic::error("index-twice", first.span, message)
                .other(second.span, "the other")
                .help(format!("name one of them: {}", list(&fitting)))
        }
    }))
}
