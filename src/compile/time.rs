//! The time at a temperature by R1, R2 and R5, and the rounding of times (R15). Logarithms are from `libm`, so that
//! every machine gets the same digits.

use crate::model::{Chart, Quickening, Temperature, Time};

/// The time in seconds at a temperature (rule R1); `None` outside the chart. At a point of the chart, the time is
/// exactly that point's. Between two points, the logarithm of the time is linear.
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
    Some(libm::exp(cold.log_time() * (1.0 - share) + warm.log_time() * share))
}

/// The time in seconds at the temperature `at` (rule R2): `time · factor^((holds_at − at) / interval)`.
pub fn at_rate(time: Time, holds_at: Temperature, rate: Quickening, at: Temperature) -> f64 {
    if holds_at == at {
        return time.seconds();
    }
    let intervals = holds_at.above(at).celsius() / rate.interval.celsius();
    time.seconds() * libm::exp(libm::log(rate.factor.real()) * intervals)
}

/// The time in seconds in a bath that drifts evenly (rule R5); `None` if either temperature is outside the chart. It is
/// `1 ÷ ∫₀¹ du / time(from + (to − from)·u)`, in closed form between each two points. Without drift, it is
/// [`at_chart`].
pub fn drifting(chart: &Chart, from: Temperature, to: Temperature) -> Option<f64> {
    let (_, start) = (at_chart(chart, to)?, at_chart(chart, from)?);
    if from == to {
        return Some(start);
    }
    let (low, high) = if from < to { (from, to) } else { (to, from) };
    let inner = chart.points().iter().filter(|point| low < point.temperature && point.temperature < high);
    let mut knots: Vec<(Temperature, f64)> = vec![(low, at_chart(chart, low)?)];
    knots.extend(inner.map(|point| (point.temperature, point.time.seconds())));
    knots.push((high, at_chart(chart, high)?));
    let done =
        knots.iter().zip(knots.iter().skip(1)).fold(0.0, |sum, (cold, warm)| sum + segment(*cold, *warm));
    Some(high.above(low).celsius() / done)
}

/// The time in seconds in a bath that drifts evenly, calculated from one time and a coefficient (rules R5 and R2).
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
    to.above(from).celsius() / segment((from, start), (to, end))
}

/// `∫ dT / t(T)` between two temperatures with the times `start` and `end`, in degrees per second. The logarithm of `t`
/// is linear between them.
fn segment((from, start): (Temperature, f64), (to, end): (Temperature, f64)) -> f64 {
    let width = to.above(from).celsius();
    let fall = libm::log(start) - libm::log(end);
    if libm::fabs(fall) < 1e-12 { width / start } else { width / start * libm::expm1(fall) / fall }
}

/// A number of seconds as a time, rounded to a whole second, halves up (rule R15). Too large a number gives the longest
/// possible time, so that the schedule is later refused as too long.
#[expect(clippy::cast_possible_truncation, reason = "the range is checked first")]
pub(super) fn to_second(seconds: f64) -> Time {
    let whole = libm::floor(seconds + 0.5);
    if (0.0..1e12).contains(&whole) { Time::from_seconds(whole as i64) } else { Time::from_ms(i64::MAX) }
}

/// A stated time, rounded to a whole second, halves up (rule R15).
pub(super) fn to_whole_second(time: Time) -> Time {
    Time::from_seconds(time.ms.saturating_add(500).div_euclid(1000))
}

/// The time at each whole degree Celsius within the chart (rule R1), rounded to a whole second (rule R15).
pub fn whole_degrees(chart: &Chart) -> Vec<(Temperature, Time)> {
    let Some((cold, warm)) = chart.ends() else { return Vec::new() };
    let degree = Temperature::celsius_whole(1).base;
    let (first, last) = (cold.base.div_euclid(degree), warm.base.div_euclid(degree));
    let degrees = (first..=last).map(Temperature::celsius_whole);
    degrees.filter_map(|at| Some((at, to_second(at_chart(chart, at)?)))).collect()
}
