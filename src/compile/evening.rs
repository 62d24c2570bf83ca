//! Tonight's conditions, for which a recipe is compiled, and the load of the tank (R12).

use std::sync::Arc;

use super::schedule::Slot;
use crate::model::{
    Date, Film, Format, Recipe, Role, Rolls, Shelf, Solution, Step, StepKind, Tank, Temperature, Time,
    Volume, gcd,
};
use crate::source::{Diagnostic, Map, Span};

/// The conditions that a recipe is compiled for. The caller must check that each value is in its range.
#[derive(Debug, Clone, Default)]
pub struct Tonight {
    /// The temperature of the baths (`--at`).
    pub temperature: Temperature,
    /// The scale of temperature that the card shows first.
    pub scale: Scale,
    /// The temperatures of single steps, as in `--at 37.8C,wash=30C`.
    pub step_temperatures: Vec<StepTemperature>,
    /// The temperature at which the baths are expected to end (`--ending`).
    pub ending: Option<Temperature>,
    /// The rolls in the tank, in the order given; never empty.
    pub rolls: Vec<Rolls>,
    /// The tank for the rolls, if known.
    pub tank: Option<Arc<Tank>>,
    /// The labels of the rolls, from the bottom of the tank up; an empty text for a roll without a label. There may be
    /// fewer labels than rolls.
    pub labels: Vec<String>,
    /// The volume to fill into the tank (`--volume`).
    pub volume: Option<Volume>,
    /// The time of day when the work starts, in seconds after midnight.
    pub start: Option<u32>,
    /// The bottles to pour from, if declared bottles are used.
    pub bottles: Option<Bottles>,
    /// Which conditions come from the user's settings, and not from the command line.
    pub usual: Usual,
    /// What the user's settings say for every card, such as the number of the poison centre.
    pub personal: Personal,
    /// The labels of rolls and the names of bottles that are used in spite of objections (`--anyway`).
    pub anyway: Vec<String>,
    /// The time in which a leader, a piece of film, cleared in tonight's fixer (`--clears`).
    pub clears: Option<Time>,
    /// Whether a piece of film turned dark in tonight's developer (`--dunk ok`).
    pub dunk: bool,
}

impl Tonight {
    /// Conditions with only this temperature and these rolls.
    pub fn new(temperature: Temperature, rolls: Vec<Rolls>) -> Tonight {
        Tonight { temperature, rolls, ..Tonight::default() }
    }

    /// Whether `--anyway` names this label or bottle.
    pub fn takes_anyway(&self, name: &str) -> bool {
        self.anyway.iter().any(|own| own == name)
    }
}

/// What the user's settings say for every card, apart from the conditions of an evening.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Personal {
    /// The telephone number of the poison centre.
    pub poison: Option<String>,
    /// The number or the name of the waste can for each kind of solution.
    pub cans: Map<Role, String>,
    /// The address of the user's site, to which a card has a link.
    pub site: Option<String>,
}

/// Which conditions come from the user's settings; the card marks them with `(usual)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Usual {
    /// Whether the tank comes from the settings.
    pub tank: bool,
    /// Whether the scale of a temperature without a unit comes from the settings.
    pub scale: bool,
    /// The name of the paper size in the settings, if the card uses it.
    pub paper: Option<&'static str>,
}

/// The declared bottles to pour from on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bottles {
    /// The day for which a bath's age and the film that the bath has treated are counted.
    pub on: Date,
    /// The spans of the bottles' declarations, in the order of `--bath`.
    pub from: Vec<Span>,
    /// The bottles for baths with a name, as in `--bath one=fix-a`: the name of the bath, and the span of the bottle's
    /// declaration.
    pub named: Vec<(String, Span)>,
}

/// The temperature that `--at` gives for one step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepTemperature {
    /// The kind of the step.
    pub kind: StepKind,
    /// The name of the step, if given.
    pub name: Option<String>,
    /// The temperature of the bath in this step.
    pub temperature: Temperature,
}

/// The scale in which temperatures are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Scale {
    /// The scale in degrees Celsius.
    #[default]
    Celsius,
    /// The scale in degrees Fahrenheit.
    Fahrenheit,
}

