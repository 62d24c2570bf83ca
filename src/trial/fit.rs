//! Contrast against development time, and the time for a wanted contrast.
//!
//! The law is G(t) = G∞ (1 - exp(-k (t - t0))): the contrast rises to its limit G∞ at the velocity constant k per
//! minute, from the time t0 on. H. E. Ives, Airplane Photography, 1920, chapter XVIII, has gamma infinity and the
//! velocity constant; he does not say in which base. At another temperature, all times are longer or shorter by the
//! factor F per 10 °C. The law is only a description: the deviations of the strips from it show whether it holds.

use super::solve::{form, inverse};

use crate::source::Sorted as _;

/// A strip of a trial.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// The development time in minutes.
    pub minutes: f64,
    /// The temperature in °C.
    pub celsius: f64,
    /// The contrast.
    pub contrast: f64,
}

/// The constants of the law G(t) = G∞ (1 - exp(-k (t - t0))), by which the contrast G rises with the time t.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Law {
    /// The contrast after endless development, G∞.
    pub limit: f64,
    /// The velocity constant k per minute, in base e.
    pub rate: f64,
    /// The time in minutes from which the contrast rises, t0.
    pub start: f64,
    /// The temperature in °C to which `rate` and `start` belong.
    pub celsius: f64,
    /// The factor F by which times shorten per 10 °C; `None` if all strips are of one temperature.
    pub factor: Option<f64>,
}

/// The law of a trial's strips, and how well it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The constants of the law.
    pub law: Law,
    /// How far the contrast of each strip is above the law, in the order of the strips.
    pub residuals: Vec<f64>,
    /// The standard deviation of the strips from the law; 0 without a degree of freedom.
    pub scatter: f64,
    /// The degrees of freedom: the number of strips less the number of fitted constants.
    pub freedom: usize,
    /// The covariance of limit, rate, start and the logarithm of the factor, for a scatter of 1.
    covariance: [[f64; 4]; 4],
}

/// Why no law can be fitted to the strips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFit {
    /// There are fewer than three different times.
    TooFewTimes,
    /// The contrast does not rise with the time.
    DoesNotRise,
    /// The strips do not show the limit of the contrast, because all times are too short.
    LimitNotSeen,
    /// The strips are of several temperatures, all less than 3 °C apart.
    TooNear,
}

/// The least distance of two temperatures in °C from which their factor is calculated.
pub const APART_MIN: f64 = 3.0;
/// The range of velocity constants per minute that is searched.
const RATES: (f64, f64) = (0.005, 3.0);
/// The range of factors per 10 °C that is searched.
const FACTORS: (f64, f64) = (1.05, 5.0);
/// The number of intervals in the first, coarse search for the velocity constant.
const TRIED: u32 = 40;
/// The number of steps of the finer search; each step shortens the interval to 0.618 of its length.
const STEPS: usize = 32;
/// The strips show the limit only if the velocity constant times the longest time is at least this.
const SEEN: f64 = 1.2;
/// The strips show the limit only if its standard error is at most this share of the limit.
const LIMIT_ERROR: f64 = 0.10;

impl Law {
    /// The time in minutes at the law's temperature that gives the same contrast as `minutes` at `celsius`.
    fn counted(&self, minutes: f64, celsius: f64) -> f64 {
        minutes * self.quickening(celsius)
    }

    /// How many times as fast development is at this temperature as at the temperature of the law.
    fn quickening(&self, celsius: f64) -> f64 {
        self.factor.map_or(1.0, |factor| libm::exp(libm::log(factor) * (celsius - self.celsius) / 10.0))
    }

    /// The contrast after this time at this temperature.
    pub fn contrast(&self, minutes: f64, celsius: f64) -> f64 {
        let time = self.counted(minutes, celsius) - self.start;
        -self.limit * libm::expm1(-self.rate * time)
    }

    /// The time in minutes for a contrast at a temperature; `None` if no time above 0 gives this contrast.
    pub fn minutes(&self, contrast: f64, celsius: f64) -> Option<f64> {
        let left = 1.0 - contrast / self.limit;
        let time = self.start - libm::log(left) / self.rate;
        (left > 0.0 && time > 0.0).then(|| time / self.quickening(celsius))
    }

    /// How fast the contrast rises per minute, at this contrast and temperature.
    pub fn steepness(&self, contrast: f64, celsius: f64) -> f64 {
        self.rate * (self.limit - contrast) * self.quickening(celsius)
    }
}

impl Fit {
    /// The law of these strips by least squares. For each velocity constant, a straight line gives limit and start, so
    /// only the velocity constant and, with several temperatures, the factor are searched for.
    ///
    /// # Errors
    /// The strips are too few, or do not determine the law.
    pub fn of(strips: &[Strip]) -> Result<Fit, NoFit> {
        Fit::best(strips)?.with_limit(strips)
    }

