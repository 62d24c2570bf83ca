//! What to try with a piece of film before the rolls are loaded.

use super::phrase;
use crate::compile::{PlannedStep, Schedule};
use crate::model::{Material, Step, StepKind, Time};

/// The longest development for which film turns dark in the developer within a minute. A developer for longer times is
/// so weak that a minute proves nothing (common practice, no source).
const LONGEST: Time = Time::from_seconds(20 * 60);

pub(super) const HEADING: &str = "Before you load, in room light";

/// The tests of tonight's developer and fixer that the user has not made yet. Only film needs them: a print is
/// developed in light, where a person sees whether the developer works.
pub(super) fn try_first(schedule: &Schedule) -> Vec<String> {
    if schedule.film.material != Material::Film {
        return Vec::new();
    }
    let dunk = developer(schedule).filter(|_| !schedule.conditions.dunk).map(|step| {
        let called = phrase::called(step);
        format!("{called}: dip a bit of film; dark in a minute, or do not load (--dunk ok)")
    });
    let clip = fixer(schedule).filter(|_| schedule.leader.is_none()).map(|step| {
        let called = phrase::called(step);
        format!("{called}: dip another bit; note when it is clear, as in --clears 1:20")
    });
    dunk.into_iter().chain(clip).collect()
}

/// The developing step, if there is exactly one and it lasts at most [`LONGEST`]. Of several, the first may be a bath
/// in which film does not darken.
fn developer(schedule: &Schedule) -> Option<&PlannedStep> {
    let mut steps = schedule.steps.iter().filter(|step| {
        step.kind == StepKind::Develop && step.bath.as_ref().is_some_and(|bath| bath.dilution.is_some())
    });
    let (only, none) = (steps.next()?, steps.next());
    (none.is_none() && only.duration <= LONGEST).then_some(only)
}

fn fixer(schedule: &Schedule) -> Option<&PlannedStep> {
    let fixes = |step: &Step| matches!(step.kind, StepKind::Fix | StepKind::BleachFix);
    let mut steps = schedule.recipe.steps.iter().zip(&schedule.steps);
    steps.find(|(step, _)| fixes(step) && step.solution().is_some()).map(|(_, planned)| planned)
}
