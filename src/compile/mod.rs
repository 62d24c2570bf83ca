//! Compiles a recipe and tonight's conditions to a [`Schedule`] by the reference's rules of arithmetic (R1 and on), or
//! returns every error.

mod evening;
mod bath;
mod schedule;
mod words;
mod time;
mod temperature;
mod bottle;
mod doubt;
mod duration;
mod life;
mod light;
mod legs;
mod trial;
mod volume;
mod wash;
mod agitation;
mod clock;
mod step;
mod reread;
mod pace;
mod apart;
mod said;
mod safety;
mod caution;
mod label;
mod work;
pub(crate) mod asked;

use std::sync::Arc;

use evening::Evening;
use schedule::Notices;

use crate::check::CheckedRecipe;
use crate::model::{Duration, Film, Fingerprint, Recipe, Shelf, Step, StepKind, Temperature, Time, Volume};
use crate::source::{Diagnostic, Level, Span};

pub use bath::{Added, MeasuredPart, PlannedBath, PlannedBottle};
pub use bottle::{Objection, objections};
pub(crate) use caution::{Opened, aid, cautions_with, concern};
pub use doubt::{Cause, Doubt};
pub use duration::Leader;
pub use evening::{Bottles, Personal, Scale, StepTemperature, Tonight, Usual, by_index};
pub use label::Label;
pub use legs::{Decision, Leg};
pub use pace::{Knot, Pace};
pub use reread::{Reading, Reread};
pub use safety::{SAFETY_FIRST, SAFETY_HEADING, SafetyLine, Saying, safety_of};
pub(crate) use safety::{Scene, safety};
pub use schedule::{Action, Because, Event, Light, PlannedStep, Schedule, Slot, Warning};
pub use temperature::wanted;
pub use time::{at_chart, at_rate, drifting, drifting_at_rate, whole_degrees};
pub use trial::Rests;
pub use volume::{measurable, measured};
pub(crate) use words::{rolls as spoken_rolls, time as spoken, volume as spoken_volume};
pub use work::EveningWork;

/// The errors that [`compile`] can report: the name of each error, and its cause.
pub const ERRORS: &[&[(&str, &str)]] = &[&[
    ("base-recipe", "a recipe without a film"),
    ("schedule-too-long", "more than seven days or 100,000 actions"),
    ("no-such-index", "no recipe for that exposure index"),
    ("index-twice", "two recipes for that exposure index"),
    ("format-does-not-fit", "a format that the tank has no reels for"),
    ("load-does-not-fit", "more rolls than the tank has reels for"),
    ("outside-chart", "a temperature outside the chart"),
    ("outside-band", "a temperature at which development, colour or bleach-fix cannot be done"),
    ("bath-too-cold-to-clear", "a fixer more than 2 °C colder than its clearing time was measured at"),
    ("volume-past-measure", "a bath of more than 1000 l"),
    ("tank-too-small", "a bath larger than the tank"),
    ("volume-not-known", "no statement of the volume to fill"),
    ("volume-too-small", "a --volume that does not cover the reels"),
    ("no-time-left", "a step shorter than filling and draining"),
    ("too-many-actions", "more than 50,000 agitations in a step"),
    ("coat-not-known", "a coat in a solution that does not say how much a roll needs"),
    ("light-before-clear", "light on the film before the fixer has cleared it"),
    ("bath-over-capacity", "more film than a bath can treat"),
    ("bath-dies-in-use", "a bath whose working life ends before its step"),
    ("bottle-not-there", "a bottle not yet mixed on the day, or poured away"),
    ("bottle-state-unknown", "a bottle whose sessions or tests have errors"),
    ("bottle-exhausted", "a bath that has treated its capacity, or clears in twice the fresh time"),
    ("bottle-past-keeping", "a bath older than it keeps"),
    ("bottle-too-small", "a bottle with less than the load needs"),
]];

const DAY: Time = Time::from_seconds(86_400);
const LENGTH_MAX: Time = Time::from_seconds(7 * 86_400);
const EVENTS_MAX: usize = 100_000;

impl CheckedRecipe<'_> {
    /// Compiles the recipe for tonight's conditions. The schedule also has the warnings about the recipe that the check
    /// of its file found.
    ///
    /// # Errors
    /// Every reason why the recipe cannot be used tonight, in the order of the lines of the file.
    pub fn compile(&self, tonight: &Tonight) -> Result<Schedule, Vec<Diagnostic>> {
        let warnings = Warning::of(&self.checked.findings, &self.checked.shelf, self.recipe);
        compile(&self.checked.shelf, self.recipe, tonight, warnings)
    }
}

