//! Time by temperature for any falling chart (R1, R2, R5), compared with the test's own powers and integral.

use proptest::prelude::*;
use wetside::compile::{at_chart, at_rate, drifting, drifting_at_rate};
use wetside::model::{Chart, Difference, Number, Point, Quickening, Temperature, Time};
use wetside::source::{FileId, Span};

use super::recipe::chart;
use super::tried;

const NOWHERE: Span = Span { file: FileId(0), start: 0, end: 0 };

/// A chart from tenths chart_of a degree and seconds.
fn chart_of(points: &[(i64, i64)]) -> Chart {
    let point = |(tenths, seconds): &(i64, i64)| Point {
        temperature: Temperature { base: tenths * 900 },
        time: Time::from_seconds(*seconds),
        span: NOWHERE,
    };
    Chart::new(points.iter().map(point).collect())
}

/// The points chart_of a chart in degrees Celsius and seconds.
fn knots(points: &[(i64, i64)]) -> Vec<(f64, f64)> {
    #[expect(clippy::cast_precision_loss, reason = "small whole numbers")]
    let real = |(tenths, seconds): &(i64, i64)| (*tenths as f64 / 10.0, *seconds as f64);
    points.iter().map(real).collect()
}

/// t1^(1-s) · t2^s by the standard library's power: an independent R1.
pub(super) fn by_powers(points: &[(i64, i64)], at: f64) -> f64 {
    let knots = knots(points);
    let mut pairs = knots.iter().zip(knots.iter().skip(1));
    let (cold, warm) = pairs.clone().find(|(_, warm)| at <= warm.0).or(pairs.next_back()).unwrap();
    let share = (at - cold.0) / (warm.0 - cold.0);
    cold.1.powf(1.0 - share) * warm.1.powf(share)
}

/// Simpson's rule over a range on which the function is smooth.
fn simpson(from: f64, to: f64, chart_of: impl Fn(f64) -> f64) -> f64 {
    const STRIPS: u32 = 256;
    let width = (to - from) / f64::from(STRIPS);
    let weighed = (0..=STRIPS).map(|strip| {
        let weight = if strip == 0 || strip == STRIPS { 1.0 } else { f64::from(2 + 2 * (strip % 2)) };
        weight * chart_of(from + width * f64::from(strip))
    });
    weighed.sum::<f64>() * width / 3.0
}

/// 1 ÷ ∫₀¹ du / t(u), summed segment by segment: an independent R5.
pub(super) fn by_integral(points: &[(i64, i64)], from: f64, to: f64) -> f64 {
    let (low, high) = (from.min(to), from.max(to));
    let mut bounds = vec![low];
    bounds.extend(knots(points).iter().map(|(at, _)| *at).filter(|at| low < *at && *at < high));
    bounds.push(high);
    let stretches = bounds.iter().zip(bounds.iter().skip(1));
    let done: f64 = stretches.map(|(one, next)| simpson(*one, *next, |at| 1.0 / by_powers(points, at))).sum();
    (high - low) / done
}

/// A chart and two temperatures in it.
fn course() -> impl Strategy<Value = (Vec<(i64, i64)>, Temperature, Temperature)> {
    (chart(), 0_i64..=1000, 0_i64..=1000).prop_map(|(points, from, to)| {
        let along = |thousandths: i64| {
            let (cold, warm) = (points.first().unwrap().0, points.last().unwrap().0);
            Temperature { base: cold * 900 + (warm - cold) * 900 * thousandths / 1000 }
        };
        let (from, to) = (along(from), along(to));
        (points, from, to)
    })
}

fn rate() -> impl Strategy<Value = Quickening> {
    (1_001_i64..10_000, 90_i64..=30 * 9000).prop_map(|(thousandths, interval)| Quickening {
        factor: Number::parse(&format!("{}.{:03}", thousandths / 1000, thousandths % 1000)).unwrap(),
        interval: Difference { base: interval },
    })
}

fn near(one: f64, other: f64, within: f64) -> bool {
    (one - other).abs() <= within * other.abs()
}

