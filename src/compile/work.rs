//! The work that a recipe does on one evening. Rolls with the same work may share a tank.

use super::schedule::{Action, Event, PlannedStep, Schedule};
use crate::model::{Fact, Key, Recipe, StepKind, Temperature, Time, Value, Volume};

/// What the steps of a recipe do on one evening. Volumes are not compared.
#[derive(Debug, Clone, PartialEq)]
pub struct EveningWork<'a> {
    steps: Vec<Step<'a>>,
    developing: Vec<Time>,
}

/// What one step does on this evening. The duration of a development is in [`EveningWork`] instead, because it may
/// differ a little.
#[derive(Debug, Clone, PartialEq)]
struct Step<'a> {
    /// The statements of the recipe that are not numbers in the schedule, such as the solution.
    facts: Vec<(Key<'a>, Value<'a>)>,
    /// The duration (0 for a development), then how long filling, draining and handling take.
    times: [Time; 4],
    course: (Option<Temperature>, Option<Temperature>),
    /// How often the bath is poured, and the volume of running water per minute, if any; `None` without a bath.
    pours: Option<(u32, Option<Volume>)>,
    /// The actions, timed from the start of the step. Empty for a development, whose agitation is in `facts`.
    events: Vec<Event>,
}

impl<'a> EveningWork<'a> {
    /// The work of a recipe on one evening. `schedule` is the recipe compiled for this evening.
    pub fn of(recipe: &'a Recipe, schedule: &Schedule) -> EveningWork<'a> {
        let mut facts = recipe.work().into_iter().filter(|fact| fact.step > 0).peekable();
        let steps = (1..).zip(&schedule.steps).map(|(number, planned)| {
            let own = std::iter::from_fn(|| facts.next_if(|fact| fact.step <= number));
            step(planned, own)
        });
        let steps = steps.collect();
        let develops = schedule.steps.iter().filter(|step| step.kind == StepKind::Develop);
        EveningWork { steps, developing: develops.map(|step| step.duration).collect() }
    }

    /// How long all development steps take together.
    pub fn developing(&self) -> Time {
        self.developing.iter().copied().sum()
    }

    /// Whether two recipes do equal work. Their developing times may differ by up to `within`.
    pub fn is_same(&self, other: &EveningWork<'_>, within: Time) -> bool {
        let near = |(one, other): (&Time, &Time)| (one.ms - other.ms).abs() <= within.ms;
        self.steps == other.steps
            && self.developing.len() == other.developing.len()
            && self.developing.iter().zip(&other.developing).all(near)
    }
}

fn step<'a>(planned: &PlannedStep, facts: impl Iterator<Item = Fact<'a>>) -> Step<'a> {
    let develops = planned.kind == StepKind::Develop;
    let counts = |key: Key<'_>| match key {
        Key::Agitation | Key::Motion | Key::Inversion | Key::Knock | Key::Clock => develops,
        // If a person ends the step at a sign, the schedule has no fixed duration, so the stated time counts.
        Key::Time if planned.decision.is_some() => true,
        // The other fields of [`Step`] have the numbers that follow from these statements, so the statements do not
        // count.
        Key::Rate | Key::Clearing | Key::Time | Key::Band | Key::OwnTemperature => false,
        Key::Fill | Key::Drain | Key::Handling => false,
        _ => true,
    };
    // Mixing a bath is work for a later step, not for this one.
    let is_own = |event: &&Event| event.action != Action::Mix;
    let own = |event: &Event| Event { at: event.at - planned.start, ..event.clone() };
    Step {
        facts: facts.filter(|fact| counts(fact.key)).map(|fact| (fact.key, fact.value)).collect(),
        times: [
            if develops { Time::ZERO } else { planned.duration },
            planned.fill,
            planned.drain,
            planned.handling,
        ],
        course: (planned.temperature, planned.ending),
        pours: planned.bath.as_ref().map(|bath| (bath.pours, bath.flow)),
        events: if develops { Vec::new() } else { planned.events.iter().filter(is_own).map(own).collect() },
    }
}
