//! What a person asks of a solution, and has on the shelf to make it from.

use crate::model::{Dilution, Mass, Share, Temperature};

/// What is wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// Its formula, weighed.
    Weighing(Weighing),
    /// The solution, let down.
    Diluting(Diluting),
}

/// How a formula is weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighing {
    /// The least that the scale tells apart; above nothing.
    pub step: Mass,
    /// What is had otherwise than the formula says.
    pub had: Vec<Had>,
    /// What the warm water is drawn from, where that is known.
    pub taps: Option<Taps>,
}

/// Something that is had otherwise than the formula says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Had {
    /// An ingredient's name, or the end of one.
    pub name: String,
    /// As what it is had.
    pub form: HadAs,
}

/// As what something is had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HadAs {
    /// In that state, such as `monohydrate`.
    State(String),
    /// As a solution: an acid of that strength, or a salt dissolved, in grams to 100 ml.
    Percent(Share),
}

/// How a solution is let down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diluting {
    /// How far.
    pub dilution: Dilution,
    /// How warm it has to be, where that is asked.
    pub warmth: Option<Warmth>,
}

/// How warm a mixture has to be, and what it is mixed from (R9).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Warmth {
    /// The mixture.
    pub at: Temperature,
    /// The stock; as the mixture where nobody says.
    pub stock: Option<Temperature>,
    /// What the water is drawn from, where that is known.
    pub taps: Option<Taps>,
}

/// Water of two temperatures, the cold one below the hot one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taps {
    /// The cold one.
    pub cold: Temperature,
    /// The hot one.
    pub hot: Temperature,
}

impl Taps {
    /// Two taps, in whatever order; `None` where both are alike.
    #[must_use]
    pub fn of(one: Temperature, other: Temperature) -> Option<Taps> {
        (one != other).then(|| Taps { cold: one.min(other), hot: one.max(other) })
    }
}