    /// The best law of these strips, even if they do not show its limit.
    pub(super) fn best(strips: &[Strip]) -> Result<Fit, NoFit> {
        let celsius = strips.first().ok_or(NoFit::TooFewTimes)?.celsius;
        let (cold, warm) = range(strips, |strip| strip.celsius);
        let is_one_temperature = warm - cold < 1e-9;
        if !is_one_temperature && warm - cold < APART_MIN {
            return Err(NoFit::TooNear);
        }
        if distinct_times(strips) < 3 {
            return Err(NoFit::TooFewTimes);
        }
        let (celsius, factor) = if is_one_temperature {
            (celsius, None)
        } else {
            let error = |factor: f64| best_rate(strips, 20.0, Some(factor)).map_or(f64::INFINITY, |it| it.1);
            (20.0, Some(searched(FACTORS, 12, error)))
        };
        let (law, _) = best_rate(strips, celsius, factor).ok_or(NoFit::DoesNotRise)?;
        Fit::around(strips, law).ok_or(NoFit::LimitNotSeen)
    }

    /// This fit, if the strips show the limit of its law; else [`NoFit::LimitNotSeen`].
    pub(super) fn with_limit(self, strips: &[Strip]) -> Result<Fit, NoFit> {
        let law = &self.law;
        let longest = range(strips, |strip| law.counted(strip.minutes, strip.celsius)).1;
        let is_at_edge = law.rate < RATES.0 * 1.01 || law.rate > RATES.1 * 0.99;
        let error = self.scatter * libm::sqrt(self.covariance[0][0]);
        let is_seen = !is_at_edge && law.rate * longest >= SEEN && error <= LIMIT_ERROR * law.limit;
        if is_seen { Ok(self) } else { Err(NoFit::LimitNotSeen) }
    }

    /// The fit with this law; `None` if the strips do not determine its constants.
    fn around(strips: &[Strip], law: Law) -> Option<Fit> {
        let residuals: Vec<f64> =
            strips.iter().map(|strip| strip.contrast - law.contrast(strip.minutes, strip.celsius)).collect();
        // The fit replaces a start below 0 by 0. A start of 0 does not count as a fitted constant.
        let (is_start_free, is_factor_free) = (law.start > 0.0, law.factor.is_some());
        let constants = 2 + usize::from(is_start_free) + usize::from(is_factor_free);
        let mut normal = [[0.0; 4]; 4];
        for strip in strips {
            let row = law.changes(strip, is_start_free);
            for (line, one) in normal.iter_mut().zip(row) {
                line.iter_mut().zip(row).for_each(|(cell, other)| *cell += one * other);
            }
        }
        // A constant that is not free gets a 1 on the diagonal, so that the matrix can be inverted.
        normal[2][2] += if is_start_free { 0.0 } else { 1.0 };
        normal[3][3] += if is_factor_free { 0.0 } else { 1.0 };
        let mut covariance = inverse(normal)?;
        covariance[2][2] *= if is_start_free { 1.0 } else { 0.0 };
        covariance[3][3] *= if is_factor_free { 1.0 } else { 0.0 };
        let freedom = strips.len().saturating_sub(constants);
        let squares: f64 = residuals.iter().map(|off| off * off).sum();
        let scatter = if freedom == 0 { 0.0 } else { libm::sqrt(squares / real(freedom)) };
        Some(Fit { law, residuals, scatter, freedom, covariance })
    }

    /// The standard deviation, in minutes, of the time for a contrast, if the contrasts of the strips are wrong by
    /// `scatter`.
    fn deviation(&self, contrast: f64, celsius: f64, scatter: f64) -> f64 {
        let Law { limit, rate, factor, .. } = self.law;
        let (left, quickening) = (1.0 - contrast / limit, self.law.quickening(celsius));
        let minutes = self.law.minutes(contrast, celsius).unwrap_or(0.0);
        let by_factor = if factor.is_some() { -minutes * (celsius - self.law.celsius) / 10.0 } else { 0.0 };
        let gradient = [
            -contrast / (limit * limit * rate * left) / quickening,
            libm::log(left) / (rate * rate) / quickening,
            1.0 / quickening,
            by_factor,
        ];
        scatter * libm::sqrt(form(&self.covariance, &gradient).max(0.0))
    }

    /// The range of the factor per 10 °C, if the reading error of a contrast is `reading`; `None` if the law has no
    /// factor.
    pub fn factor_range(&self, reading: f64) -> Option<(f64, f64)> {
        let factor = self.law.factor?;
        let half = self.wide(reading) * libm::sqrt(self.covariance[3][3]);
        Some((factor * libm::exp(-half), factor * libm::exp(half)))
    }

    /// Half the width of the 95 % interval of a contrast: twice the reading error, or the scatter of the strips times
    /// Student's quantile for 95 %, whichever is more.
    fn wide(&self, reading: f64) -> f64 {
        (2.0 * reading).max(self.scatter * student(self.freedom))
    }

    /// Half the width, in minutes, of the interval that holds the true time for a contrast.
    pub(super) fn half_width(&self, contrast: f64, celsius: f64, reading: f64) -> f64 {
        self.deviation(contrast, celsius, self.wide(reading))
    }
}

