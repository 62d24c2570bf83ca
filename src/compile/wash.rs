//! R14. Washing in changes or in running water, and how much water the evening takes.

use super::clock::StepClock;
use super::schedule::{Action, Event, PlannedStep};
use super::{EVENTS_MAX, agitation};
use crate::model::{Change, Duration, Flow, Recipe, Scheme, Step, Time, Use, Volume};
use crate::source::Diagnostic;

/// The changes of a wash, one after the other from `pour` on: its actions, and when it is over. A
/// change that is left for a time is moved by the step's scheme, if it has one.
pub(super) fn changes(
    step: &Step,
    changes: &[Change],
    pour: Time,
    (fill, drain): (Time, Time),
    faults: &mut Vec<Diagnostic>,
) -> (Vec<Event>, Time) {
    let scheme = step.agitation.as_ref();
    let inversion = scheme.map_or(Scheme::INVERSION, |scheme| scheme.value.inversion);
    let event = |at, length, action| Event { at, length, action, by: None, count: None };
    let mut events = Vec::new();
    let mut now = pour;
    for change in changes {
        let full = now + fill;
        events.push(event(now, fill, Action::Fill));
        let draining = match change {
            Change::Inversions(count) => {
                let moved = event(full, inversion.times(*count), Action::Agitate);
                events.push(Event { by: Some("inversion"), count: Some(*count), ..moved });
                full + inversion.times(*count)
            }
            Change::Soak(time) => {
                let clock = StepClock {
                    fill,
                    drain,
                    zero: Time::ZERO,
                    draining: fill + *time,
                    empty: fill + *time + drain,
                };
                if let Some(scheme) = scheme {
                    events.extend(agitation::events(&scheme.value, clock, now, scheme.span, faults));
                }
                full + *time
            }
        };
        events.push(event(draining, drain, Action::Dump));
        now = draining + drain;
        if events.len() > EVENTS_MAX {
            break;
        }
    }
    (events, now)
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