/// Compiles a recipe for tonight's conditions. The schedule also has `warnings`, which come from the check of its file.
///
/// # Errors
/// Every reason why the recipe cannot be used tonight, in the order of the lines of the file.
pub fn compile(
    shelf: &Shelf,
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
    warnings: Vec<Warning>,
) -> Result<Schedule, Vec<Diagnostic>> {
    let (mut errors, mut notices) = (Vec::new(), Notices { warnings, advice: Vec::new() });
    let (once, recipe) = (recipe, &recipe.written_out());
    let evening = Evening::of(shelf, recipe, tonight).map_err(|error| vec![*error])?;
    let load = evening.load(&mut errors);
    if !errors.is_empty() {
        return Err(errors);
    }
    let volumes = evening.volumes(&mut errors, &mut notices);
    evening.check_temperatures(&mut errors, &mut notices.warnings);
    let mut steps: Vec<PlannedStep> = Vec::new();
    let (mut start, mut actions, mut water) = (Time::ZERO, 0, Volume::ZERO);
    for (step, volume) in recipe.steps.iter().zip(volumes) {
        let planned = evening.plan(step, volume, start, &mut errors);
        let poured = planned.as_ref().and_then(|planned| Some(planned.bath.as_ref()?.volume));
        evening.check_bottle(step, poured, &mut errors, &mut notices);
        let Some(planned) = planned else { continue };
        start = planned.end;
        actions += planned.events.len();
        water = water + clock::water_of(step, &planned);
        steps.push(planned);
        if start > LENGTH_MAX || actions > EVENTS_MAX {
            return Err(vec![too_long(recipe, &steps)]);
        }
    }
    let mut light = None;
    if steps.len() == recipe.steps.len() {
        evening.mix_in_time(&mut steps, &mut errors);
        light = evening.light(&mut steps, &mut errors);
    }
    if errors.iter().any(|error| error.level == Level::Error) {
        Diagnostic::sort(&mut errors);
        return Err(errors);
    }
    evening.warn_of_steps(&steps, &mut notices);
    let concerns = evening.concerns();
    let last_safety = evening.last_safety(&concerns);
    let least_water = legs::least_water(&steps, water);
    let dry = steps.iter().find(|step| step.kind == StepKind::Dry);
    Ok(Schedule {
        recipe: Arc::clone(recipe),
        film: Arc::clone(evening.film),
        fingerprint: Fingerprint::of(once),
        conditions: tonight.clone(),
        load,
        total: dry.map_or(start, |step| step.start + step.handling),
        legs: legs::legs(&steps),
        light,
        drying: dry.map(|step| step.duration),
        water,
        least_water,
        warnings: notices.warnings,
        advice: notices.advice,
        leader: evening.leader(),
        cautions: evening.cautions(&concerns),
        first_aid: aid(&concerns, &tonight.personal),
        concerns,
        last_safety,
        notes: evening.notes(),
        steps,
    })
}

impl Evening<'_> {
    fn warn_of_steps(&self, steps: &[PlannedStep], notices: &mut Notices) {
        self.warn_of_jumps(steps, notices);
        self.warn_unknown_times(notices);
        self.warn_of_few_changes(steps, notices);
        self.warn_of_motions(notices);
        self.advise_of_trials(notices);
        self.advise_of_doubt(steps, notices);
        if let Some(deprecated) = &self.recipe.deprecated {
            notices.advise("deprecated-recipe", format!("this recipe is deprecated: {}", ***deprecated));
        }
    }
}

/// The error for a recipe that takes too long, at the steps that take more than a day, or that has too many actions, at
/// the step with most of them.
fn too_long(recipe: &Recipe, planned: &[PlannedStep]) -> Diagnostic {
    let of =
        |one: &PlannedStep| recipe.steps.iter().find(|step| step.kind == one.kind && step.name == one.name);
    if planned.last().is_none_or(|last| last.end <= LENGTH_MAX) {
        let most = planned.iter().max_by_key(|one| one.events.len()).and_then(of);
        let span =
            most.map_or(recipe.span, |step| step.agitation.as_ref().map_or(step.span, |scheme| scheme.span));
        return Diagnostic::error("schedule-too-long", span, "the recipe has more than 100,000 actions")
            .help("check the times of its steps and their units, or agitate less often");
    }
    let mut long: Vec<(Span, String)> = Vec::new();
    for (step, time) in planned.iter().filter_map(|one| Some((of(one)?, one.duration))) {
        let span = step.duration.span;
        if time > DAY && long.iter().all(|(known, _)| *known != span) {
            long.push((span, words::time(time)));
        }
    }
    let message = "the recipe takes more than seven days, the most that it may take";
    let mut long = long.into_iter();
    let (span, label) = long.next().unwrap_or((recipe.span, String::new()));
    let error = Diagnostic::error("schedule-too-long", span, message).label(label);
    long.fold(error, |error, (span, label)| error.other(span, label))
        .help("check the times of its steps and their units")
}

