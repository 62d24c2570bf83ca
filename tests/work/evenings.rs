//! Three evenings, as far as a person does anything by them: no word of a title, a note or a reason.

use std::sync::Arc;

use wetside::compile::{
    Action, Bottles, Decision, Event, Personal, PlannedBath, PlannedStep, Schedule, compile,
};
use wetside::measure::{Asked, Line, Weighing, Work, measure};
use wetside::model::{
    Dilution, Format, Lighting, Mass, Recipe, Solution, StepKind, Temperature, Time, Use, Volume,
};

use crate::kitchen::{Kitchen, celsius, evening};

/// What is done on an evening.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Evening {
    film: String,
    total: Time,
    drying: Option<Time>,
    water: Volume,
    steps: Vec<Step>,
}

/// What is done in a step.
#[derive(Debug, Clone, PartialEq)]
struct Step {
    kind: StepKind,
    bath: Option<Bath>,
    /// Start, duration, fill, drain, handling, end.
    times: [Time; 6],
    temperatures: [Option<Temperature>; 2],
    events: Vec<Event>,
    lighting: Option<Lighting>,
    light: Option<String>,
    decision: Option<Decision>,
}

/// What a step happens in.
#[derive(Debug, Clone, PartialEq)]
struct Bath {
    /// What its solution is: made so, or bought by that name.
    made: Result<Vec<Vec<Line>>, String>,
    dilution: Option<Dilution>,
    part: Option<String>,
    /// The first step with the same bath, and with the bath whose place this one takes; the step that left it.
    places: [Option<usize>; 3],
    reuse: Option<Use>,
    /// Volume, water, and what is measured out of each bottle.
    volumes: Vec<Volume>,
    pours: u32,
    flow: Option<Volume>,
    replenish: Option<Volume>,
    replenisher: Option<String>,
}

/// The evenings of a text's last recipe; `None` where one is refused.
pub(super) fn evenings(kitchen: &Kitchen) -> [Option<Evening>; 3] {
    let recipe = kitchen.shelf.recipes.iter().rfind(|recipe| recipe.film.is_some());
    schedules(kitchen).map(|schedule| {
        let (schedule, recipe) = schedule.zip(recipe)?;
        Some(Evening {
            film: schedule.film.name.clone(),
            total: schedule.total,
            drying: schedule.drying,
            water: schedule.water,
            steps: steps(recipe, &schedule),
        })
    })
}

/// The schedules of these evenings.
pub(crate) fn schedules(kitchen: &Kitchen) -> [Option<Schedule>; 3] {
    let own = |at: &str, ending: Option<&str>, rolls: (u32, Format)| {
        let recipe = kitchen.shelf.recipes.iter().rfind(|recipe| recipe.film.is_some())?;
        let mut tonight = evening(celsius(at), &[rolls]);
        tonight.ending = ending.map(celsius);
        let from = kitchen.shelf.darkroom.bottles().map(|bottle| bottle.span).collect();
        let on = "2026-11-20".parse().unwrap();
        tonight.bottles = Some(Bottles { on, from, named: Vec::new() });
        tonight.anyway = kitchen.shelf.darkroom.bottles().map(|bottle| bottle.name.clone()).collect();
        tonight.tank = kitchen.tank().cloned();
        compile(&kitchen.shelf, recipe, &tonight, Vec::new()).ok()
    };
    [
        own("20.5", None, (1, Format::F120)),
        own("22", Some("21"), (2, Format::F120)),
        own("19", None, (2, Format::F135)),
    ]
}

fn steps(recipe: &Arc<Recipe>, schedule: &Schedule) -> Vec<Step> {
    let recipe = recipe.written_out();
    let written = recipe.steps.iter().map(|step| step.solution().map(|solution| &**solution));
    let of = |step: &PlannedStep, solution| Step { bath: bath(schedule, step, solution), ..self::step(step) };
    schedule.steps.iter().zip(written).map(|(step, solution)| of(step, solution)).collect()
}

fn bath(schedule: &Schedule, step: &PlannedStep, solution: Option<&Solution>) -> Option<Bath> {
    let bath = step.bath.as_ref()?;
    let first = |name: &Option<String>| {
        let is_it = |other: &PlannedBath| other.solution == bath.solution && other.name == *name;
        schedule.steps.iter().position(|step| step.bath.as_ref().is_some_and(is_it))
    };
    let parts = bath.parts.iter().map(|part| part.volume);
    Some(Bath {
        made: solution.and_then(made).ok_or_else(|| bath.solution.clone()),
        dilution: bath.dilution.clone(),
        part: bath.part.clone(),
        places: [first(&bath.name), bath.becomes.as_ref().and_then(|_| first(&bath.becomes)), bath.used],
        reuse: bath.reuse,
        volumes: [bath.volume, bath.water].into_iter().chain(parts).collect(),
        pours: bath.pours,
        flow: bath.flow,
        replenish: bath.replenish,
        replenisher: bath.replenisher.as_ref().map(|with| with.name.clone()),
    })
}

fn step(step: &PlannedStep) -> Step {
    Step {
        kind: step.kind,
        bath: None,
        times: [step.start, step.duration, step.fill, step.drain, step.handling, step.end],
        temperatures: [step.temperature, step.ending],
        // When a bath is mixed depends on how long it keeps, which is no work.
        events: step.events.iter().filter(|event| event.action != Action::Mix).cloned().collect(),
        lighting: step.lighting.clone(),
        light: step.light.clone(),
        decision: step.decision.clone(),
    }
}

/// What a litre of each bottle is weighed from, in the order of the bottles; `None` for a bought solution.
fn made(solution: &Solution) -> Option<Vec<Vec<Line>>> {
    let finest = Weighing { step: Mass { pg: 1_000_000 }, had: Vec::new(), taps: None };
    let asked = Asked::Weighing(finest);
    let solution = std::sync::Arc::new(solution.clone());
    let sheet = measure(&solution, Volume::from_ml(1000), &asked, &Personal::default()).ok()?;
    let Work::Weigh(mut bottles, _) = sheet.work else { return None };
    bottles.sort_by_key(|bottle| solution.parts.iter().position(|part| Some(part) == bottle.part.as_ref()));
    Some(bottles.into_iter().map(|bottle| bottle.lines).collect())
}
