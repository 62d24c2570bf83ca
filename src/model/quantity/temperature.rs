//! A temperature, in whole ninethousandths of a degree Celsius: the unit in which a thousandth of
//! a degree Celsius (9) and of a degree Fahrenheit (5) are both whole, so neither is rounded.

use super::difference::{CELSIUS, Difference, FAHRENHEIT};
use super::number::{Number, decimal};

/// A temperature in 1/9000 °C above 0 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature {
    /// Ninethousandths of a degree Celsius.
    pub base: i64,
}

impl Temperature {
    /// So many whole degrees Celsius.
    #[must_use]
    pub const fn celsius_whole(degrees: i64) -> Temperature {
        Temperature { base: degrees.saturating_mul(CELSIUS) }
    }

    /// That number of degrees Celsius; `None` out of all range.
    #[must_use]
    pub fn from_celsius(number: Number) -> Option<Temperature> {
        number.in_base(CELSIUS).map(|base| Temperature { base })
    }

    /// That number of degrees Fahrenheit; `None` out of all range. °C = (°F − 32) · 5/9.
    #[must_use]
    pub fn from_fahrenheit(number: Number) -> Option<Temperature> {
        let base = number.in_base(FAHRENHEIT)?.checked_sub(32 * FAHRENHEIT)?;
        Some(Temperature { base })
    }

    /// In degrees Celsius, for a formula.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "temperatures of a bath are far below 2^53 units")]
    pub fn celsius(self) -> f64 {
        self.base as f64 / CELSIUS as f64
    }

    /// In degrees Celsius as a decimal of at most `places` places, without the unit.
    #[must_use]
    pub fn in_celsius(self, places: u32) -> String {
        decimal(self.base, CELSIUS, places)
    }

    /// In degrees Fahrenheit as a decimal of at most `places` places, without the unit.
    #[must_use]
    pub fn in_fahrenheit(self, places: u32) -> String {
        decimal(self.base.saturating_add(32 * FAHRENHEIT), FAHRENHEIT, places)
    }

    /// How far this is above the other.
    #[must_use]
    pub fn above(self, other: Temperature) -> Difference {
        Difference { base: self.base.saturating_sub(other.base) }
    }

    /// Warmer by that much.
    #[must_use]
    pub fn plus(self, by: Difference) -> Temperature {
        Temperature { base: self.base.saturating_add(by.base) }
    }

    /// Colder by that much.
    #[must_use]
    pub fn minus(self, by: Difference) -> Temperature {
        Temperature { base: self.base.saturating_sub(by.base) }
    }
}

/// As a recipe writes it: `20 C`, `21.5 C`.
impl std::fmt::Display for Temperature {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} C", self.in_celsius(3))
    }
}