proptest! {
    #![proptest_config(tried(400))]

    #[test]
    fn the_time_at_a_point_of_a_chart_is_exact(points in chart()) {
        let chart = chart_of(&points);
        for point in chart.points() {
            let got = at_chart(&chart, point.temperature).unwrap();
            prop_assert_eq!(got.to_bits(), point.time.seconds().to_bits());
        }
    }

    #[test]
    fn times_of_a_chart_always_fall_with_temperature((points, one, other) in course()) {
        prop_assume!(one != other);
        let chart = chart_of(&points);
        let (cold, warm) = (one.min(other), one.max(other));
        prop_assert!(at_chart(&chart, cold).unwrap() > at_chart(&chart, warm).unwrap());
    }

    #[test]
    fn a_chart_interpolates_the_logarithm_of_the_time((points, at, _) in course()) {
        let got = at_chart(&chart_of(&points), at).unwrap();
        let wanted = by_powers(&points, at.celsius());
        prop_assert!(near(got, wanted, 1e-12), "{} and {}", got, wanted);
    }

    #[test]
    fn a_chart_has_no_time_outside_its_points(points in chart(), beyond in 1_i64..20_000) {
        let chart = chart_of(&points);
        let (cold, warm) = chart.ends().unwrap();
        let (below, above) = (Temperature { base: cold.base - beyond }, Temperature { base: warm.base + beyond });
        prop_assert_eq!([at_chart(&chart, below), at_chart(&chart, above)], [None, None]);
        prop_assert_eq!([drifting(&chart, below, warm), drifting(&chart, cold, above)], [None, None]);
        prop_assert_eq!([drifting(&chart, warm, below), drifting(&chart, above, cold)], [None, None]);
    }

    #[test]
    fn without_drift_the_time_is_exactly_that_of_the_chart((points, at, _) in course()) {
        let chart = chart_of(&points);
        let (still, drifted) = (at_chart(&chart, at).unwrap(), drifting(&chart, at, at).unwrap());
        prop_assert_eq!(still.to_bits(), drifted.to_bits());
    }

    #[test]
    fn the_time_of_a_drift_is_between_those_of_its_ends((points, from, to) in course()) {
        prop_assume!(from != to);
        let chart = chart_of(&points);
        let drifted = drifting(&chart, from, to).unwrap();
        let (long, short) = (at_chart(&chart, from.min(to)).unwrap(), at_chart(&chart, from.max(to)).unwrap());
        // For a very small drift the ends are almost equal, so the last digit may differ.
        prop_assert!(short * (1.0 - 1e-9) <= drifted && drifted <= long * (1.0 + 1e-9), "{}", drifted);
        prop_assert!((from.base - to.base).abs() < 900 || (short < drifted && drifted < long), "{}", drifted);
    }

    #[test]
    fn the_time_of_a_drift_equals_a_numeric_integral((points, from, to) in course()) {
        prop_assume!(from != to);
        let drifted = drifting(&chart_of(&points), from, to).unwrap();
        let wanted = by_integral(&points, from.celsius(), to.celsius());
        prop_assert!(near(drifted, wanted, 1e-6), "{} and {}", drifted, wanted);
    }

    #[test]
    fn a_drift_up_takes_as_long_as_the_same_drift_down((points, from, to) in course()) {
        let chart = chart_of(&points);
        let (up, down) = (drifting(&chart, from, to).unwrap(), drifting(&chart, to, from).unwrap());
        prop_assert_eq!(up.to_bits(), down.to_bits());
    }

    #[test]
    fn a_rate_changes_nothing_at_its_own_temperature(rate in rate(), seconds in 1_i64..20_000, base in 0_i64..400_000) {
        let (time, at) = (Time::from_seconds(seconds), Temperature { base });
        prop_assert_eq!(at_rate(time, at, rate, at).to_bits(), time.seconds().to_bits());
        prop_assert_eq!(drifting_at_rate(time, at, rate, (at, at)).to_bits(), time.seconds().to_bits());
    }

    #[test]
    fn one_interval_warmer_divides_the_time_by_the_rate(
        rate in rate(), seconds in 60_i64..20_000, base in 0_i64..300_000, steps in -3_i64..=3,
    ) {
        let at = Temperature { base };
        let there = Temperature { base: base + steps * rate.interval.base };
        let got = at_rate(Time::from_seconds(seconds), at, rate, there);
        let factor = rate.factor.real();
        let mut wanted = Time::from_seconds(seconds).seconds();
        for _ in 0..steps.abs() {
            wanted = if steps > 0 { wanted / factor } else { wanted * factor };
        }
        prop_assert!(near(got, wanted, 1e-12), "{} and {}", got, wanted);
    }

    #[test]
    fn the_time_of_a_drift_by_a_rate_equals_a_numeric_integral(
        rate in rate(), seconds in 60_i64..20_000, base in 135_000_i64..270_000, drift in -45_000_i64..45_000,
    ) {
        prop_assume!(drift != 0 && rate.interval.base > 9000);
        let (time, at) = (Time::from_seconds(seconds), Temperature { base });
        let (from, to) = (Temperature { base: base + 4500 }, Temperature { base: base + 4500 + drift });
        let got = drifting_at_rate(time, at, rate, (from, to));
        let power = |celsius: f64| {
            time.seconds() * rate.factor.real().powf((at.celsius() - celsius) / rate.interval.celsius())
        };
        let done = simpson(from.celsius(), to.celsius(), |celsius| 1.0 / power(celsius));
        let wanted = (to.celsius() - from.celsius()) / done;
        prop_assert!(near(got, wanted, 1e-6), "{} and {}", got, wanted);
    }
}

#[test]
fn a_rate_of_two_halves_the_time() {
    let rate = Quickening { factor: Number::parse("2").unwrap(), interval: Difference { base: 10 * 9000 } };
    let at = |degrees: i64| {
        at_rate(
            Time::from_seconds(600),
            Temperature::celsius_whole(20),
            rate,
            Temperature::celsius_whole(degrees),
        )
    };
    assert!(near(at(30), 300.0, 1e-15) && near(at(10), 1200.0, 1e-15) && near(at(40), 150.0, 1e-15));
    // Half an interval divides by the square root chart_of two.
    assert!(near(at(25), 424.264_068_711_928_5, 1e-15), "{}", at(25));
}
