//! A development chart (times by temperature), and figures for the lint rules about charts. The figures allow for the
//! rounding of a chart's times.

use super::quantity::{Temperature, Time};
use super::solution::Quickening;
use crate::source::{Sorted as _, Span};

/// A point of a chart.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    /// The temperature of the developer.
    pub temperature: Temperature,
    /// The development time at this temperature.
    pub time: Time,
    /// The span of the line that states the point.
    pub span: Span,
}

impl Point {
    /// The natural logarithm of the time in seconds.
    pub fn log_time(&self) -> f64 {
        libm::log(self.time.seconds())
    }
}

/// Compares temperature and time, and ignores where the file states the points.
impl PartialEq for Point {
    fn eq(&self, other: &Point) -> bool {
        (self.temperature, self.time) == (other.temperature, other.time)
    }
}

impl Eq for Point {}

/// A development chart (R1): at least two points, coldest first. A warmer point never has a longer time than a colder
/// point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    points: Vec<Point>,
}

impl Chart {
    /// A chart with these points, given in any order. The caller must check that there are at least two, and that no
    /// time rises with the temperature.
    pub fn new(mut points: Vec<Point>) -> Chart {
        points.order_by_key(|point| point.temperature);
        Chart { points }
    }

    /// The points, coldest first.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The coldest and the warmest temperature; `None` without points.
    pub fn ends(&self) -> Option<(Temperature, Temperature)> {
        Some((self.points.first()?.temperature, self.points.last()?.temperature))
    }
}

/// A point far from the line through its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stray {
    /// The point that is far from the line.
    pub point: Point,
    /// The time that the line through the neighbouring points gives at this temperature, rounded like the chart's
    /// times.
    pub likely: Time,
    /// The percentage by which the point's time differs from the likely time; positive if longer.
    pub per_cent: i64,
}

/// The factor by which a chart's times fall per 10 °C, in hundredths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Coefficient {
    /// The least factor that the rounding of the times allows.
    pub least: i64,
    /// The factor that the stated times give.
    pub stated: i64,
    /// The greatest factor that the rounding of the times allows.
    pub most: i64,
}

/// A part of a chart in which the time changes strongly with each degree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Steep {
    /// The coldest temperature of this part.
    pub from: Temperature,
    /// The warmest temperature of this part.
    pub to: Temperature,
    /// The change of the time with 1 °C, in percent of the shorter time.
    pub per_cent: i64,
}

const POINTS_MIN: usize = 4;
/// The most points in a group: a point, and the neighbours with which it is compared. More points might not lie on a
/// line, because a long chart may bend.
const WINDOW: usize = 5;
/// How far an inner point may be from the line through its neighbours, as a difference of natural logarithms of time.
const STRAY_INSIDE: f64 = 0.03;
/// How far the first or last point may be from the line through its neighbours, as a difference of natural logarithms
/// of time. A chart may bend there. If the gap in temperature beside the point is wider than the mean gap, the limit
/// grows in proportion to it.
const STRAY_AT_END: f64 = 0.15;
/// A distance of at most this many standard deviations from the line counts as an effect of rounding.
const DEVIATIONS: f64 = 3.0;

/// The point that is farthest from the line through its neighbours (up to four). The line is fitted to the logarithms
/// of their times. `None` with fewer than four points, if the whole chart bends, or if the rounding of the times
/// explains every distance.
pub fn stray_point(chart: &Chart) -> Option<Stray> {
    let points = chart.points();
    if points.len() < POINTS_MIN {
        return None;
    }
    let unit = unit(points);
    let width = WINDOW.min(points.len());
    let mut worst: Option<(f64, Stray)> = None;
    for (at, point) in points.iter().enumerate() {
        let start = at.saturating_sub(width / 2).min(points.len() - width);
        let window: Vec<Point> = points.iter().skip(start).take(width).copied().collect();
        let is_end = at == 0 || at + 1 == points.len();
        let Some((off, likely)) = strays(&window, at - start, is_end, unit) else { continue };
        if worst.as_ref().is_none_or(|(most, _)| *most < libm::fabs(off)) {
            let stray = Stray { point: *point, likely, per_cent: whole(libm::expm1(off) * 100.0) };
            worst = Some((libm::fabs(off), stray));
        }
    }
    worst.map(|(_, stray)| stray)
}