impl Scale {
    /// The letter after the degree sign.
    pub fn letter(self) -> char {
        match self {
            Scale::Celsius => 'C',
            Scale::Fahrenheit => 'F',
        }
    }
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Evening<'a> {
    pub(super) shelf: &'a Shelf,
    pub(super) recipe: &'a Recipe,
    pub(super) film: &'a Arc<Film>,
    pub(super) tonight: &'a Tonight,
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
            let message =
                format!("'{}' is a base recipe without a film, so there is no card for it", recipe.name);
            let error = Diagnostic::error("base-recipe", recipe.span, message);
            return Err(Box::new(match names.as_slice() {
                [] => for_a_film(error, shelf, recipe),
                names => error.help(format!("choose a recipe derived from it: {}", names.join(", "))),
            }));
        };
        Ok(Evening { shelf, recipe, film, tonight })
    }

    pub(super) fn tank(&self) -> Option<&'a Tank> {
        self.tonight.tank.as_deref()
    }

    /// The area of tonight's film, each coated side counted. Its unit is that of [`Format::ROLL`], a roll of 80 square
    /// inches (rule R12).
    pub(super) fn area(&self) -> i64 {
        let rolls = self.tonight.rolls.iter();
        let one_side = rolls.map(|rolls| i64::from(rolls.count).saturating_mul(rolls.format.area()));
        one_side.fold(0, i64::saturating_add).saturating_mul(self.film.sides())
    }

    /// The solutions of the recipe, each once, in the order of the steps.
    pub(super) fn solutions(&self) -> Vec<&'a Arc<Solution>> {
        let mut all: Vec<&Arc<Solution>> = Vec::new();
        for solution in self.recipe.steps.iter().flat_map(Step::solutions) {
            if !all.iter().any(|known| Arc::ptr_eq(known, solution)) {
                all.push(solution);
            }
        }
        all
    }

    /// A temperature in tonight's scale: `21.5 °C`.
    pub(super) fn degrees(&self, temperature: Temperature) -> String {
        match self.tonight.scale {
            Scale::Celsius => format!("{} °C", temperature.in_celsius(2)),
            Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(2)),
        }
    }

    /// The slots of the tank from the bottom up, with the rolls in the order given.
    pub(super) fn load(&self, errors: &mut Vec<Diagnostic>) -> Vec<Slot> {
        if let Some(tank) = self.tank() {
            check_load(tank, &self.tonight.rolls, errors);
        }
        let rolls = self.tonight.rolls.iter();
        let formats = rolls.flat_map(|rolls| std::iter::repeat_n(rolls.format, rolls.count as usize));
        let mut labels = self.tonight.labels.iter().cloned();
        let mut label = || labels.next().filter(|label| !label.is_empty());
        (1..).zip(formats).map(|(slot, format)| Slot { slot, label: label(), format }).collect()
    }
}

/// Checks that the rolls fit into the tank. Each format takes up a fraction of the tank: its rolls, divided by the most
/// rolls of this format that fit. The fractions must add up to at most 1.
fn check_load(tank: &Tank, rolls: &[Rolls], errors: &mut Vec<Diagnostic>) {
    let mut shares: Vec<(u64, u64)> = Vec::new();
    for rolls in rolls {
        if let Some(reels) = tank.reels_for(rolls.format) {
            shares.push((rolls.count.into(), reels.most.into()));
            continue;
        }
        let message = format!("'{}' has no reels for {}", tank.name, rolls.format);
        errors.push(
            Diagnostic::error("format-does-not-fit", tank.span, message)
                .help(format!("the tank takes {}; name another tank with --tank", tank.formats())),
        );
    }
    let lcm = |one: u64, other: &(u64, u64)| (one / gcd(one, other.1).max(1)).saturating_mul(other.1).max(1);
    let whole = shares.iter().fold(1, lcm);
    if shares.iter().map(|(count, most)| count * (whole / most)).sum::<u64>() <= whole {
        return;
    }
    let words = |count: u32, format: Format| format!("{count} of {format}");
    let loaded: Vec<String> = rolls.iter().map(|rolls| words(rolls.count, rolls.format)).collect();
    let takes: Vec<String> = tank.reels.iter().map(|reels| words(reels.most, reels.format)).collect();
    let rooms: Vec<String> = match rolls {
        [first, second] => {
            let both = [(first, second), (second, first)];
            both.iter().filter_map(|(rolls, other)| room_beside(tank, rolls, other.format)).collect()
        }
        [_, _, ..] => vec!["of several formats at once, it takes fewer of each".to_owned()],
        _ => vec![],
    };
    let mixture: Vec<String> = rooms.into_iter().map(|room| format!("; {room}")).collect();
    let message = format!("{} do not fit into '{}'", loaded.join(" and "), tank.name);
    errors.push(Diagnostic::error("load-does-not-fit", tank.span, message).help(format!(
        "the tank takes {}{}; load fewer rolls, or name another tank with --tank",
        takes.join(", or "),
        mixture.concat()
    )));
}

