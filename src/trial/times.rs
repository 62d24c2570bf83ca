//! The development time for a wanted contrast, and how sure it is.

use super::curve::pooled;
use super::fit::{Fit, NoFit, Strip};

use crate::source::Sorted as _;

/// The strips of a trial and their law, from which development times are calculated.
#[derive(Debug, Clone)]
pub struct Times {
    strips: Vec<Strip>,
    /// The law of the strips, or why there is none.
    pub fit: Result<Fit, NoFit>,
    /// The error of a contrast that is due to the errors of its density readings.
    reading: f64,
    /// The standard deviation of the contrasts from their best law, even if the strips do not show the law's limit.
    scatter: f64,
}

/// The time for a contrast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Answer {
    /// The time in minutes.
    pub minutes: f64,
    /// Half the width in minutes of the interval that holds the true time in at least nine of ten trials.
    pub half_width: f64,
    /// What the time was calculated from.
    pub basis: Basis,
    /// Whether the contrast or the temperature is outside the tested range.
    pub is_outside: bool,
}

impl Answer {
    /// The ends of the interval in minutes, rounded to 10 s, or to 5 s below five minutes.
    pub fn bounds(&self) -> (f64, f64) {
        let step = if self.minutes < 5.0 { 12.0 } else { 6.0 };
        let rounded = |minutes: f64| libm::floor(minutes * step + 0.5).max(0.0) / step;
        (rounded(self.minutes - self.half_width), rounded(self.minutes + self.half_width))
    }

    /// Whether a time that is wrong by `half_width` makes no visible difference in a print.
    pub fn is_unseen(&self) -> bool {
        self.half_width <= UNSEEN * self.minutes
    }
}

/// A change of a time by at most this share cannot be seen in a print (common practice, no source).
const UNSEEN: f64 = 0.10;

/// What a time was calculated from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Basis {
    /// The law of all strips. For comparison, the time by the two neighbouring strips is given, if there are two at
    /// this temperature.
    Law {
        /// The time in minutes by the two neighbouring strips.
        by_neighbours: Option<f64>,
    },
    /// The two strips with the nearest lower and higher contrast, as their times in minutes.
    Neighbours(f64, f64),
}

/// Why there is no time for a contrast. `low` and `high` bound the values for which there is a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoTime {
    /// The contrast is outside the tested ones.
    Contrast {
        /// The lowest contrast for which there is a time.
        low: f64,
        /// The highest contrast for which there is a time.
        high: f64,
    },
    /// The temperature is outside the tested ones.
    Temperature {
        /// The lowest temperature in °C.
        low: f64,
        /// The highest temperature in °C.
        high: f64,
    },
    /// There is no law, and there are fewer than two strips at this temperature.
    BetweenTemperatures,
    /// The law never reaches the contrast. The number is the law's limit.
    PastLimit(f64),
}

/// A time between two strips is interpolated: the contrast is taken as linear in the logarithm of the time. This time
/// differs from the time by the law by at most `BEND` times the square of ln(longer time / shorter time). Example: for
/// strips of 4 and 15 minutes, this bound is 3.5 % of the time. For a law with the limit 1.02, k 0.135 and t0 0.5, the
/// times really differ by 2.9 %.
const BEND: f64 = 0.02;
/// A strip whose contrast is at least this far from the law of the others can be an outlier, because a print shows this
/// difference (common practice, no source).
const OUTLIER: f64 = 0.03;
/// The time by the law and the time by the two neighbouring strips disagree if they differ by more than this share,
/// which is 3 %.
pub const DISAGREE: f64 = 0.03;

impl Times {
    /// `reading` is the error of a contrast that is due to the errors of its density readings.
    pub fn new(strips: Vec<Strip>, reading: f64) -> Times {
        let best = Fit::best(&strips);
        let scatter = best.as_ref().map_or(0.0, |fit| fit.scatter);
        let fit = best.and_then(|fit| fit.with_limit(&strips));
        Times { strips, fit, reading, scatter }
    }

    /// The strips of the trial.
    pub fn strips(&self) -> &[Strip] {
        &self.strips
    }

    /// The lowest and the highest tested contrast.
    pub fn contrasts(&self) -> (f64, f64) {
        range(self.strips.iter().map(|strip| strip.contrast))
    }

    /// The lowest and the highest tested temperature.
    pub fn temperatures(&self) -> (f64, f64) {
        range(self.strips.iter().map(|strip| strip.celsius))
    }

    /// The range in which the factor per 10 °C lies, allowing for errors; `None` if the law has no factor.
    pub fn factor_range(&self) -> Option<(f64, f64)> {
        self.fit.as_ref().ok()?.factor_range(self.reading)
    }

