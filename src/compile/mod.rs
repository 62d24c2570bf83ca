//! Compiles a recipe and tonight's conditions to a [`Schedule`]: the arithmetic R1 to R17.
//! It returns a whole schedule or every error.

mod evening;
mod schedule;
mod words;
mod time;
mod load;
mod temperature;
mod bottle;
mod duration;
mod volume;
mod agitation;
mod clock;
mod step;
mod caution;
mod work;

use std::sync::Arc;

use evening::Evening;

use crate::check::CheckedRecipe;
use crate::model::{Film, Recipe, Shelf, Step, StepKind, Temperature, Time, Volume};
use crate::source::{Diagnostic, Level, Span};

pub(crate) use caution::{concern, is_unknown};
pub use evening::{Bottles, Scale, StepTemperature, Tonight, by_index};
pub use schedule::{
    Action, Because, Doubt, Event, MeasuredPart, PlannedBath, PlannedBottle, PlannedStep, Schedule, Slot,
};
pub use time::{at_chart, at_rate, drifting, drifting_at_rate, steepness, whole_degrees};
pub use volume::{measurable, measured};
pub(crate) use words::time as spoken;
pub use work::{EveningWork, digits, fingerprint};

/// The errors of this stage, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] = &[
    evening::FAULTS,
    load::FAULTS,
    temperature::FAULTS,
    duration::FAULTS,
    volume::FAULTS,
    clock::FAULTS,
    agitation::FAULTS,
    bottle::FAULTS,
];

/// The longest schedule.
const LENGTH_MAX: Time = Time::from_seconds(7 * 86_400);
/// The most actions of a schedule.
const EVENTS_MAX: usize = 100_000;

impl CheckedRecipe<'_> {
    /// Compiles the recipe for tonight; the schedule has the warnings that concern it.
    ///
    /// # Errors
    /// Every reason why this recipe, tank and load do not work tonight, in the order of the text.
    pub fn compile(&self, tonight: &Tonight) -> Result<Schedule, Vec<Diagnostic>> {
        let warnings = Doubt::of(&self.checked.findings, &self.checked.shelf, self.recipe);
        compile(&self.checked.shelf, self.recipe, tonight, warnings)
    }
}

/// Compiles a recipe for tonight; `warnings` are the check's, for the card.
///
/// # Errors
/// Every reason why this recipe, tank and load do not work tonight, in the order of the text.
pub fn compile(
    shelf: &Shelf,
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
    mut warnings: Vec<Doubt>,
) -> Result<Schedule, Vec<Diagnostic>> {
    let mut errors = Vec::new();
    let evening = Evening::of(shelf, recipe, tonight).map_err(|error| vec![*error])?;
    let load = load::load(&evening, &mut errors);
    if !errors.is_empty() {
        return Err(errors);
    }
    let volumes = volume::volumes(&evening, &mut errors);
    temperature::check(&evening, &mut errors);
    let mut steps = Vec::new();
    let (mut start, mut events) = (Time::ZERO, 0);
    for (step, volume) in recipe.steps.iter().zip(volumes) {
        let Some(planned) = step::plan(&evening, step, volume, start, &mut errors) else { continue };
        start = planned.end;
        events += planned.events.len();
        steps.push(planned);
        if start > LENGTH_MAX || events > EVENTS_MAX {
            return Err(vec![too_long(recipe.span)]);
        }
    }
    for step in &recipe.steps {
        let own = steps.iter().find(|own| own.is_of(step));
        bottle::check_capacity(&evening, step, own, &mut errors, &mut warnings);
        bottle::check(&evening, step, own, &mut errors, &mut warnings);
    }
    if errors.iter().any(|error| error.level == Level::Error) {
        errors.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
        return Err(errors);
    }
    clock::warn_unknown(&evening, &mut warnings);
    let dry = steps.iter().find(|step| step.kind == StepKind::Dry);
    let (drying, total) = (dry.map(|step| step.duration), dry.map_or(start, |step| step.start));
    Ok(Schedule {
        recipe: Arc::clone(recipe),
        film: Arc::clone(evening.film),
        fingerprint: fingerprint(recipe),
        conditions: tonight.clone(),
        load,
        total,
        drying,
        water: steps.iter().fold(Volume::ZERO, |sum, step| sum + clock::water_of(recipe, step)),
        warnings,
        cautions: caution::cautions(&evening),
        notes: caution::notes(&evening),
        steps,
    })
}

fn too_long(span: Span) -> Diagnostic {
    let message = "this comes to more than seven days, or to more than 100,000 actions";
    Diagnostic::error("schedule-too-long", span, message)
        .help("look for a time in the wrong unit, or a period that is too short")
}

/// How long a step takes at a temperature, without a tank or drift.
/// `None` if the step may not have it, or is a wash in changes, whose time depends on the tank.
pub fn time_at(recipe: &Recipe, step: &Step, at: Temperature) -> Option<Time> {
    with_evening(recipe, at, |evening| {
        let course = temperature::course(evening, step);
        if course.is_some_and(|course| !temperature::is_allowed(step, course)) {
            return None;
        }
        duration::timed(evening, step, course, &mut Vec::new()).map(|timed| timed.time)
    })
}

/// The cautions on the recipe's card with any tank, each once.
pub fn cautions_of(recipe: &Recipe) -> Vec<String> {
    with_evening(recipe, Temperature::celsius_whole(20), caution::cautions)
}

/// Calls a function with an evening that states only its temperature. A base recipe gets a film without a name.
fn with_evening<T>(recipe: &Recipe, at: Temperature, ask: impl FnOnce(&Evening<'_>) -> T) -> T {
    let no_film = || {
        Arc::new(Film {
            name: String::new(),
            title: String::new(),
            span: recipe.span,
            extent: recipe.span,
            grain: None,
            speed: None,
            clears: Vec::new(),
            cautions: Vec::new(),
            notes: Vec::new(),
        })
    };
    let film = recipe.film.as_ref().map_or_else(no_film, |film| Arc::clone(&film.value));
    let (shelf, tonight) = (Shelf::default(), Tonight::new(at, Vec::new()));
    ask(&Evening { shelf: &shelf, recipe, film: &film, tank: None, conditions: &tonight })
}
