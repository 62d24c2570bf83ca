//! The speed of the film by the criterion of ISO 6, as far as the strips meet its conditions.

use super::StripResult;
use super::table::Exposure;
use crate::source::Sorted as _;
use crate::trial::STOP;

/// A speed, or why there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Speed {
    /// The strips meet the criterion of ISO 6: the density rises by 0.80 over 1.30 of log exposure. The exposures are
    /// in lux seconds.
    Standard {
        /// The speed before rounding: 0.8 divided by the exposure of the speed point (formula not looked up).
        exact: f64,
    },
    /// The criterion is met, but the exposures are not in lux seconds.
    OnlyRelative,
    /// Over 1.30 of log exposure, the density of every strip rises by less than 0.80, or that of every strip by more.
    NotMet {
        /// The least rise of density.
        least: f64,
        /// The greatest rise of density.
        most: f64,
    },
    /// An exposure index for use with the meter, from the strip whose rise is nearest to 0.80.
    ByMeter {
        /// The index.
        index: f64,
        /// The rise of that strip's density over 1.30 of log exposure.
        rise: f64,
        /// By how many stops the index may be off because of the reading error; `None` if the strip has too few steps.
        stops: Option<f64>,
    },
}

/// The range of log exposure in which ISO 6 measures the rise.
const RANGE: f64 = 1.30;
/// The rise that ISO 6 requires, and its tolerance (not looked up).
const RISE: (f64, f64) = (0.80, 0.05);
/// How many stops the speed point lies under the meter's reading, for a meter with K = 12.5 (not looked up).
pub const UNDER_METER: f64 = 3.322;

/// The speed of these strips; `None` if no strip has a speed point.
pub(super) fn of(
    exposure: Exposure,
    strips: &[StripResult],
    (index, within): (Option<u32>, f64),
) -> Option<Speed> {
    let mut known: Vec<(f64, f64, Option<f64>)> = strips
        .iter()
        .filter_map(|strip| {
            let curve = strip.curve.as_ref()?;
            Some((curve.rise(RANGE)?, curve.speed_point()?, off_by(strip, within)))
        })
        .collect();
    known.order_by(|one, other| one.0.total_cmp(&other.0));
    let off = |one: &(f64, f64, _)| (one.0 - RISE.0).abs();
    let nearest = known.iter().min_by(|one, other| off(one).total_cmp(&off(other)))?;
    if let (Exposure::Stops, Some(index)) = (exposure, index) {
        return Some(Speed::ByMeter {
            index: index_by_meter(f64::from(index), nearest.1 / STOP),
            rise: nearest.0,
            stops: nearest.2,
        });
    }
    let pairs = known.iter().zip(known.iter().skip(1));
    let between =
        pairs.map(|(soft, hard)| (*soft, *hard)).find(|(soft, hard)| soft.0 <= RISE.0 && RISE.0 <= hard.0);
    let point = match between {
        Some((soft, hard)) if hard.0 > soft.0 => {
            let share = (RISE.0 - soft.0) / (hard.0 - soft.0);
            Some(soft.1 + share * (hard.1 - soft.1))
        }
        _ => (off(nearest) <= RISE.1).then_some(nearest.1),
    };
    Some(match (point, exposure) {
        (None, _) => Speed::NotMet { least: known.first()?.0, most: known.last()?.0 },
        (Some(point), Exposure::LogH) => {
            Speed::Standard { exact: 0.8 / libm::exp(point * core::f64::consts::LN_10) }
        }
        (Some(_), _) => Speed::OnlyRelative,
    })
}

/// The exposure index for a contrast, from strips that are exposure brackets. `index` was set on the meter. Between two
/// neighbouring strips, the speed point is interpolated linearly by the contrast. `None` outside the contrasts of the
/// strips.
pub(super) fn index_at(strips: &[StripResult], contrast: f64, index: u32) -> Option<f64> {
    let known =
        strips.iter().filter_map(|strip| Some((strip.contrast?, strip.curve.as_ref()?.speed_point()?)));
    let mut known: Vec<(f64, f64)> = known.collect();
    known.order_by(|one, other| one.0.total_cmp(&other.0));
    let mut pairs = known.iter().zip(known.iter().skip(1));
    let (soft, hard) =
        pairs.find(|(soft, hard)| soft.0 <= contrast && contrast <= hard.0 && soft.0 < hard.0)?;
    let share = (contrast - soft.0) / (hard.0 - soft.0);
    Some(index_by_meter(f64::from(index), (soft.1 + share * (hard.1 - soft.1)) / STOP))
}

/// By how many stops a speed point may be off, if a density may be off by `within`: twice the error of the net density,
/// divided by the slope at the speed point.
fn off_by(strip: &StripResult, within: f64) -> Option<f64> {
    let net = within * libm::sqrt(1.0 + 1.0 / strip.fogs.max(1.0));
    let slope = strip.curve.as_ref()?.slope_at_speed_point()?;
    (slope > 0.0).then(|| 2.0 * net / slope / STOP)
}

/// The exposure index of a film whose speed point is `stops` above the meter's reading at `index`; negative stops are
/// below the reading.
fn index_by_meter(index: f64, stops: f64) -> f64 {
    index * libm::exp2(-stops - UNDER_METER)
}