    /// The strip that is far from the law of all others, and how far its contrast is above that law; `None` if there is
    /// none.
    pub fn outlier(&self) -> Option<(Strip, f64)> {
        let off = &self.fit.as_ref().ok()?.residuals;
        let farthest = (0..).zip(off).max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))?.0;
        let strip = *self.strips.get(farthest)?;
        let others = (0..).zip(&self.strips).filter(|(at, _)| *at != farthest).map(|(_, strip)| *strip);
        let others = Fit::of(&others.collect::<Vec<_>>()).ok().filter(|fit| fit.freedom > 0)?;
        let off = strip.contrast - others.law.contrast(strip.minutes, strip.celsius);
        let usual = OUTLIER.max(3.0 * others.scatter).max(4.0 * self.reading);
        (off.abs() >= usual).then_some((strip, off))
    }

    /// The time for a contrast at a temperature. `beyond` allows values outside the tested range, if there is a law.
    ///
    /// # Errors
    /// The contrast or the temperature is outside the tested range, the law never reaches the contrast, or there is no
    /// law and there are fewer than two strips at this temperature.
    pub fn minutes(&self, contrast: f64, celsius: f64, beyond: bool) -> Result<Answer, NoTime> {
        let ((low, high), (cold, warm)) = (self.contrasts(), self.temperatures());
        let is_warm_enough = cold - NEAR <= celsius && celsius <= warm + NEAR;
        let is_outside = !(low..=high).contains(&contrast) || !is_warm_enough;
        let Ok(fit) = &self.fit else { return self.between(contrast, celsius) };
        if is_outside && !beyond {
            return Err(if is_warm_enough {
                NoTime::Contrast { low, high }
            } else {
                NoTime::Temperature { low: cold, high: warm }
            });
        }
        let minutes = fit.law.minutes(contrast, celsius).ok_or(NoTime::PastLimit(fit.law.limit))?;
        let by_neighbours = self.between(contrast, celsius).ok().map(|answer| answer.minutes);
        let half_width = fit.half_width(contrast, celsius, self.reading);
        Ok(Answer { minutes, half_width, basis: Basis::Law { by_neighbours }, is_outside })
    }

    /// The time between the two strips at this temperature whose contrasts are the nearest below and above.
    fn between(&self, contrast: f64, celsius: f64) -> Result<Answer, NoTime> {
        let points = self.at(celsius);
        if points.len() < 2 {
            let (low, high) = self.temperatures();
            let is_inside = low - NEAR <= celsius && celsius <= high + NEAR;
            return Err(if is_inside {
                NoTime::BetweenTemperatures
            } else {
                NoTime::Temperature { low, high }
            });
        }
        let pairs = points.iter().zip(points.iter().skip(1));
        let found =
            pairs.clone().find(|(one, other)| one.1 <= contrast && contrast <= other.1 && one.1 < other.1);
        let Some(((short, soft), (long, hard))) = found else {
            let (low, high) = range(points.iter().map(|point| point.1));
            return Err(NoTime::Contrast { low, high });
        };
        let share = (contrast - soft) / (hard - soft);
        let ratio = libm::log(long / short);
        let minutes = short * libm::exp(share * ratio);
        let by_reading =
            2.0 * self.reading.max(self.scatter) * libm::hypot(share, 1.0 - share) * ratio / (hard - soft);
        let half_width = minutes * (by_reading + BEND * ratio * ratio);
        Ok(Answer { minutes, half_width, basis: Basis::Neighbours(*short, *long), is_outside: false })
    }

    /// The times and contrasts of the strips at a temperature. Strips with the same time give one mean contrast.
    /// Contrasts that fall with longer time are replaced by their common mean.
    fn at(&self, celsius: f64) -> Vec<(f64, f64)> {
        let own = self.strips.iter().filter(|strip| (strip.celsius - celsius).abs() < NEAR);
        let mut own: Vec<&Strip> = own.collect();
        own.order_by(|one, other| one.minutes.total_cmp(&other.minutes));
        let same = own.chunk_by(|one, other| other.minutes - one.minutes < NEAR);
        let sum = |strips: &[&Strip]| {
            let count = strips.iter().map(|_| 1.0).sum::<f64>();
            Some((strips.first()?.minutes, (strips.iter().map(|strip| strip.contrast).sum::<f64>(), count)))
        };
        let (times, contrasts): (Vec<f64>, Vec<(f64, f64)>) = same.filter_map(sum).unzip();
        times.into_iter().zip(pooled(&contrasts)).collect()
    }
}

/// Times or temperatures with a smaller difference are equal.
const NEAR: f64 = 1e-6;

fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let grow = |(low, high): (f64, f64), value: f64| (low.min(value), high.max(value));
    values.fold((f64::INFINITY, f64::NEG_INFINITY), grow)
}
