//! How steep a chart is, and its times at whole degrees: for whoever reads it, not for a schedule.

use super::round::to_second;
use super::time::at_chart;
use crate::model::{Chart, Temperature, Time};

/// A hundredth of a coefficient past this is no development.
const STEEPEST: f64 = 1e9;

/// By what the time is divided from the chart's coldest point to its warmest, for each 10 °C of that
/// way, in hundredths: `(t_cold / t_warm)^(10 / (T_warm − T_cold))`. `None` if that is no number.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "held to the range just before")]
pub fn steepness(chart: &Chart) -> Option<i64> {
    let (cold, warm) = chart.points().first().zip(chart.points().last())?;
    let width = warm.temperature.above(cold.temperature).celsius();
    let fall = libm::log(cold.time.seconds()) - libm::log(warm.time.seconds());
    let hundredths = libm::floor(100.0 * libm::exp(fall * 10.0 / width) + 0.5);
    (0.0..STEEPEST).contains(&hundredths).then_some(hundredths as i64)
}

/// R1 at each whole degree Celsius that the chart holds, rounded as a schedule rounds (R15).
#[must_use]
pub fn whole_degrees(chart: &Chart) -> Vec<(Temperature, Time)> {
    let Some((cold, warm)) = chart.ends() else { return Vec::new() };
    let degree = Temperature::celsius_whole(1).base;
    let (first, last) = (cold.base.div_euclid(degree), warm.base.div_euclid(degree));
    let degrees = (first..=last).map(Temperature::celsius_whole);
    degrees.filter_map(|at| Some((at, to_second(at_chart(chart, at)?)))).collect()
}
