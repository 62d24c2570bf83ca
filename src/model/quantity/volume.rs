//! A volume, in whole femtolitres (10^-15 l): the unit in which a hundredth of every fluid ounce is
//! whole. 64 bits hold some 9,000 l.

use std::ops::{Add, Sub};

use super::number::{Number, decimal};

/// A volume in femtolitres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Volume {
    /// Femtolitres.
    pub fl: i64,
}

impl Volume {
    /// No volume.
    pub const ZERO: Volume = Volume { fl: 0 };
    /// Femtolitres in a millilitre.
    pub const ML: i64 = 1_000_000_000_000;

    /// So many whole millilitres.
    #[must_use]
    pub const fn from_ml(ml: i64) -> Volume {
        Volume { fl: ml.saturating_mul(Volume::ML) }
    }

    /// That number of a unit that is `unit` femtolitres.
    #[must_use]
    pub fn of(number: Number, unit: i64) -> Option<Volume> {
        number.in_base(unit).map(|fl| Volume { fl })
    }

    /// In millilitres as a decimal of at most `places` places, without the unit.
    #[must_use]
    pub fn in_ml(self, places: u32) -> String {
        decimal(self.fl, Volume::ML, places)
    }

    /// In millilitres, for a reader of numbers.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "printed volumes are multiples of 0.1 ml")]
    pub fn ml(self) -> f64 {
        self.fl as f64 / Volume::ML as f64
    }

    /// `self · numerator / denominator`, to the nearest femtolitre; saturates.
    #[must_use]
    pub fn scaled(self, numerator: i64, denominator: i64) -> Volume {
        let below = i128::from(denominator.max(1));
        let product = i128::from(self.fl) * i128::from(numerator);
        Volume { fl: i64::try_from((2 * product + below).div_euclid(2 * below)).unwrap_or(i64::MAX) }
    }

    /// Up to the next multiple of `step`.
    #[must_use]
    pub fn rounded_up(self, step: Volume) -> Volume {
        let step = step.fl.max(1);
        let short = self.fl.rem_euclid(step);
        if short == 0 { self } else { Volume { fl: self.fl.saturating_add(step - short) } }
    }

    /// To the nearest multiple of `step`, half up.
    #[must_use]
    pub fn rounded(self, step: Volume) -> Volume {
        let step = step.fl.max(1);
        Volume { fl: self.fl.saturating_add(step / 2).div_euclid(step).saturating_mul(step) }
    }
}

impl Add for Volume {
    type Output = Volume;
    fn add(self, other: Volume) -> Volume {
        Volume { fl: self.fl.saturating_add(other.fl) }
    }
}

impl Sub for Volume {
    type Output = Volume;
    fn sub(self, other: Volume) -> Volume {
        Volume { fl: self.fl.saturating_sub(other.fl) }
    }
}

/// In millilitres: `1250 ml`.
impl std::fmt::Display for Volume {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ml", self.in_ml(3))
    }
}
