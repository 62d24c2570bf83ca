//! A difference of two temperatures: a kind of its own, since 1 °F of difference is 5/9 °C and the
//! offset of 32 has no part in it.

use super::number::{Number, decimal};

/// A difference in 1/9000 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Difference {
    /// Ninethousandths of a degree Celsius.
    pub base: i64,
}

/// Base units in a degree Celsius.
pub(super) const CELSIUS: i64 = 9000;
/// Base units in a degree Fahrenheit: 5/9 of a degree Celsius.
pub(super) const FAHRENHEIT: i64 = 5000;

impl Difference {
    /// That many degrees Celsius of difference.
    #[must_use]
    pub fn from_celsius(number: Number) -> Option<Difference> {
        number.in_base(CELSIUS).map(|base| Difference { base })
    }

    /// That many degrees Fahrenheit of difference.
    #[must_use]
    pub fn from_fahrenheit(number: Number) -> Option<Difference> {
        number.in_base(FAHRENHEIT).map(|base| Difference { base })
    }

    /// In degrees Celsius, for a formula.
    #[must_use]
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
