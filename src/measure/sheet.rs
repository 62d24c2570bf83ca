//! What to make of a solution, and the sheet of it, line by line, with final numbers.

use std::sync::Arc;

use crate::chemistry::Held;
use crate::compile::MeasuredPart;
use crate::model::{Dilution, Mass, Share, Solution, Temperature, Volume};

/// A sheet to weigh or measure by.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The solution.
    pub solution: Arc<Solution>,
    /// The volume, of each bottle if it is weighed in several.
    pub make: Volume,
    /// What to do.
    pub work: Work,
    /// Warnings.
    pub warnings: Vec<String>,
    /// Cautions, the solution's own first.
    pub cautions: Vec<String>,
}

/// What to do.
#[derive(Debug, Clone)]
pub enum Work {
    /// To weigh its bottles, on a scale of this resolution.
    Weigh(Vec<Bottle>, Mass),
    /// To dilute it.
    Dilute(Mixture),
}

/// One bottle, weighed.
#[derive(Debug, Clone)]
pub struct Bottle {
    /// The part of the solution; `None` if it has only one.
    pub part: Option<String>,
    /// The volume of its formula.
    pub written_for: Volume,
    /// The lines, in the order of dissolving.
    pub lines: Vec<Line>,
}

/// One thing to add.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// Water.
    Water(Water),
    /// An ingredient.
    Weighed(Weighed),
    /// Water up to the mark, at that temperature if the formula has one.
    Mark(Volume, Option<Temperature>),
}

/// Water that is measured out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Water {
    /// Its volume.
    pub volume: Volume,
    /// Its temperature, if known.
    pub at: Option<Temperature>,
    /// How much comes from each tap, if asked.
    pub taps: Option<FromTaps>,
}

/// Water from two taps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FromTaps {
    /// Their temperatures.
    pub taps: Taps,
    /// From the hot one.
    pub hot: Volume,
    /// From the cold one.
    pub cold: Volume,
}

/// An ingredient, weighed or measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighed {
    /// Its name.
    pub what: String,
    /// Its row of the table, at this strength.
    pub held: Option<Held>,
    /// Its form.
    pub form: Form,
    /// Its amount, rounded to the scale or the cylinder.
    pub amount: Amount,
    /// The rounding error in hundredths of a percent; negative if it is too little.
    pub off: i64,
    /// The formula's amount and form, if the form differs.
    pub instead_of: Option<(Amount, Form)>,
}

/// An amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// By weight.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
}

/// The form of an ingredient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
    /// Its only form.
    Plain,
    /// A state.
    State(String),
    /// A strength.
    Strength(Share),
    /// Dissolved, in grams per 100 ml, and its state, if there are several.
    Dissolved(Share, Option<String>),
}

/// A diluted solution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mixture {
    /// The dilution.
    pub dilution: Dilution,
    /// Its temperature, if asked.
    pub warmth: Option<Warmth>,
    /// The water; `None` at stock.
    pub water: Option<Water>,
    /// The parts from the bottles.
    pub parts: Vec<MeasuredPart>,
}

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
