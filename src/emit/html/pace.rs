//! The data from which a page recalculates a step's time after a new temperature reading.

use serde_json::{Value, json};

use crate::compile::{Pace, PlannedStep, Scale, Schedule};
use crate::emit::beats::{Beat, beats};
use crate::emit::phrase;
use crate::model::{Difference, Temperature, Time};

/// The beats of a step after its scheduled end, in case a reading makes the step longer. The first beat is the one that
/// the scheduled end cuts off.
pub(super) fn longer(schedule: &Schedule, index: usize, pace: &Option<Pace>) -> Vec<Beat> {
    let leaves = |schedule: &Schedule| schedule.steps.get(index).map_or(Time::ZERO, PlannedStep::leaves);
    let Some(pace) = pace else { return Vec::new() };
    let (own, longest) = (leaves(schedule), leaves(&pace.longest));
    let all = beats(&pace.longest).into_iter().filter(|beat| beat.step == index);
    all.filter(|beat| own < beat.until && beat.at < longest).collect()
}

/// The pace of a step as JSON. A row of `knots` has a temperature in tenths of a degree, the part of the step done in a
/// second, and the integral of that part over the temperature. `from` and `to` are the temperatures of the bath, `more`
/// the beats of a longer step, and `until` their end.
pub(super) fn pace_data(
    schedule: &Schedule,
    step: &PlannedStep,
    pace: &Pace,
    (more, until): (&[Value], Time),
) -> Value {
    let tenths = |at: Temperature| tenths(at, schedule.conditions.scale);
    let per_degree = tenths(Temperature::celsius_whole(1)) - tenths(Temperature::celsius_whole(0));
    let knots =
        pace.knots.iter().map(|knot| (tenths(knot.at), short(knot.part), short(knot.sum * per_degree)));
    let from = step.temperature.map(tenths);
    json!({
        "knots": knots.collect::<Vec<_>>(),
        "from": from,
        "to": step.ending.map(tenths).or(from),
        "more": more,
        "until": until.ms,
    })
}

/// A temperature in tenths of a degree of the card's scale.
pub(super) fn tenths(at: Temperature, scale: Scale) -> f64 {
    let degree = phrase::degree(scale);
    Difference { base: at.base + degree.zero }.celsius() / Difference { base: degree.base }.celsius() * 10.0
}

/// A part of a step with as many figures as a time to the millisecond needs.
fn short(part: f64) -> f64 {
    libm::round(part * 1e12) / 1e12
}
