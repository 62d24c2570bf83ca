//! A recipe and tonight's conditions to a [`Schedule`]: the arithmetic R1 to R17. Either a whole
//! schedule comes back, whose reader computes nothing, or every reason why tonight will not do.

mod tonight;
mod schedule;
mod round;
mod time;
mod steepness;
mod evening;
mod load;
mod temperature;
mod bottle;
mod fixing;
mod duration;
mod volume;
mod clock;
mod agitation;
mod wash;
mod capacity;
mod reasons;
mod step;
mod caution;
mod fingerprint;
mod index;
mod work;
mod words;
mod alone;

use std::sync::Arc;

use evening::Evening;

use crate::check::CheckedRecipe;
use crate::model::{Recipe, Shelf, StepKind, Time, Volume};
use crate::source::{Diagnostic, Level};

pub use alone::{cautions_of, time_at};
pub(crate) use caution::{concern, is_unknown};
pub use fingerprint::{digits, fingerprint};
pub use index::by_index;
pub use schedule::{
    Action, Because, Doubt, Event, MeasuredPart, PlannedBath, PlannedBottle, PlannedStep, Schedule, Slot,
};
pub use steepness::{steepness, whole_degrees};
pub use time::{at_chart, at_rate, drifting, drifting_at_rate};
pub use tonight::{Bottles, Heed, Scale, StepTemperature, Tonight};
pub use volume::{measurable, measured};
pub(crate) use words::time as spoken;
pub use work::EveningWork;

/// The faults that compiling tells, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] = &[
    evening::FAULTS,
    load::FAULTS,
    temperature::FAULTS,
    fixing::FAULTS,
    volume::FAULTS,
    clock::FAULTS,
    agitation::FAULTS,
    capacity::FAULTS,
    bottle::FAULTS,
    index::FAULTS,
];

/// A schedule longer than this is a slip of the pen.
const LENGTH_MAX: Time = Time::from_seconds(7 * 86_400);
/// A schedule with more actions than this is one too.
const EVENTS_MAX: usize = 100_000;

impl CheckedRecipe<'_> {
    /// Compiles the recipe for tonight; the schedule has the warnings that concern it.
    ///
    /// # Errors
    /// Every reason why this recipe, tank and load will not do tonight, in the order of the text.
    pub fn compile(&self, tonight: &Tonight) -> Result<Schedule, Vec<Diagnostic>> {
        let doubts = Doubt::of(&self.checked.findings, &self.checked.shelf, self.recipe);
        compile(&self.checked.shelf, self.recipe, tonight, doubts)
    }
}

/// Compiles a recipe for tonight. `doubts` are what the check had to say of it.
///
/// # Errors
/// Every reason why this recipe, tank and load will not do tonight, in the order of the text.
pub fn compile(
    shelf: &Shelf,
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
    doubts: Vec<Doubt>,
) -> Result<Schedule, Vec<Diagnostic>> {
    let mut faults = Vec::new();
    let evening = Evening::of(shelf, recipe, tonight).map_err(|fault| vec![*fault])?;
    let load = load::load(&evening, &mut faults);
    if !faults.is_empty() {
        return Err(faults);
    }
    let volumes = volume::volumes(&evening, &mut faults);
    temperature::held(&evening, &mut faults);
    let mut doubts = doubts;
    let mut steps = Vec::new();
    let (mut start, mut events) = (Time::ZERO, 0);
    for (step, volume) in recipe.steps.iter().zip(volumes) {
        let Some(planned) = step::plan(&evening, step, volume, start, &mut faults) else { continue };
        start = planned.end;
        events += planned.events.len();
        steps.push(planned);
        if start > LENGTH_MAX || events > EVENTS_MAX {
            return Err(vec![evening::too_long(recipe.span)]);
        }
    }
    for step in &recipe.steps {
        capacity::held(&evening, step, &steps, &mut faults, &mut doubts);
        let own = steps.iter().find(|own| (own.kind, &own.name) == (step.kind, &step.name));
        bottle::held(&evening, step, own, &mut faults, &mut doubts);
    }
    if faults.iter().any(|fault| fault.level == Level::Error) {
        faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
        return Err(faults);
    }
    clock::unknown(&evening, &mut doubts);
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
        water: steps.iter().fold(Volume::ZERO, |sum, step| sum + wash::water_of(recipe, step)),
        warnings: doubts,
        cautions: caution::cautions(&evening),
        notes: caution::notes(&evening),
        steps,
    })
}
