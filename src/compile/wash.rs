//! R14. Washing in changes or in running water, and how much water the evening takes.

use super::schedule::{Action, Event, PlannedStep};
use crate::model::{Change, Duration, Flow, Recipe, Scheme, Step, Time, Use, Volume};

/// The changes of a wash, one after the other from `pour` on: its actions, and when it is over.
pub(super) fn changes(changes: &[Change], inversion: Time, pour: Time, (fill, drain): (Time, Time)) -> (Vec<Event>, Time) {
    let mut events = Vec::new();
    let mut now = pour;
    for change in changes {
        push(&mut events, &mut now, fill, Action::Fill, None);
        match change {
            Change::Inversions(count) => {
                push(&mut events, &mut now, inversion.times(*count), Action::Agitate, Some(*count));
            }
            Change::Soak(time) => now = now + *time,
        }
        push(&mut events, &mut now, drain, Action::Dump, None);
    }
    (events, now)
}

fn push(events: &mut Vec<Event>, now: &mut Time, length: Time, action: Action, count: Option<u32>) {
    let by = count.map(|_| "inversion");
    events.push(Event { at: *now, length, action, by, count });
    *now = *now + length;
}

/// How long an inversion of a wash takes.
pub(super) fn inversion(step: &Step) -> Time {
    step.agitation.as_ref().map_or(Scheme::INVERSION, |scheme| scheme.value.inversion)
}

/// Water that runs for a time, and the volume that stands in the tank.
pub(super) fn running(flow: Flow, time: Time) -> Volume {
    flow.per_minute.scaled(time.ms, 60_000)
}

/// The water that a step takes tonight: what is mixed into a bath that is not kept, and what washes.
pub(super) fn water_of(recipe: &Recipe, planned: &PlannedStep) -> Volume {
    let Some(bath) = &planned.bath else { return Volume::ZERO };
    let written = recipe.steps.iter().find(|step| (step.kind, &step.name) == (planned.kind, &planned.name));
    let kept = matches!(bath.fate, Some(Use::Reused | Use::Replenished));
    let standing = if kept { Volume::ZERO } else { bath.water.scaled(i64::from(bath.pours), 1) };
    match written.map(|step| &step.duration.value) {
        Some(Duration::Flow { flow, time }) => running(*flow, *time) + standing,
        Some(
            Duration::Chart(_)
            | Duration::Plain { .. }
            | Duration::Clearing { .. }
            | Duration::EachSide(_)
            | Duration::Changes(_),
        )
        | None => standing,
    }
}
