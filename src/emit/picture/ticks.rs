//! Where an axis is marked: at round values of its scale, so many that they can be read and no more.

use crate::compile::Scale;
use crate::model::{Temperature, Time};

/// Steps that a clock is read in, in seconds.
const CLOCK: [i64; 17] =
    [1, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400, 172_800];
/// Steps that a thermometer is read in, in tenths of a degree of its scale.
const DEGREES: [i64; 8] = [1, 2, 5, 10, 20, 50, 100, 200];

/// The round step with which no more than `most` marks stand between two values.
fn step((low, high): (i64, i64), steps: impl Iterator<Item = i64>, most: i64) -> i64 {
    let mut chosen = 1;
    for each in steps {
        chosen = each;
        if high.saturating_sub(low) / each < most {
            break;
        }
    }
    chosen
}

/// The multiples of `step` from one value to another, both taken in.
fn multiples((low, high): (i64, i64), step: i64) -> impl Iterator<Item = i64> {
    let first = low.div_euclid(step) + i64::from(low.rem_euclid(step) != 0);
    (first..=high.div_euclid(step)).map(move |count| count * step)
}

/// Round times from one to another.
pub(super) fn times((low, high): (Time, Time), most: i64) -> Vec<Time> {
    let ends = (low.ms, high.ms);
    let step = step(ends, CLOCK.into_iter().map(|seconds| seconds * 1000), most);
    multiples(ends, step).map(Time::from_ms).collect()
}

/// The round times between which all from one to another lie; never the same twice.
pub(super) fn around((low, high): (Time, Time), most: i64) -> (Time, Time) {
    let step = step((low.ms, high.ms), CLOCK.into_iter().map(|seconds| seconds * 1000), most);
    let under = low.ms.div_euclid(step) * step;
    let over = (high.ms.div_euclid(step) + i64::from(high.ms.rem_euclid(step) != 0)) * step;
    (Time::from_ms(under), Time::from_ms(over.max(under + step)))
}

/// Round temperatures of that scale from one to another.
pub(super) fn temperatures(
    (low, high): (Temperature, Temperature),
    scale: Scale,
    most: i64,
) -> Vec<Temperature> {
    // A tenth of a degree, and how far the scale's zero lies below the other's, in the unit of a temperature.
    let (tenth, zero) = match scale {
        Scale::Celsius => (900, 0),
        Scale::Fahrenheit => (500, 160_000),
    };
    let ends = (low.base + zero, high.base + zero);
    let step = step(ends, DEGREES.into_iter().map(|tenths| tenths * tenth), most);
    multiples(ends, step).map(|base| Temperature { base: base - zero }).collect()
}
