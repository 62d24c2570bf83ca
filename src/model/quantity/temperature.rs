//! Temperatures and their differences, in 1/9000 °C: both 0.001 °C (9) and 0.001 °F (5) are whole.

use super::number::{Number, decimal};

/// A difference in 1/9000 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Difference {
    /// In 1/9000 °C.
    pub base: i64,
}

/// Base units in 1 °C.
pub(super) const CELSIUS: i64 = 9000;
/// Base units in 1 °F, which is 5/9 °C.
pub(super) const FAHRENHEIT: i64 = 5000;

impl Difference {
    /// From degrees Celsius.
    pub fn from_celsius(number: Number) -> Option<Difference> {
        number.in_base(CELSIUS).map(|base| Difference { base })
    }

    /// From degrees Fahrenheit.
    pub fn from_fahrenheit(number: Number) -> Option<Difference> {
        number.in_base(FAHRENHEIT).map(|base| Difference { base })
    }

    /// In degrees Celsius.
    #[expect(clippy::cast_precision_loss, reason = "differences of baths are far below 2^53 units")]
    pub fn celsius(self) -> f64 {
        self.base as f64 / CELSIUS as f64
    }
}

/// As a recipe writes it: `0.15 C`.
impl std::fmt::Display for Difference {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} C", decimal(self.base, CELSIUS, 3))
    }
}

/// A temperature in 1/9000 °C above 0 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature {
    /// In 1/9000 °C.
    pub base: i64,
}

impl Temperature {
    /// From whole degrees Celsius.
    pub const fn celsius_whole(degrees: i64) -> Temperature {
        Temperature { base: degrees.saturating_mul(CELSIUS) }
    }

    /// From degrees Celsius; `None` on overflow.
    pub fn from_celsius(number: Number) -> Option<Temperature> {
        number.in_base(CELSIUS).map(|base| Temperature { base })
    }

    /// From degrees Fahrenheit; `None` on overflow. °C = (°F − 32) · 5/9.
    pub fn from_fahrenheit(number: Number) -> Option<Temperature> {
        let base = number.in_base(FAHRENHEIT)?.checked_sub(32 * FAHRENHEIT)?;
        Some(Temperature { base })
    }

    /// In degrees Celsius.
    #[expect(clippy::cast_precision_loss, reason = "temperatures of a bath are far below 2^53 units")]
    pub fn celsius(self) -> f64 {
        self.base as f64 / CELSIUS as f64
    }

    /// In degrees Celsius with at most `places` places, without the unit.
    pub fn in_celsius(self, places: u32) -> String {
        decimal(self.base, CELSIUS, places)
    }

    /// In degrees Fahrenheit with at most `places` places, without the unit.
    pub fn in_fahrenheit(self, places: u32) -> String {
        decimal(self.base.saturating_add(32 * FAHRENHEIT), FAHRENHEIT, places)
    }

    /// The difference to `other`.
    pub fn above(self, other: Temperature) -> Difference {
        Difference { base: self.base.saturating_sub(other.base) }
    }

    /// Warmer by a difference.
    pub fn plus(self, by: Difference) -> Temperature {
        Temperature { base: self.base.saturating_add(by.base) }
    }

    /// Colder by a difference.
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