/// For the point at index `at`: its distance from the line through the other points, as a difference of logarithms of
/// time, and the time on that line. `None` if the distance is allowed, if the other points are far from the line, or if
/// leaving out another point gives a better line.
fn strays(window: &[Point], at: usize, is_end: bool, unit: Time) -> Option<(f64, Time)> {
    let without = |out: usize| {
        let others = window.iter().enumerate().filter(move |(index, _)| *index != out);
        Fit::through(others.map(|(_, point)| *point).collect())
    };
    let line = without(at);
    let blamed = (0..window.len()).all(|other| other == at || line.misfit() <= without(other).misfit());
    let point = window.get(at)?;
    let off = point.log_time() - line.at(point.temperature);
    let rounding = libm::hypot(line.rounding(point.temperature, unit), deviation(point, unit));
    let bar = if is_end { STRAY_AT_END * line.beyond(point.temperature).max(1.0) } else { STRAY_INSIDE };
    let keeps = line.misfit() <= STRAY_INSIDE;
    let explained = libm::hypot(DEVIATIONS * rounding, 2.0 * line.misfit());
    let strays = bar.max(explained) < libm::fabs(off);
    let likely = nearest(libm::exp(line.at(point.temperature)), unit);
    (blamed && keeps && strays).then_some((off, likely))
}

/// The least-squares line of the logarithm of time against temperature.
struct Fit {
    points: Vec<Point>,
    middle: f64,
    height: f64,
    spread: f64,
    slope: f64,
}

impl Fit {
    fn through(points: Vec<Point>) -> Fit {
        let count = number(&points);
        let mean = |of: &dyn Fn(&Point) -> f64| points.iter().map(of).sum::<f64>() / count;
        let middle = mean(&|point| point.temperature.celsius());
        let height = mean(&Point::log_time);
        let aside = |point: &Point| point.temperature.celsius() - middle;
        let spread: f64 = points.iter().map(|point| aside(point) * aside(point)).sum();
        let slope = points.iter().map(|point| aside(point) * point.log_time()).sum::<f64>() / spread;
        Fit { points, middle, height, spread, slope }
    }

    fn at(&self, temperature: Temperature) -> f64 {
        self.height + self.slope * (temperature.celsius() - self.middle)
    }

    /// How far a temperature is outside the range of the fitted points, in multiples of the points' mean gap.
    fn beyond(&self, at: Temperature) -> f64 {
        let Some((first, last)) = self.points.first().zip(self.points.last()) else { return 1.0 };
        let gaps = number(&self.points) - 1.0;
        let mean = last.temperature.above(first.temperature).celsius() / gaps;
        let cold = first.temperature.above(at).celsius();
        let warm = at.above(last.temperature).celsius();
        cold.max(warm) / mean
    }

    /// The greatest distance of a fitted point from the line, as a difference of logarithms of time.
    fn misfit(&self) -> f64 {
        let off = |point: &Point| libm::fabs(point.log_time() - self.at(point.temperature));
        self.points.iter().map(off).fold(0.0, f64::max)
    }

    /// The standard deviation of the line's value at a temperature, if the times are rounded to `unit`.
    fn rounding(&self, at: Temperature, unit: Time) -> f64 {
        let count = number(&self.points);
        let aside = at.celsius() - self.middle;
        let share =
            |point: &Point| 1.0 / count + aside * (point.temperature.celsius() - self.middle) / self.spread;
        let square = |point: &Point| {
            let part = share(point) * deviation(point, unit);
            part * part
        };
        libm::sqrt(self.points.iter().map(square).sum())
    }
}

