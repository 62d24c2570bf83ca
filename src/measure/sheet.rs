//! What to weigh and to measure, line by line. A reader of it computes nothing.

use std::sync::Arc;

use super::asked::{Taps, Warmth};
use crate::chemistry::Held;
use crate::compile::MeasuredPart;
use crate::model::{Dilution, Mass, Share, Solution, Temperature, Volume};
use crate::source::Diagnostic;

/// A sheet to stand beside the scale.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// What is made.
    pub solution: Arc<Solution>,
    /// How much of it; of each bottle, where it comes in several and is weighed.
    pub make: Volume,
    /// What to do.
    pub work: Work,
    /// What may be wrong with it.
    pub doubts: Vec<String>,
    /// Cautions: the solution's own first.
    pub cautions: Vec<String>,
}

/// What to do.
#[derive(Debug, Clone)]
pub enum Work {
    /// To weigh its formula, a bottle after the other, on a scale that tells no less apart.
    Weigh(Vec<Bottle>, Mass),
    /// To let it down.
    Dilute(Mixture),
}

/// One bottle, weighed.
#[derive(Debug, Clone)]
pub struct Bottle {
    /// Which of the solution's parts; `None` where there is but one.
    pub part: Option<String>,
    /// What its formula is written for.
    pub written_for: Volume,
    /// What goes in, in the order of dissolving.
    pub lines: Vec<Line>,
}

/// One thing to put in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// Water.
    Water(Water),
    /// Something weighed or measured out.
    Weighed(Weighed),
    /// Water up to the mark, at that temperature where the formula says one.
    Mark(Volume, Option<Temperature>),
}

/// Water that is measured out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Water {
    /// How much.
    pub volume: Volume,
    /// How warm, where that is said or follows.
    pub at: Option<Temperature>,
    /// How much of it comes from each tap, where that was asked.
    pub taps: Option<FromTaps>,
}

/// Water from two taps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FromTaps {
    /// How warm they are.
    pub taps: Taps,
    /// So much from the hot one.
    pub hot: Volume,
    /// So much from the cold one.
    pub cold: Volume,
}

/// Something weighed or measured out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighed {
    /// Its name.
    pub what: String,
    /// What the table knows of it, at the strength in hand.
    pub held: Option<Held>,
    /// As what it lies on the scale or stands in the cylinder.
    pub form: Form,
    /// How much, as one can weigh or measure it.
    pub amount: Amount,
    /// How much more that is than is wanted, in hundredths of a percent; less where negative.
    pub off: i64,
    /// What the formula says in its place, for as much as is made.
    pub instead_of: Option<(Amount, Form)>,
}

/// How much.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// By weight.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
}

/// As what an ingredient is had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
    /// As there is but one of it.
    Plain,
    /// In that state.
    State(String),
    /// Of that strength.
    Strength(Share),
    /// Dissolved, so many grams in 100 ml; the state that the grams are of, where there are several.
    Dissolved(Share, Option<String>),
}

/// A solution let down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mixture {
    /// How far.
    pub dilution: Dilution,
    /// How warm it is to be, where that was asked.
    pub warmth: Option<Warmth>,
    /// The water; none at stock.
    pub water: Option<Water>,
    /// What comes from the bottles.
    pub parts: Vec<MeasuredPart>,
}

/// What is told while a formula is weighed: faults, and doubts for the sheet.
pub(super) type Told<'a> = (&'a mut Vec<Diagnostic>, &'a mut Vec<String>);
