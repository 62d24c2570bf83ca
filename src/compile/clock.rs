//! R6, R14. When a step's tank is full, when it drains, when it is empty; washes, and the evening's water.

use super::evening::Evening;
use super::schedule::{Action, Because, Doubt, Event, PlannedStep};
use super::{EVENTS_MAX, agitation};
use crate::model::{Change, Clock, Duration, Flow, Recipe, Scheme, Stated, Step, Time, Use, Volume};
use crate::source::{Diagnostic, Span};

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("no-time-left", "a step shorter than the tank takes to fill and to drain")];

/// A step's clock: times from its pour on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct StepClock {
    /// How long the pour takes.
    pub(super) fill: Time,
    /// How long draining takes.
    pub(super) drain: Time,
    /// When the step's own clock shows 0.
    pub(super) zero: Time,
    /// When draining starts.
    pub(super) draining: Time,
    /// When the tank is empty.
    pub(super) empty: Time,
}

/// The times to fill and to drain, with what states them: the step, else the tank, else nothing.
pub(super) struct FillAndDrain {
    pub(super) fill: Time,
    pub(super) drain: Time,
    /// Where they are stated.
    pub(super) spans: Vec<Span>,
    /// Where each is from, for a card.
    pub(super) because: [Because; 2],
    /// Whether both are stated.
    is_known: bool,
}

pub(super) fn fill_and_drain(evening: &Evening<'_>, step: &Step) -> FillAndDrain {
    let because = |of, own: Option<Stated<Time>>, tank: Option<Stated<Time>>| {
        let text = match (own, tank) {
            (Some(_), _) => "as the step says",
            (None, Some(_)) => "as the tank says",
            (None, None) => "nothing says how long it takes: counted as 0:00",
        };
        let spans = own.or(tank).map(|stated| stated.span).into_iter().collect();
        Because::new(of, "R6", text.to_owned(), spans)
    };
    let (of_tank, tank_drains) =
        (evening.tank.and_then(|tank| tank.fill), evening.tank.and_then(|tank| tank.drain));
    let (fill, drain) = (step.fill.or(of_tank), step.drain.or(tank_drains));
    let time = |stated: Option<Stated<Time>>| stated.map_or(Time::ZERO, |stated| stated.value);
    FillAndDrain {
        fill: time(fill),
        drain: time(drain),
        spans: [fill, drain].into_iter().flatten().map(|stated| stated.span).collect(),
        because: [because("/fill_ms", step.fill, of_tank), because("/drain_ms", step.drain, tank_drains)],
        is_known: fill.is_some() && drain.is_some(),
    }
}

/// The clock of a step of that duration; `None` if no time is left between filling and draining.
pub(super) fn lay_out(
    evening: &Evening<'_>,
    step: &Step,
    duration: Time,
    errors: &mut Vec<Diagnostic>,
) -> Option<StepClock> {
    let FillAndDrain { fill, drain, spans, .. } = fill_and_drain(evening, step);
    if step.clock.value == Clock::FromFull {
        let draining = fill + duration;
        return Some(StepClock { fill, drain, zero: fill, draining, empty: draining + drain });
    }
    if let Duration::Flow { .. } = &step.duration.value {
        // Running water is not poured off while it washes, so draining comes after the stated time (R14).
        let draining = duration.max(fill);
        return Some(StepClock { fill, drain, zero: Time::ZERO, draining, empty: draining + drain });
    }
    if fill + drain >= duration {
        let message =
            format!("{} lasts {duration}, but filling and draining take {}", step.title(), fill + drain);
        let error = Diagnostic::error("no-time-left", step.duration.span, message).help(
            "write 'clock from full' in the step, so that its time counts from the full tank; or lengthen it",
        );
        errors.push(spans.into_iter().fold(error, |error, span| error.other(span, "how long that takes")));
        return None;
    }
    Some(StepClock { fill, drain, zero: Time::ZERO, draining: duration - drain, empty: duration })
}

/// Warns on the card where nothing states how long filling and draining take.
pub(super) fn warn_unknown(evening: &Evening<'_>, warnings: &mut Vec<Doubt>) {
    let mut steps = evening.recipe.steps.iter().filter(|step| step.is_in_liquid());
    if steps.all(|step| fill_and_drain(evening, step).is_known) {
        return;
    }
    let text = match evening.tank {
        Some(tank) => format!(
            "'{}' does not say how long filling and draining take: what is not said is counted as 0:00",
            tank.name
        ),
        None if evening.conditions.volume.is_some() => {
            "no tank was named: filling and draining are counted as 0:00".to_owned()
        }
        None => {
            "no tank was named: volumes are what the film needs, filling and draining are counted as 0:00"
                .to_owned()
        }
    };
    warnings.push(Doubt { rule: "R6", text });
}

/// R14. The actions of a wash in changes, and when it ends.
/// The step's scheme, if it has one, agitates a change that is left for a time.
pub(super) fn changes(
    step: &Step,
    changes: &[Change],
    pour: Time,
    taken: &FillAndDrain,
    errors: &mut Vec<Diagnostic>,
) -> (Vec<Event>, Time) {
    let FillAndDrain { fill, drain, .. } = *taken;
    let scheme = step.agitation.as_ref();
    let inversion = scheme.map_or(Scheme::INVERSION, |scheme| scheme.value.inversion);
    let mut events = Vec::new();
    let mut now = pour;
    for change in changes {
        let full = now + fill;
        events.push(Event::new(now, fill, Action::Fill));
        let draining = match change {
            Change::Inversions(count) => {
                let moved = Event::new(full, inversion.times(*count), Action::Agitate);
                events.push(Event { by: Some("inversion"), count: Some(*count), ..moved });
                full + inversion.times(*count)
            }
            Change::Soak(time) => {
                let draining = fill + *time;
                let clock = StepClock { fill, drain, zero: Time::ZERO, draining, empty: draining + drain };
                if let Some(scheme) = scheme {
                    events.extend(agitation::events(&scheme.value, clock, now, scheme.span, errors));
                }
                full + *time
            }
        };
        events.push(Event::new(draining, drain, Action::Dump));
        now = draining + drain;
        if events.len() > EVENTS_MAX {
            break;
        }
    }
    (events, now)
}

/// The volume of running water in a time.
fn running(flow: Flow, time: Time) -> Volume {
    flow.per_minute.scaled(time.ms, 60_000)
}

/// R14. The water a step takes tonight: in a bath that is not kept, and for washing.
pub(super) fn water_of(recipe: &Recipe, planned: &PlannedStep) -> Volume {
    let Some(bath) = &planned.bath else { return Volume::ZERO };
    let kept = bath.fate.is_some_and(Use::is_kept);
    let mixed = if kept { Volume::ZERO } else { bath.water.scaled(i64::from(bath.pours), 1) };
    match recipe.steps.iter().find(|step| planned.is_of(step)).map(|step| &step.duration.value) {
        Some(Duration::Flow { flow, time }) => running(*flow, *time) + mixed,
        _ => mixed,
    }
}