/// The temperature coefficient between a chart's coldest and warmest point.
pub fn coefficient(chart: &Chart) -> Option<Coefficient> {
    let (cold, warm) = (chart.points().first()?, chart.points().last()?);
    let (least, stated, most) = fall(cold, warm, unit(chart.points()))?;
    let hundredths = |slope: f64| whole(libm::exp(slope * 10.0).min(1e6) * 100.0);
    Some(Coefficient { least: hundredths(least), stated: hundredths(stated), most: hundredths(most) })
}

/// The time at a temperature, calculated from one point with the usual coefficient, 2.5 per 10 °C, and rounded like the
/// chart's times.
pub fn usual_time(chart: &Chart, from: &Point, at: Temperature) -> Time {
    let slope = libm::log(2.5) / 10.0;
    let seconds = from.time.seconds() * libm::exp(slope * from.temperature.above(at).celsius());
    nearest(seconds, unit(chart.points()))
}

/// The coldest part of the chart between `low` and `high` in which 1 °C changes the time by more than `per_cent`,
/// however the times were rounded.
pub fn steep_part(chart: &Chart, low: Temperature, high: Temperature, per_cent: i64) -> Option<Steep> {
    let unit = unit(chart.points());
    chart.points().iter().zip(chart.points().iter().skip(1)).find_map(|(cold, warm)| {
        let within = cold.temperature < high && low < warm.temperature;
        let (least, stated, _) = fall(cold, warm, unit).filter(|_| within)?;
        let change = |slope: f64| whole(libm::expm1(slope).min(1e4) * 100.0);
        (per_cent < change(least)).then(|| Steep {
            from: cold.temperature.max(low),
            to: warm.temperature.min(high),
            per_cent: change(stated),
        })
    })
}

/// By how many percent a time changes with 1 °C at this coefficient.
pub fn change_by_rate(rate: Quickening) -> i64 {
    let slope = libm::log(rate.factor.real()) / rate.interval.celsius();
    whole(libm::expm1(slope).min(1e4) * 100.0)
}

/// How much the logarithm of time falls per 1 °C between two points: the least that rounding allows, the value as
/// stated, and the most that rounding allows. `None` if the points have the same temperature.
fn fall(cold: &Point, warm: &Point, unit: Time) -> Option<(f64, f64, f64)> {
    let width = warm.temperature.above(cold.temperature).celsius();
    if width <= 0.0 {
        return None;
    }
    let half = unit.seconds() / 2.0;
    let (long, short) = (cold.time.seconds(), warm.time.seconds());
    let slope = |long: f64, short: f64| libm::log(long / short) / width;
    let least = slope(long - half, short + half);
    Some((least, slope(long, short), slope(long + half, (short - half).max(0.001))))
}

/// The unit to which the points' times are rounded: the largest, from a minute to a second, that divides all times.
fn unit(points: &[Point]) -> Time {
    let units = [60, 30, 15, 10, 5].map(Time::from_seconds);
    let fits = |unit: &Time| points.iter().all(|point| point.time.ms % unit.ms == 0);
    units.into_iter().find(fits).unwrap_or(Time::from_seconds(1))
}

/// The standard deviation of the logarithm of a point's time, if the time is rounded to `unit`.
fn deviation(point: &Point, unit: Time) -> f64 {
    unit.seconds() / libm::sqrt(12.0) / point.time.seconds()
}

fn number(points: &[Point]) -> f64 {
    points.iter().map(|_| 1.0).sum()
}

fn nearest(seconds: f64, unit: Time) -> Time {
    let units = whole(seconds / unit.seconds()).max(1);
    Time::from_ms(unit.ms.saturating_mul(units))
}

#[expect(clippy::cast_possible_truncation, reason = "a value beyond 64 bits becomes the largest number")]
fn whole(value: f64) -> i64 {
    libm::floor(value + 0.5) as i64
}
