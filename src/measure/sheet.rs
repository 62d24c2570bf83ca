//! What to make of a solution, and the sheet that results, line by line, with rounded numbers.

use std::sync::Arc;

use crate::chemistry::{Concern, Held, OwnIngredient};
use crate::compile::{Added, MeasuredPart, SafetyLine};
use crate::model::{Dilution, Mass, Share, Solution, Temperature, Volume};

/// A sheet to weigh or measure by.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The solution.
    pub solution: Arc<Solution>,
    /// The volume to make of each bottle, or of the diluted solution.
    pub make: Volume,
    /// The work: to weigh a formula or to dilute.
    pub work: Work,
    /// Warnings, such as one about an amount that is too small for the scale.
    pub warnings: Vec<String>,
    /// The lines of the safety block, which comes first.
    pub safety: Vec<SafetyLine>,
    /// The solution and the added solution, each with the hazards of its bottles and baths.
    pub concerns: Vec<Concern>,
    /// The cautions; those that the solution states come first.
    pub cautions: Vec<String>,
    /// First aid for accidents with the solution and its ingredients.
    pub first_aid: Vec<String>,
    /// The notes of the solution, then those of the added solution with its name.
    pub notes: Vec<String>,
}

/// The work: to weigh a formula or to dilute.
#[derive(Debug, Clone)]
pub enum Work {
    /// What to weigh for these bottles, on a scale of this resolution.
    Weigh(Vec<Bottle>, Mass),
    /// Dilute the solution.
    Dilute(Mixture),
}

impl Work {
    /// The solution that is added, if there is one.
    pub fn added(&self) -> Option<&Adding> {
        match self {
            Work::Weigh(..) => None,
            Work::Dilute(mixture) => mixture.added.as_ref(),
        }
    }
}

/// What to weigh for one bottle.
#[derive(Debug, Clone)]
pub struct Bottle {
    /// The name of the bottle; `None` if there is only one.
    pub part: Option<String>,
    /// The volume for which the formula is written.
    pub written_for: Volume,
    /// The lines, in the order of dissolving.
    pub lines: Vec<Line>,
}

/// One line of a sheet: something to add.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// Water to measure out.
    Water(Water),
    /// An ingredient to weigh or to measure out.
    Weighed(Weighed),
    /// Another solvent than water, up to the mark of this volume.
    Solvent(String, Volume),
    /// Water up to the mark of this volume, with the temperature if the formula states one.
    Mark(Volume, Option<Temperature>),
}

/// Water that is measured out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Water {
    /// The volume of the water.
    pub volume: Volume,
    /// The temperature of the water, if known.
    pub at: Option<Temperature>,
    /// How much comes from each tap, if the taps are known.
    pub taps: Option<FromTaps>,
}

/// Water from two taps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FromTaps {
    /// The temperatures of the taps.
    pub taps: Taps,
    /// The volume from the hot tap.
    pub hot: Volume,
    /// The volume from the cold tap.
    pub cold: Volume,
}

/// An ingredient, weighed or measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighed {
    /// The name of the ingredient.
    pub what: String,
    /// The ingredient in the table of ingredients, with its strength; `None` if the table lacks it.
    pub held: Option<Held>,
    /// The ingredient, if a file declares it.
    pub own: Option<Arc<OwnIngredient>>,
    /// The form of the ingredient that is weighed.
    pub form: Form,
    /// The amount, rounded to the resolution of the scale or the cylinder.
    pub amount: Amount,
    /// The rounding error in hundredths of a percent; negative if the amount is too small.
    pub off: i64,
    /// The amount and form in the formula, if the user has another form.
    pub instead_of: Option<(Amount, Form)>,
}

/// An amount of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// By weight.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
}

impl Amount {
    /// The amount in picograms or femtolitres.
    pub(super) fn base(self) -> i64 {
        match self {
            Amount::Mass(mass) => mass.pg,
            Amount::Volume(volume) => volume.fl,
        }
    }
}

/// The form of an ingredient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
    /// The ingredient has only one form.
    Plain,
    /// A state, such as `anhydrous`.
    State(String),
    /// A strength, such as 28 %.
    Strength(Share),
    /// A solution in grams per 100 ml, and the state that is dissolved, if the ingredient has several states.
    Dissolved(Share, Option<String>),
}

/// A diluted solution.
#[derive(Debug, Clone)]
pub struct Mixture {
    /// The dilution.
    pub dilution: Dilution,
    /// The temperature of the mixture, if the user sets one.
    pub warmth: Option<Warmth>,
    /// The water; `None` for undiluted stock.
    pub water: Option<Water>,
    /// The parts from the bottles, the added solution last.
    pub parts: Vec<MeasuredPart>,
    /// The solution that is added, if there is one.
    pub added: Option<Adding>,
}

/// The work that the user asks for.
#[derive(Debug, Clone)]
pub enum Asked {
    /// Weigh the formula.
    Weighing(Weighing),
    /// Dilute the solution.
    Diluting(Diluting),
}

/// How a formula is weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighing {
    /// The resolution of the scale, above 0.
    pub step: Mass,
    /// The ingredients that the user has in another form than the formula's.
    pub had: Vec<Had>,
    /// The taps for the water, if known.
    pub taps: Option<Taps>,
}

/// An ingredient that the user has in another form than the formula's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Had {
    /// The name of the ingredient, or an end of the name.
    pub name: String,
    /// The form that the user has.
    pub form: HadAs,
}

/// The form in which the user has an ingredient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HadAs {
    /// A state, such as `monohydrate`.
    State(String),
    /// A solution: the strength of an acid, or the grams of a salt in 100 ml.
    Percent(Share),
}

/// How a solution is diluted.
#[derive(Debug, Clone)]
pub struct Diluting {
    /// The dilution.
    pub dilution: Dilution,
    /// The temperature of the mixture, if the user sets one.
    pub warmth: Option<Warmth>,
    /// The solution to add, if there is one.
    pub added: Option<Adding>,
}

/// A solution that is added to a diluted one, as `with` adds it to the bath of a recipe.
#[derive(Debug, Clone)]
pub struct Adding {
    /// The solution, undiluted, from its only bottle.
    pub solution: Arc<Solution>,
    /// The volume of this solution in each litre of the mixture: above 0 and less than a litre.
    pub per_litre: Volume,
}

impl Adding {
    /// The addition in the type that a schedule uses.
    pub fn planned(&self) -> Added {
        let Solution { name, title, .. } = &*self.solution;
        Added { name: name.clone(), title: title.clone(), per_litre: self.per_litre }
    }
}

/// The temperature of a mixture and of its parts (R9).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Warmth {
    /// The temperature of the mixture.
    pub at: Temperature,
    /// The temperature of the stock; `None` if it equals the mixture's.
    pub stock: Option<Temperature>,
    /// The taps for the water, if known.
    pub taps: Option<Taps>,
}

/// The different temperatures of two taps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taps {
    /// The temperature of the cold tap.
    pub cold: Temperature,
    /// The temperature of the hot tap.
    pub hot: Temperature,
    /// Whether the two temperatures come from the user's settings.
    pub are_usual: bool,
}

impl Taps {
    /// The taps with these temperatures, in any order; `None` if they are equal.
    pub fn of(one: Temperature, other: Temperature) -> Option<Taps> {
        (one != other).then(|| Taps { cold: one.min(other), hot: one.max(other), are_usual: false })
    }
}