/// Whether tonight's rolls fit into the tank, and newly mixed baths suffice: each bath covers the rolls, contains as
/// much solution as they need, and has the capacity for them. A single roll may also get baths that contain too little
/// solution for it.
pub fn treats(shelf: &Shelf, recipe: &Arc<Recipe>, tonight: &Tonight) -> bool {
    let Ok(evening) = Evening::of(shelf, recipe, tonight) else { return false };
    let (mut errors, mut notices) = (Vec::new(), Notices::default());
    let rolls = evening.load(&mut errors).len();
    let volumes = evening.volumes(&mut errors, &mut notices);
    let is_starved = !notices.warnings.is_empty() || !notices.advice.is_empty();
    for (step, filling) in recipe.steps.iter().zip(volumes) {
        if let Some((bath, filling)) = step.bath.as_ref().zip(filling) {
            evening.check_capacity(bath, (filling.volume, None), &mut errors, &mut notices);
        }
    }
    errors.is_empty() && (rolls == 1 || !is_starved)
}

/// The volume of tonight's largest bath, and the times to fill and to drain the tank, if the tank states them. `None`
/// if no tank is named, or if the tank does not suit the rolls or the agitation.
pub fn suits(
    shelf: &Shelf,
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
) -> Option<(Volume, Option<Time>, Option<Time>)> {
    let evening = Evening::of(shelf, recipe, tonight).ok()?;
    let tank = evening.tank()?;
    let mut errors = Vec::new();
    evening.load(&mut errors);
    let volumes = evening.volumes(&mut errors, &mut Notices::default());
    let moves = |step: &Step| {
        let scheme = step.agitation.as_ref();
        let is_rotary = scheme.is_some_and(|scheme| scheme.is_rotary());
        let needs_a_lid = scheme.is_some_and(|scheme| scheme.needs_a_lid());
        !(is_rotary && tank.rotary.is_none() || needs_a_lid && tank.transfer.is_some())
    };
    if !errors.is_empty() || !recipe.steps.iter().all(moves) {
        return None;
    }
    let largest = volumes.iter().flatten().map(|filling| filling.volume).max()?;
    Some((largest, tank.fill.map(|fill| *fill), tank.drain.map(|drain| *drain)))
}

/// How long a step takes if its bath stays at the temperature `at`. `None` if the step cannot be done at `at`, if the
/// recipe states no time, if a person ends the step, or if the step is a wash in changes of water, whose time depends
/// on the tank.
pub fn time_at(recipe: &Recipe, step: &Step, at: Temperature) -> Option<Time> {
    if matches!(*step.duration, Duration::Sign(_)) {
        return None;
    }
    with_evening(recipe, at, |evening| {
        let course = evening.course(step);
        if course.is_some_and(|course| !temperature::is_possible(step, course, false)) {
            return None;
        }
        evening.timed(step, course, &mut Vec::new()).map(|timed| timed.time)
    })
}

/// The cautions on the card of a recipe that do not depend on the tank, each text once.
pub fn cautions_of(recipe: &Recipe) -> Vec<String> {
    with_evening(recipe, Temperature::celsius_whole(20), |evening| evening.cautions(&evening.concerns()))
}

/// Calls `f` with an evening of this recipe at the temperature `at`, without a tank and rolls. A base recipe, which has
/// no film, gets an empty film.
fn with_evening<T>(recipe: &Recipe, at: Temperature, f: impl FnOnce(&Evening<'_>) -> T) -> T {
    let no_film = || Arc::new(Film { span: recipe.span, extent: recipe.span, ..Film::default() });
    let film = recipe.film.as_ref().map_or_else(no_film, |film| Arc::clone(film));
    let (shelf, tonight) = (Shelf::default(), Tonight::new(at, Vec::new()));
    f(&Evening { shelf: &shelf, recipe, film: &film, tonight: &tonight })
}
