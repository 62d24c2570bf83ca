//! The speed of the film by the criterion of ISO 6, as far as the strips meet its conditions.

use super::StripResult;
use super::table::Exposure;
use crate::trial::STOP;

/// A speed, or why there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Speed {
    /// The strips meet the criterion: the density rises by 0.80 over 1.30 of log exposure. The exposure of the speed
    /// point is in lux seconds.
    Standard {
        /// The speed before rounding, 0.8 divided by the exposure of the speed point (from memory).
        exact: f64,
    },
    /// The criterion is met, but the exposure is known only against the other strips.
    OnlyRelative,
    /// The rise over 1.30 is 0.80 in no strip, and lies between no two strips.
    NotMet {
        /// The least rise of the strips.
        least: f64,
        /// The greatest rise of the strips.
        most: f64,
    },
    /// An exposure index by the meter, of the strip that rises most like the standard's.
    ByMeter {
        /// The index.
        index: f64,
        /// The rise of that strip over 1.30.
        rise: f64,
    },
}

/// The range of log exposure in which ISO 6 measures the rise.
const RANGE: f64 = 1.30;
/// The rise that ISO 6 requires, and its tolerance (from memory).
const RISE: (f64, f64) = (0.80, 0.05);
/// How many stops the speed point lies under the meter's reading, for a meter with K = 12.5 (from memory).
const UNDER_METER: f64 = 3.322;

/// The speed of these strips; `None` if no strip has a speed point.
pub(super) fn of(exposure: Exposure, strips: &[StripResult], index: Option<u32>) -> Option<Speed> {
    let mut known: Vec<(f64, f64)> = strips
        .iter()
        .filter_map(|strip| {
            let curve = strip.curve.as_ref()?;
            Some((curve.rise(RANGE)?, curve.speed_point()?))
        })
        .collect();
    known.sort_by(|one, other| one.0.total_cmp(&other.0));
    let off = |one: &(f64, f64)| (one.0 - RISE.0).abs();
    let nearest = known.iter().min_by(|one, other| off(one).total_cmp(&off(other)))?;
    if let (Exposure::Stops, Some(index)) = (exposure, index) {
        return Some(Speed::ByMeter {
            index: index_by_meter(f64::from(index), nearest.1 / STOP),
            rise: nearest.0,
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

/// The exposure index of a film whose speed point is this many stops from the meter's reading at `index`.
pub fn index_by_meter(index: f64, stops: f64) -> f64 {
    index * libm::exp2(-stops - UNDER_METER)
}
