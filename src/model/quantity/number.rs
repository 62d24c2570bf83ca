//! A number as it is written: exact, as a fraction of two whole numbers. There is no infinity here
//! and nothing that is not a number.

/// A number as written, `numerator / denominator`; the denominator is above 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Number {
    numerator: i64,
    denominator: i64,
}

/// More figures than this are not a measurement.
const FIGURES_MAX: usize = 12;

impl Number {
    /// A whole number.
    #[must_use]
    pub fn whole(value: i64) -> Number {
        Number { numerator: value, denominator: 1 }
    }

    /// Reads `20`, `2.5` or `-40`; `None` if it is none of these or has more than twelve figures.
    #[must_use]
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
        Some(Number { numerator, denominator })
    }

    /// Reads `1/4`; `None` for a denominator of 0 or over a thousand.
    #[must_use]
    pub fn parse_fraction(text: &str) -> Option<Number> {
        let (above, below) = text.split_once('/')?;
        let (numerator, denominator) = (above.parse::<i64>().ok()?, below.parse::<i64>().ok()?);
        let sound = (1..=1000).contains(&denominator) && numerator <= 1_000_000;
        sound.then_some(Number { numerator, denominator })
    }

    /// This and a part of one, as `10 1/4` is 10 plus 1/4; a sign is of all of it.
    #[must_use]
    pub fn plus(self, other: Number) -> Option<Number> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let part = other.numerator.checked_mul(self.denominator)?;
        let right = if self.numerator < 0 { part.checked_neg()? } else { part };
        Some(Number {
            numerator: left.checked_add(right)?,
            denominator: self.denominator.checked_mul(other.denominator)?,
        })
    }

    /// As a count; `None` unless it is whole and not negative.
    #[must_use]
    pub fn count(self) -> Option<u32> {
        (self.numerator % self.denominator == 0)
            .then(|| u32::try_from(self.numerator / self.denominator).ok())
            .flatten()
    }

    /// How many base units this many units are, a unit being `factor` base units: to the nearest,
    /// half up; `None` past the range of 64 bits.
    #[must_use]
    pub fn in_base(self, factor: i64) -> Option<i64> {
        let product = i128::from(self.numerator) * i128::from(factor);
        let denominator = i128::from(self.denominator);
        i64::try_from((2 * product + denominator).div_euclid(2 * denominator)).ok()
    }

    /// As a real number, for a formula.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "twelve figures fit in a real number")]
    pub fn real(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

/// Writes `base / unit` as a plain decimal of at most `places` places, half up, without the zeros
/// at its end. `unit` is above 0.
#[must_use]
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
