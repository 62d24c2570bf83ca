//! The bath of a step in a schedule: what it is mixed from, and where it comes from and goes.

use crate::model::{Date, Dilution, Replenisher, Time, Use, Volume};

/// The bath that a step uses tonight.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlannedBath {
    /// The solution's name; `water` for plain water.
    pub solution: String,
    /// The solution's title; `water` for plain water.
    pub title: String,
    /// The bottle that the bath is mixed from, such as `a`, if the solution has several and only one is used.
    pub part: Option<String>,
    /// The dilution of the solution; `None` for water.
    pub dilution: Option<Dilution>,
    /// The name of the bath, if the recipe has several baths of this solution and dilution.
    pub name: Option<String>,
    /// The name of the bath whose place this bath takes when that bath is exhausted, as in fixing with two baths.
    pub becomes: Option<String>,
    /// Another solution that is added to the bath, if any. Its volume is the last of `parts`.
    pub added: Option<Added>,
    /// If the step reuses the bath of an earlier step, the index of that step.
    pub used: Option<usize>,
    /// When the bath is mixed, counted from the start of the schedule; `None` if the bath is mixed before the start.
    pub mixed: Option<Time>,
    /// How long the bath keeps after mixing, if this is stated in hours or minutes.
    pub lives: Option<Time>,
    /// What happens to the bath after use; `None` for water, or if the recipe does not say.
    pub reuse: Option<Use>,
    /// The volume of the bath for one filling of the tank.
    pub volume: Volume,
    /// The parts to measure out, in the order of the dilution; empty for water.
    pub parts: Vec<MeasuredPart>,
    /// The volume of water to measure out; 0 if the bath of an earlier step is used.
    pub water: Volume,
    /// How often the tank is filled: in a wash, once for each change of water; otherwise once.
    pub pours: u32,
    /// The volume of water per minute in a running wash (rule R14).
    pub flow: Option<Volume>,
    /// The volume to add to the bottle after tonight, if the bath is replenished (rule R13).
    pub replenish: Option<Volume>,
    /// The solution to add to the bottle; `None` if it is the solution of the bath.
    pub replenisher: Option<Replenisher>,
    /// The declared bottle to pour from, if any.
    pub bottle: Option<PlannedBottle>,
}

/// A solution that is added to a bath.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Added {
    /// The name of the solution.
    pub name: String,
    /// The title of the solution.
    pub title: String,
    /// The volume of this solution in each litre of the bath.
    pub per_litre: Volume,
}

/// The bottle that a step pours from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedBottle {
    /// The name of the bottle.
    pub name: String,
    /// Tonight's date, for which `treated` is counted.
    pub on: Date,
    /// The area of film that the bath treated before tonight. `Format::ROLL` is one roll of 80 square inches.
    pub treated: i64,
    /// The area of film that the bath can still treat after tonight; `None` if the capacity is not stated.
    pub left: Option<i64>,
}

/// A volume to measure out for a bath.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasuredPart {
    /// The name of the solution, and of the bottle if there are several: `bleach b`.
    pub what: String,
    /// The volume to measure out.
    pub volume: Volume,
}
