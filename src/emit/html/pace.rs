//! The data from which a page recalculates a step's time after a new temperature reading.

use serde_json::{Value, json};

use crate::compile::{Pace, PlannedStep, Scale, Schedule};
use crate::emit::beats::{Beat, beats};
use crate::emit::phrase;
use crate::model::{Difference, Temperature, Time};

/// The beats that the page shows if a temperature reading makes a step longer: all that end after the scheduled end of
/// the step. The first of these beats may begin before the scheduled end.
pub(super) fn longer(schedule: &Schedule, index: usize, pace: &Option<Pace>) -> Vec<Beat> {
    let leaves = |schedule: &Schedule| schedule.steps.get(index).map_or(Time::ZERO, PlannedStep::leaves);
    let Some(pace) = pace else { return Vec::new() };
    let (own, longest) = (leaves(schedule), leaves(&pace.longest));
    let all = beats(&pace.longest).into_iter().filter(|beat| beat.step == index);
    all.filter(|beat| own < beat.until && beat.at < longest).collect()
}

/// How fast a step progresses, as JSON. Each entry of `knots` has a temperature and the fraction of the step that one
/// second at this temperature completes. Its third number is the integral of this fraction over the temperature, from
/// the first entry on. `from` and `to` are the bath's temperatures at the start and at the end of the step.
/// Temperatures are in tenths of a degree. `more` has the beats to show if the step becomes longer, and `until` is the
/// end of the last one in milliseconds.
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

/// A fraction of a step, rounded to 12 decimals, which is enough to calculate a time to the millisecond.
fn short(part: f64) -> f64 {
    libm::round(part * 1e12) / 1e12
}
