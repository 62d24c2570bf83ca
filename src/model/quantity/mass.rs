//! A mass, in whole picograms (10^-12 g): a hundredth of a grain is whole.

use super::number::{Number, decimal};

/// A mass in picograms.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Mass {
    /// Picograms.
    pub pg: i64,
}

impl Mass {
    /// Picograms in a gram.
    pub const G: i64 = 1_000_000_000_000;

    /// That number of a unit that is `unit` picograms.
    #[must_use]
    pub fn of(number: Number, unit: i64) -> Option<Mass> {
        number.in_base(unit).map(|pg| Mass { pg })
    }

    /// `self · numerator / denominator`, to the nearest picogram; saturates.
    #[must_use]
    pub fn scaled(self, numerator: i64, denominator: i64) -> Mass {
        let below = i128::from(denominator.max(1));
        let product = i128::from(self.pg) * i128::from(numerator);
        Mass { pg: i64::try_from((2 * product + below).div_euclid(2 * below)).unwrap_or(i64::MAX) }
    }

    /// To the nearest multiple of `step`, half up.
    #[must_use]
    pub fn rounded(self, step: Mass) -> Mass {
        let step = step.pg.max(1);
        Mass { pg: self.pg.saturating_add(step / 2).div_euclid(step).saturating_mul(step) }
    }

    /// In grams as a decimal of at most `places` places, without the unit.
    #[must_use]
    pub fn in_g(self, places: u32) -> String {
        decimal(self.pg, Mass::G, places)
    }
}

/// In grams: `2.5 g`.
impl std::fmt::Display for Mass {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} g", self.in_g(6))
    }
}
