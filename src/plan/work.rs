//! Whether two recipes are the same work tonight: the same baths as strong and as warm, moved alike, for
//! as long. How much is poured hangs on the load and has no part in it.

use std::fmt::Write as _;

use crate::compile::{PlannedStep, Schedule};
use crate::model::{StepKind, Time};

/// The work of a schedule: all of it but how long it develops, and that apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Work {
    rest: String,
    developing: Vec<Time>,
}

impl Work {
    /// The work of a compiled evening.
    pub(super) fn of(schedule: &Schedule) -> Work {
        let mut work = Work { rest: String::new(), developing: Vec::new() };
        for (at, step) in schedule.steps.iter().enumerate() {
            let solution = schedule.recipe.steps.get(at).and_then(|step| step.solution());
            let bath = step.bath.as_ref().map(|bath| (&bath.dilution, bath.fate, bath.pours));
            // Writing to a string cannot fail.
            let _ = writeln!(
                work.rest,
                "{:?} {:?} {:?} {bath:?} {:?} {:?} {:?} {:?}",
                step.kind,
                step.name,
                solution.map(|solution| solution.span),
                (step.fill, step.drain, step.handling),
                (step.temperature, step.ending),
                step.light_safe,
                step.light,
            );
            if step.kind == StepKind::Develop {
                work.developing.push(step.duration);
                let scheme = schedule.recipe.steps.get(at).and_then(|step| step.agitation.as_ref());
                let moved = scheme.map(|scheme| &scheme.value);
                let moved = moved.map(|scheme| (&scheme.pulse, scheme.by, scheme.inversion, scheme.knock));
                let _ = writeln!(work.rest, "{moved:?}");
            } else {
                let _ = writeln!(work.rest, "{:?} {}", step.duration, moves(step));
            }
        }
        work
    }

    /// The longest that it develops, all steps together.
    pub(super) fn longest(&self) -> Time {
        self.developing.iter().fold(Time::ZERO, |sum, time| sum + *time)
    }

    /// Whether the two are the same but for developing times that differ by no more than that.
    pub(super) fn is_as(&self, other: &Work, within: Time) -> bool {
        let near = |(one, other): (&Time, &Time)| (one.ms - other.ms).abs() <= within.ms;
        self.rest == other.rest
            && self.developing.len() == other.developing.len()
            && self.developing.iter().zip(&other.developing).all(near)
    }
}

/// What is done in a step, on its own clock.
fn moves(step: &PlannedStep) -> String {
    let mut all = String::new();
    for event in &step.events {
        let at = event.at.ms - step.start.ms;
        let _ = write!(all, "{:?}{at}+{}{:?}{:?} ", event.action, event.length.ms, event.by, event.count);
    }
    all
}
