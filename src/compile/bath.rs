//! The bath of a step in a schedule: what it is mixed from, and where it comes from and goes.

use crate::model::{Date, Dilution, Replenisher, Time, Use, Volume};

/// The bath of a step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlannedBath {
    /// The solution's name; `water` for plain water.
    pub solution: String,
    /// The solution's title; `water` for plain water.
    pub title: String,
    /// The only bottle of the solution that the bath is mixed from; `None` for all of its bottles.
    pub part: Option<String>,
    /// The dilution; `None` for water.
    pub dilution: Option<Dilution>,
    /// The name that distinguishes the bath from other baths of this solution and dilution.
    pub name: Option<String>,
    /// The name of the bath whose place this bath takes once the other bath is exhausted.
    pub becomes: Option<String>,
    /// The solution that is added to the bath. Its measured volume is the last of `parts`.
    pub added: Option<Added>,
    /// The index of the earlier step whose used bath this step uses again.
    pub used: Option<usize>,
    /// When the bath is mixed, counted from the start of the schedule; `None` if the bath is mixed before the start.
    pub mixed: Option<Time>,
    /// How long the bath lives once mixed, if known in hours or minutes.
    pub lives: Option<Time>,
    /// What happens to the bath afterwards; `None` for water, or if the recipe does not say.
    pub reuse: Option<Use>,
    /// The volume of one pour.
    pub volume: Volume,
    /// The parts to mix, in the order of the dilution; empty for water.
    pub parts: Vec<MeasuredPart>,
    /// The water in the bath.
    pub water: Volume,
    /// How often the volume is poured: in a wash, once for each change of water; otherwise once.
    pub pours: u32,
    /// The flow per minute of a running wash (R14).
    pub flow: Option<Volume>,
    /// The volume that replenishes the bottle after tonight (R13).
    pub replenish: Option<Volume>,
    /// The solution that replenishes the bottle; `None` if it is the bath's own solution.
    pub replenisher: Option<Replenisher>,
    /// The bottle to pour from, if known.
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
    /// Tonight's date.
    pub on: Date,
    /// How much film the bath has treated before; [`Format::ROLL`] is one roll.
    pub treated: i64,
    /// How much film the bath can treat after tonight, counted like `treated`; `None` if the capacity is not stated.
    pub left: Option<i64>,
}

/// A measured part of a bath.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasuredPart {
    /// The name of the solution, with the bottle's name if there are several bottles.
    pub what: String,
    /// The volume of the part.
    pub volume: Volume,
}
