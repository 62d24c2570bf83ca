//! The time that goes with a temperature: R1, R2 and R5. The one room of the compiler with real
//! numbers; logarithm and exponential are `libm`'s, so that every machine gives the same (R15).

use crate::model::{Chart, Point, Quickening, Temperature, Time};

/// R1. The time in seconds at a temperature within the chart: between two neighbours the logarithm
/// of the time runs straight; on a point it is that point exactly. `None` outside.
#[must_use]
pub fn at_chart(chart: &Chart, at: Temperature) -> Option<f64> {
    let points = chart.points();
    if let Some(point) = points.iter().find(|point| point.temperature == at) {
        return Some(point.time.seconds());
    }
    let (cold, warm) = points
        .iter()
        .zip(points.iter().skip(1))
        .find(|(cold, warm)| cold.temperature < at && at < warm.temperature)?;
    let share = at.above(cold.temperature).celsius() / warm.temperature.above(cold.temperature).celsius();
    Some(libm::exp(log_time(cold) * (1.0 - share) + log_time(warm) * share))
}

/// R2. The time in seconds at a temperature, from one time and a coefficient:
/// `t0 · factor^((T0 − T) / interval)`.
#[must_use]
pub fn at_rate(time: Time, holds_at: Temperature, rate: Quickening, at: Temperature) -> f64 {
    if holds_at == at {
        return time.seconds();
    }
    let intervals = holds_at.above(at).celsius() / rate.interval.celsius();
    time.seconds() * libm::exp(libm::log(rate.factor.real()) * intervals)
}

/// R5. The time in seconds for a bath that drifts from one temperature to another within the chart:
/// `1 ÷ ∫₀¹ du / time(from + (to − from)·u)`, in closed form on each segment. `None` if either end
/// lies outside. Without drift it is R1 exactly.
#[must_use]
pub fn drifting(chart: &Chart, from: Temperature, to: Temperature) -> Option<f64> {
    let (_, start) = (at_chart(chart, to)?, at_chart(chart, from)?);
    if from == to {
        return Some(start);
    }
    let (low, high) = if from < to { (from, to) } else { (to, from) };
    let inner = chart.points().iter().filter(|point| low < point.temperature && point.temperature < high);
    let mut knots: Vec<(Temperature, f64)> = vec![(low, at_chart(chart, low)?)];
    knots.extend(inner.map(|point: &Point| (point.temperature, point.time.seconds())));
    knots.push((high, at_chart(chart, high)?));
    let done =
        knots.iter().zip(knots.iter().skip(1)).fold(0.0, |sum, (cold, warm)| sum + segment(*cold, *warm));
    Some(high.above(low).celsius() / done)
}

/// R2 under R5: the same with one time and a coefficient, which is one segment.
#[must_use]
pub fn drifting_at_rate(
    time: Time,
    holds_at: Temperature,
    rate: Quickening,
    (from, to): (Temperature, Temperature),
) -> f64 {
    let start = at_rate(time, holds_at, rate, from);
    if from == to {
        return start;
    }
    let end = at_rate(time, holds_at, rate, to);
    let done = segment((from, start), (to, end));
    to.above(from).celsius() / done
}

/// `∫ dT / t(T)` over a stretch on which the logarithm of `t` runs straight, in degrees per second.
fn segment((from, start): (Temperature, f64), (to, end): (Temperature, f64)) -> f64 {
    let width = to.above(from).celsius();
    let fall = libm::log(start) - libm::log(end);
    if libm::fabs(fall) < 1e-12 { width / start } else { width / start * libm::expm1(fall) / fall }
}

fn log_time(point: &Point) -> f64 {
    libm::log(point.time.seconds())
}