/// The error for a base recipe from which no recipe for a film is derived, with what to write.
fn for_a_film(error: Diagnostic, shelf: &Shelf, base: &Recipe) -> Diagnostic {
    let name = &base.name;
    let mut films = shelf.films.iter().map(|(_, film)| film);
    let known = films.find(|film| base.any.is_none_or(|any| any == film.material));
    let word = base.any.or(known.map(|film| film.material)).unwrap_or_default().word();
    let line = format!("{word} {}", known.map_or("NAME", |film| &film.name));
    let error = if known.is_some() { error } else { error.help(format!("declare the {word}: {line} {{")) };
    let derived = format!("recipe NAME from {name} {{");
    match base.any {
        None => error.help(format!("add a line to '{name}', such as: {line}")).help(format!(
            "or, if '{name}' is for several {word}s, write a recipe for each, with such a line: {derived}"
        )),
        Some(_) => error.help(format!("write a recipe with the line '{line}': {derived}")),
    }
}

/// How many rolls of another format fit beside these rolls, in words; `None` if these rolls alone do not fit.
fn room_beside(tank: &Tank, rolls: &Rolls, other: Format) -> Option<String> {
    let (own, others) = (tank.reels_for(rolls.format)?.most, tank.reels_for(other)?.most);
    let left = u64::from(own.checked_sub(rolls.count)?);
    let room = left * u64::from(others) / u64::from(own.max(1));
    let (count, format) = (rolls.count, rolls.format);
    let room = if room == 0 { "none".to_owned() } else { room.to_string() };
    Some(format!("beside {count} of {format} there is room for {room} of {other}"))
}

/// The recipe for this exposure index: `recipe` or one derived from it (rule R17).
///
/// # Errors
/// No recipe or more than one is for this index.
pub fn by_index<'a>(
    shelf: &'a Shelf,
    recipe: &'a Arc<Recipe>,
    index: u32,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let mut family = shelf.family(recipe);
    family.retain(|one| one.film.is_some());
    let of = |one: &Recipe| one.index.map(|index| *index);
    let mut fitting: Vec<&Arc<Recipe>> =
        family.iter().copied().filter(|one| of(one) == Some(index)).collect();
    if fitting.iter().any(|one| one.deprecated.is_none()) {
        fitting.retain(|one| one.deprecated.is_none());
    }
    let list = |recipes: &[&Arc<Recipe>]| {
        let names = recipes.iter().map(|one| match of(one) {
            Some(index) => format!("{} ({index})", one.name),
            None => format!("{} (no index)", one.name),
        });
        names.collect::<Vec<_>>().join(", ")
    };
    let message = |number: &str| format!("{number} for an exposure index of {index}");
    Err(Box::new(match fitting.as_slice() {
        [one] => return Ok(one),
        [] => {
            let help =
                format!("write a recipe with the time that you tested for it, and the line: index {index}");
            let error =
                Diagnostic::error("no-such-index", recipe.span, message("no recipe here is")).help(help);
            let others = "or leave out the index, and name the recipe for how the film was exposed";
            if family.is_empty() { error } else { error.help(format!("{others}: {}", list(&family))) }
        }
        [first, second, ..] => Diagnostic::error("index-twice", first.span, message("two recipes here are"))
            .other(second.span, "the second recipe")
            .help(format!("leave out the index, and name the recipe that you mean: {}", list(&fitting))),
    }))
}
