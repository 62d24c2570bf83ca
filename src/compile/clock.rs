//! R6. When a step's tank is full, when it drains, when it is empty.

use super::evening::Evening;
use super::schedule::Doubt;
use crate::model::{Clock, Duration, Step, Tank, Time};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("no-time-left", "a step shorter than the tank takes to fill and to drain")];

/// A step's clock: times from its pour on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct StepClock {
    /// How long the pour takes.
    pub(super) fill: Time,
    /// How long draining takes.
    pub(super) drain: Time,
    /// Where the step's own clock shows 0.
    pub(super) zero: Time,
    /// When draining starts.
    pub(super) draining: Time,
    /// When the tank is empty.
    pub(super) empty: Time,
}

/// The times to fill and to drain: the step's, else the tank's, else none.
pub(super) fn fill_and_drain(evening: &Evening<'_>, step: &Step) -> (Time, Time, Vec<Span>) {
    let tank = |of: fn(&Tank) -> Option<crate::model::Stated<Time>>| evening.tank.and_then(|tank| of(tank));
    let fill = step.fill.or_else(|| tank(|tank| tank.fill));
    let drain = step.drain.or_else(|| tank(|tank| tank.drain));
    let span = [fill, drain].into_iter().flatten().map(|stated| stated.span).collect();
    let time = |stated: Option<crate::model::Stated<Time>>| stated.map_or(Time::ZERO, |stated| stated.value);
    (time(fill), time(drain), span)
}

/// Lays out a step of that duration; `None` if there is no time left between filling and draining.
pub(super) fn lay_out(
    evening: &Evening<'_>,
    step: &Step,
    duration: Time,
    faults: &mut Vec<Diagnostic>,
) -> Option<StepClock> {
    let (fill, drain, spans) = fill_and_drain(evening, step);
    if let (Duration::Flow { .. }, Clock::FromPour) = (&step.duration.value, step.clock.value) {
        // Water that runs is not poured off while it washes: its draining comes on top (R14).
        let draining = duration.max(fill);
        return Some(StepClock { fill, drain, zero: Time::ZERO, draining, empty: draining + drain });
    }
    if step.clock.value == Clock::FromFull {
        let draining = fill + duration;
        return Some(StepClock { fill, drain, zero: fill, draining, empty: draining + drain });
    }
    if fill + drain >= duration {
        let message = format!(
            "{} has {duration}, and filling and draining take {}: nothing is left for the film",
            step.title(),
            fill + drain
        );
        let mut fault = Diagnostic::error("no-time-left", step.duration.span, message).help(
            "write 'clock from full' in the step, so that its time counts from the full tank; or lengthen it",
        );
        for span in spans {
            fault = fault.other(span, "how long that takes");
        }
        faults.push(fault);
        return None;
    }
    Some(StepClock { fill, drain, zero: Time::ZERO, draining: duration - drain, empty: duration })
}

/// Says on the card when nothing tells how long filling and draining take.
pub(super) fn unknown(evening: &Evening<'_>, doubts: &mut Vec<Doubt>) {
    let steps = evening.recipe.steps.iter().filter(|step| super::volume::in_bath(step));
    let said = |step: &Step| {
        let tank = evening.tank;
        let fill = step.fill.is_some() || tank.is_some_and(|tank| tank.fill.is_some());
        let drain = step.drain.is_some() || tank.is_some_and(|tank| tank.drain.is_some());
        fill && drain
    };
    if steps.clone().any(|step| !said(step)) {
        let text = match evening.tank {
            Some(tank) => {
                format!(
                    "'{}' does not say how long filling and draining take: what is not said is counted as 0:00",
                    tank.name
                )
            }
            None if evening.conditions.volume.is_some() => {
                "no tank was named: filling and draining are counted as 0:00".to_owned()
            }
            None => {
                "no tank was named: volumes are what the film needs, filling and draining are counted as 0:00"
                    .to_owned()
            }
        };
        doubts.push(Doubt { rule: "R6", text });
    }
}
