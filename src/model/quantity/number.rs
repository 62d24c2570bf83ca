//! Exact numbers as a file writes them, and the allowed range of each quantity.

use std::fmt::{Display, Formatter, Result as Formatted};
use std::ops::Rem;

/// An exact number, as a fraction with a positive denominator; in lowest terms if it is written as a decimal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Number {
    numerator: i64,
    denominator: i64,
}

const FIGURES_MAX: usize = 12;

impl Number {
    /// Parses a number such as `20`, `2.5` or `-40`, of at most twelve digits; `None` for any other text.
    pub fn parse(text: &str) -> Option<Number> {
        let (sign, digits) = match text.strip_prefix('-') {
            Some(rest) => (-1, rest),
            None => (1, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let figures = whole.len() + part.len();
        let plain = |figures: &str| figures.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || figures > FIGURES_MAX || !plain(whole) || !plain(part) {
            return None;
        }
        let places = u32::try_from(part.len()).ok()?;
        let denominator = 10_i64.checked_pow(places)?;
        let digits = whole.bytes().chain(part.bytes()).map(|digit| i64::from(digit - b'0'));
        let numerator = sign * digits.fold(0, |number, digit| number * 10 + digit);
        let shared = gcd(numerator.abs(), denominator).max(1);
        Some(Number { numerator: numerator / shared, denominator: denominator / shared })
    }

    /// Parses a fraction such as `1/4`, with a denominator from 1 to 1000; `None` for any other text.
    pub fn parse_fraction(text: &str) -> Option<Number> {
        let (above, below) = text.split_once('/')?;
        let (numerator, denominator) = (above.parse::<i64>().ok()?, below.parse::<i64>().ok()?);
        let sound = (1..=1000).contains(&denominator) && numerator <= 1_000_000;
        sound.then_some(Number { numerator, denominator })
    }

    /// The number with a fraction added, as in `10 1/4`; `None` on overflow. The sign of the number holds for the
    /// fraction too: `-10 1/4` is -10.25.
    pub fn plus(self, other: Number) -> Option<Number> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let part = other.numerator.checked_mul(self.denominator)?;
        let right = if self.numerator < 0 { part.checked_neg()? } else { part };
        Some(Number {
            numerator: left.checked_add(right)?,
            denominator: self.denominator.checked_mul(other.denominator)?,
        })
    }

    /// The number as a count; `None` if it is negative or not whole.
    pub fn count(self) -> Option<u32> {
        (self.numerator % self.denominator == 0)
            .then(|| u32::try_from(self.numerator / self.denominator).ok())
            .flatten()
    }

    /// The number in whole base units; one unit of the number has `factor` base units. Half a base unit is rounded up;
    /// `None` on overflow.
    pub fn in_base(self, factor: i64) -> Option<i64> {
        let product = i128::from(self.numerator) * i128::from(factor);
        let denominator = i128::from(self.denominator);
        i64::try_from((2 * product + denominator).div_euclid(2 * denominator)).ok()
    }

    /// The number in floating point.
    #[expect(clippy::cast_precision_loss, reason = "twelve figures fit in a real number")]
    pub fn real(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

/// Writes the number as a decimal of at most twelve places.
impl Display for Number {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        out.write_str(&decimal(self.numerator, self.denominator, 12))
    }
}

pub(crate) fn gcd<T: Copy + Default + PartialEq + Rem<Output = T>>(one: T, other: T) -> T {
    let (mut one, mut other) = (one, other);
    while other != T::default() {
        (one, other) = (other, one % other);
    }
    one
}

/// `base / unit` as a decimal with at most `places` places, without trailing zeros. A half is rounded up.
pub fn decimal(base: i64, unit: i64, places: u32) -> String {
    let scale = 10_i128.pow(places.min(18));
    let unit = i128::from(unit.max(1));
    let scaled = (2 * i128::from(base) * scale + unit).div_euclid(2 * unit);
    let sign = if scaled < 0 { "-" } else { "" };
    let (whole, part) = (scaled.abs() / scale, scaled.abs() % scale);
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let part = format!("{part:0width$}", width = places as usize);
    format!("{sign}{whole}.{}", part.trim_end_matches('0'))
}

/// The allowed range of a quantity in base units, including both ends.
#[derive(Debug, Clone, Copy)]
pub struct Limit {
    /// The name of the quantity in messages, such as `a time`.
    pub what: &'static str,
    /// The least value, in base units.
    pub least: i64,
    /// The greatest value, in base units.
    pub most: i64,
    /// The range in messages, such as `0 s to 7 days`.
    pub words: &'static str,
}

const fn limit(what: &'static str, least: i64, most: i64, words: &'static str) -> Limit {
    Limit { what, least, most, words }
}

impl Limit {
    /// The limits of a bath's temperature, in 1/9000 °C.
    pub const BATH: Limit = limit("a temperature", -5 * 9000, 60 * 9000, "-5 C to 60 C (23 F to 140 F)");
    /// The limits of the temperature of water from a tap or for a formula, in 1/9000 °C.
    pub const WATER: Limit = limit("the temperature of water", 0, 100 * 9000, "0 C to 100 C (32 F to 212 F)");
    /// The limits of a difference of temperatures, in 1/9000 °C.
    pub const DIFFERENCE: Limit = limit("a difference of temperatures", 90, 30 * 9000, "0.01 C to 30 C");
    /// The limits of a time in a step, in milliseconds.
    pub const TIME: Limit = limit("a time", 0, 7 * 86_400_000, "0 s to 7 days");
    /// The limits of a time in a chart, in milliseconds.
    pub const CHART_TIME: Limit = limit("a time in a chart", 5_000, 4 * 3_600_000, "5 s to 4 h");
    /// The limits of a volume, in femtolitres.
    pub const VOLUME: Limit =
        limit("a volume", 1_000_000_000, 1_000_000_000_000_000_000, "0.001 ml to 1000 l");
    /// The limits of a mass, in picograms.
    pub const MASS: Limit = limit("a mass", 1_000_000, 1_000_000_000_000_000_000, "0.001 mg to 1000 kg");
    /// The limits of a number of parts in a dilution.
    pub const PART: Limit = limit("a part", 1, 10_000, "1 to 10000");
    /// The limits of a film speed or an exposure index.
    pub const INDEX: Limit = limit("a film speed", 1, 1_000_000, "1 to 1000000");
    /// The limits of a count of reels, rolls or changes of water.
    pub const COUNT: Limit = limit("this number", 1, 10_000, "1 to 10000");
    /// The limits of the speed of a drum, in turns per minute.
    pub const SPEED: Limit = limit("a drum's speed", 1, 500, "1 to 500 rpm");
    /// The limits of the flow of water, in femtolitres per minute.
    pub const FLOW: Limit =
        limit("flowing water", 10_000_000_000_000, 100_000_000_000_000_000, "0.01 to 100 l/min");
    /// The limits of a temperature coefficient, in thousandths.
    pub const FACTOR: Limit = limit("a rate", 1_000, 10_000, "1 to 10");

    /// The limits of the factor of a multiple, as in `time 3 x clearing`, in thousandths.
    pub const TIMES: Limit = limit("this number", 100, 1_000_000, "0.1 to 1000");
    /// The limits of a pH, in thousandths.
    pub const PH: Limit = limit("a pH", 0, 14_000, "0 to 14");
    /// The limits of a density or a contrast, in thousandths. The darkest film has a density of about 4 (no source
    /// looked up).
    pub const DENSITY: Limit = limit("a density or a contrast", 0, 6_000, "0 to 6");

    /// The limits of a reading of a scanner or a phone, in thousandths; 65535 is the greatest reading of 16 bits.
    pub const BRIGHTNESS: Limit = limit("a reading", 1, 65_535_000, "0.001 to 65535");

    /// Whether a quantity of `base` base units is within the limits.
    pub const fn holds(self, base: i64) -> bool {
        self.least <= base && base <= self.most
    }
}
