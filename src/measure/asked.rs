//! What to make of a solution, and from what.

use crate::model::{Dilution, Mass, Share, Temperature};

/// What to make.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// To weigh its formula.
    Weighing(Weighing),
    /// To dilute it.
    Diluting(Diluting),
}

/// How a formula is weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighing {
    /// The resolution of the scale, above 0.
    pub step: Mass,
    /// Ingredients in another form than the formula's.
    pub had: Vec<Had>,
    /// The taps for the warm water, if known.
    pub taps: Option<Taps>,
}

/// An ingredient in another form than the formula's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Had {
    /// An ingredient's name, or the end of one.
    pub name: String,
    /// Its form.
    pub form: HadAs,
}

/// The form of an ingredient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HadAs {
    /// A state, such as `monohydrate`.
    State(String),
    /// A solution: an acid of that strength, or a salt in grams per 100 ml.
    Percent(Share),
}

/// How a solution is diluted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diluting {
    /// The dilution.
    pub dilution: Dilution,
    /// Its temperature, if asked.
    pub warmth: Option<Warmth>,
}

/// The temperature of a mixture and of its parts (R9).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Warmth {
    /// The mixture.
    pub at: Temperature,
    /// The stock; `None` if it is as warm as the mixture.
    pub stock: Option<Temperature>,
    /// The taps for the water, if known.
    pub taps: Option<Taps>,
}

/// Two taps; the cold one is below the hot one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taps {
    /// The cold one.
    pub cold: Temperature,
    /// The hot one.
    pub hot: Temperature,
}

impl Taps {
    /// Two taps in any order; `None` if they are equally warm.
    pub fn of(one: Temperature, other: Temperature) -> Option<Taps> {
        (one != other).then(|| Taps { cold: one.min(other), hot: one.max(other) })
    }
}
