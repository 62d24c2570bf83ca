//! A sheet: what to weigh and measure, line by line, with final numbers.

use std::sync::Arc;

use super::asked::{Taps, Warmth};
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
