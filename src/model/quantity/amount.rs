//! Masses in picograms, volumes in femtolitres, flows, speeds and shares. A hundredth of a grain and of each fluid
//! ounce are whole.

use std::ops::{Add, Sub};

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

    /// From a unit of `unit` picograms.
    pub fn of(number: Number, unit: i64) -> Option<Mass> {
        number.in_base(unit).map(|pg| Mass { pg })
    }

    /// `self · numerator / denominator`, to the nearest picogram; saturates.
    pub fn scaled(self, numerator: i64, denominator: i64) -> Mass {
        Mass { pg: scaled(self.pg, numerator, denominator) }
    }

    /// To the nearest multiple of `step`, half up.
    pub fn rounded(self, step: Mass) -> Mass {
        Mass { pg: rounded(self.pg, step.pg) }
    }

    /// In grams with at most `places` places, without the unit.
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

    /// From whole millilitres.
    pub const fn from_ml(ml: i64) -> Volume {
        Volume { fl: ml.saturating_mul(Volume::ML) }
    }

    /// From a unit of `unit` femtolitres.
    pub fn of(number: Number, unit: i64) -> Option<Volume> {
        number.in_base(unit).map(|fl| Volume { fl })
    }

    /// In millilitres with at most `places` places, without the unit.
    pub fn in_ml(self, places: u32) -> String {
        decimal(self.fl, Volume::ML, places)
    }

    /// In millilitres.
    #[expect(clippy::cast_precision_loss, reason = "printed volumes are multiples of 0.1 ml")]
    pub fn ml(self) -> f64 {
        self.fl as f64 / Volume::ML as f64
    }

    /// `self · numerator / denominator`, to the nearest femtolitre; saturates.
    pub fn scaled(self, numerator: i64, denominator: i64) -> Volume {
        Volume { fl: scaled(self.fl, numerator, denominator) }
    }

    /// Up to the next multiple of `step`.
    pub fn rounded_up(self, step: Volume) -> Volume {
        let step = step.fl.max(1);
        let short = self.fl.rem_euclid(step);
        if short == 0 { self } else { Volume { fl: self.fl.saturating_add(step - short) } }
    }

    /// To the nearest multiple of `step`, half up.
    pub fn rounded(self, step: Volume) -> Volume {
        Volume { fl: rounded(self.fl, step.fl) }
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

/// Running water: a volume each minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Flow {
    /// The volume in one minute.
    pub per_minute: Volume,
}

/// The speed of a drum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Speed {
    /// Turns in one minute.
    pub rpm: u32,
}

/// A share in hundredths of a percent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Share {
    /// Hundredths of a percent.
    pub basis_points: u32,
}

impl std::fmt::Display for Flow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} l/min", decimal(self.per_minute.fl, 1000 * Volume::ML, 3))
    }
}

impl std::fmt::Display for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} %", decimal(i64::from(self.basis_points), 100, 2))
    }
}

/// `base · numerator / denominator`, to the nearest; saturates.
fn scaled(base: i64, numerator: i64, denominator: i64) -> i64 {
    let below = i128::from(denominator.max(1));
    let product = i128::from(base) * i128::from(numerator);
    i64::try_from((2 * product + below).div_euclid(2 * below)).unwrap_or(i64::MAX)
}

/// To the nearest multiple of `step`, half up.
fn rounded(base: i64, step: i64) -> i64 {
    let step = step.max(1);
    base.saturating_add(step / 2).div_euclid(step).saturating_mul(step)
}