impl Law {
    /// The derivatives of a strip's contrast by limit, rate, start and the logarithm of the factor.
    fn changes(&self, strip: &Strip, is_start_free: bool) -> [f64; 4] {
        let counted = self.counted(strip.minutes, strip.celsius);
        let left = libm::exp(-self.rate * (counted - self.start));
        let speed = self.limit * self.rate * left;
        let by_start = if is_start_free { -speed } else { 0.0 };
        let by_factor =
            if self.factor.is_some() { speed * counted * (strip.celsius - self.celsius) / 10.0 } else { 0.0 };
        [1.0 - left, self.limit * left * (counted - self.start), by_start, by_factor]
    }
}

/// The law with the best velocity constant for this factor, and the sum of the squared deviations from it.
fn best_rate(strips: &[Strip], celsius: f64, factor: Option<f64>) -> Option<(Law, f64)> {
    let law = Law { limit: 0.0, rate: 0.0, start: 0.0, celsius, factor };
    let points: Vec<(f64, f64)> =
        strips.iter().map(|strip| (law.counted(strip.minutes, strip.celsius), strip.contrast)).collect();
    let line = |rate: f64| line(&points, rate);
    let rate = searched(RATES, TRIED, |rate| line(rate).map_or(f64::INFINITY, |(.., error)| error));
    let (limit, start, error) = line(rate)?;
    Some((Law { limit, rate, start, ..law }, error))
}

/// The best limit and start for a velocity constant, and the sum of the squared deviations. With E = exp(-k t), the law
/// is the straight line G = a - b E. Its limit is a, its start is ln(b/a)/k. A start below 0 becomes 0, so that b = a.
fn line(points: &[(f64, f64)], rate: f64) -> Option<(f64, f64, f64)> {
    let count = points.iter().map(|_| 1.0).sum::<f64>();
    let decayed: Vec<(f64, f64)> =
        points.iter().map(|(minutes, contrast)| (libm::exp(-rate * minutes), *contrast)).collect();
    let (x, y) = decayed.iter().fold((0.0, 0.0), |(x, y), one| (x + one.0 / count, y + one.1 / count));
    let (mut along, mut across) = (0.0, 0.0);
    for (left, contrast) in &decayed {
        along += (left - x) * (left - x);
        across += (left - x) * (contrast - y);
    }
    let fall = -across / along;
    let limit = y + fall * x;
    let (limit, fall) = if fall >= limit || !fall.is_finite() {
        (limit, fall)
    } else {
        let (mut own, mut with) = (0.0, 0.0);
        for (left, contrast) in &decayed {
            own += (1.0 - left) * (1.0 - left);
            with += (1.0 - left) * contrast;
        }
        (with / own, with / own)
    };
    let error =
        decayed.iter().map(|(left, contrast)| contrast - limit + fall * left).map(|off| off * off).sum();
    let start = libm::log(fall / limit) / rate;
    (limit > 0.0 && start.is_finite()).then_some((limit, start.max(0.0), error))
}

/// The argument between `low` and `high` for which `value` is least: the best of evenly spaced logarithms, then a
/// golden-section search around it. The number of steps is fixed, so the result is the same everywhere.
fn searched((low, high): (f64, f64), tried: u32, value: impl Fn(f64) -> f64) -> f64 {
    let (from, to) = (libm::log(low), libm::log(high));
    let wide = (to - from) / f64::from(tried);
    let at = |step: u32| from + wide * f64::from(step);
    let tried = (0..=tried).map(|step| (at(step), value(libm::exp(at(step)))));
    let best = tried.min_by(|one, other| one.1.total_cmp(&other.1)).map_or(from, |(best, _)| best);
    let (mut low, mut high) = ((best - wide).max(from), (best + wide).min(to));
    let golden = 0.618_033_988_749_894_9;
    let (mut left, mut right) = (high - golden * (high - low), low + golden * (high - low));
    let (mut at_left, mut at_right) = (value(libm::exp(left)), value(libm::exp(right)));
    for _ in 0..STEPS {
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - golden * (high - low);
            at_left = value(libm::exp(left));
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + golden * (high - low);
            at_right = value(libm::exp(right));
        }
    }
    libm::exp(0.5 * (low + high))
}

/// Student's quantile for 95 % on both sides, by degrees of freedom (standard tables).
fn student(freedom: usize) -> f64 {
    const QUANTILES: [f64; 10] =
        [12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060, 2.2622, 2.2281];
    match freedom {
        0 => 0.0,
        1..=10 => QUANTILES.get(freedom - 1).copied().unwrap_or(2.0),
        11..=20 => 2.2,
        _ => 2.1,
    }
}

fn distinct_times(strips: &[Strip]) -> usize {
    let mut times: Vec<f64> = strips.iter().map(|strip| strip.minutes).collect();
    times.order_by(f64::total_cmp);
    times.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
    times.len()
}

fn range(strips: &[Strip], value: impl Fn(&Strip) -> f64) -> (f64, f64) {
    let grow = |(low, high): (f64, f64), value: f64| (low.min(value), high.max(value));
    strips.iter().map(value).fold((f64::INFINITY, f64::NEG_INFINITY), grow)
}

#[expect(clippy::cast_precision_loss, reason = "there are at most a few hundred strips")]
fn real(count: usize) -> f64 {
    count as f64
}
